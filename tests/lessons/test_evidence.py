"""What the rules get to see of one block, gathered from the record."""

import pytest

from academy.models import Club
from lessons.evidence import evidence_for
from lessons.library import current_library, load_shipped
from lessons.models import Lesson, SetupObservation
from metrics.rules.engine import evaluate
from tests import factories


def finished(student, *, days_ago: int) -> Lesson:
    return factories.make_lesson(student=student, days_ago=days_ago, status=Lesson.Status.FINISHED)


def observe(lesson, checkpoint: str, before: float, after: float) -> None:
    for phase, value in (("before", before), ("after", after)):
        SetupObservation.objects.create(
            lesson=lesson, category="driver", checkpoint=checkpoint, phase=phase, value=value
        )


@pytest.fixture
def block(student):
    return factories.make_block(lesson=factories.make_lesson(student=student))


def test_usual_values_come_from_blocks_without_aids_only(student, block):
    for days_ago, aids, carry in ((30, [], 200.0), (20, [], 204.0), (10, ["sticks"], 260.0)):
        old = factories.make_block(lesson=finished(student, days_ago=days_ago), aids=aids)
        factories.add_balls(block=old, carry_m=[carry] * 6)
    assert evidence_for(block=block).own_medians["carry_m"] == 202.0


def test_one_earlier_block_is_no_habit(student, block):
    factories.add_balls(block=factories.make_block(lesson=finished(student, days_ago=10)), carry_m=[200.0] * 6)
    assert "carry_m" not in evidence_for(block=block).own_medians


def test_the_players_own_answer_to_a_moved_ball_is_change_of_path_per_centimetre(student, block):
    lesson = finished(student, days_ago=20)
    first, last = factories.make_block(lesson=lesson), factories.make_block(lesson=lesson)
    factories.add_balls(block=first, club_path_deg=[6.0] * 6)
    factories.add_balls(block=last, club_path_deg=[4.0] * 6)
    observe(lesson, "ball_position_cm", 7.0, 3.0)
    answer = next(r for r in evidence_for(block=block).responses if r.quantity == "club_path_deg")
    assert (answer.checkpoint, answer.per_unit) == ("ball_position_cm", (0.5,))


def test_with_two_things_moved_nobody_can_say_which_did_it(student, block):
    lesson = finished(student, days_ago=20)
    for path in (6.0, 4.0):
        factories.add_balls(block=factories.make_block(lesson=lesson), club_path_deg=[path] * 6)
    observe(lesson, "ball_position_cm", 7.0, 3.0)
    observe(lesson, "feet_deg", 6.0, 2.0)
    assert evidence_for(block=block).responses == ()


def test_a_called_contact_counts_beside_numbers(block):
    factories.add_balls(block=block, carry_m=[200.0, 190.0])
    assert evidence_for(block=block).calls == ()
    block.shots.filter(number=1).update(contact="fat")
    assert [call.contact for call in evidence_for(block=block).calls] == ["fat", None]


def test_a_ball_moved_forward_before_a_cut_raises_the_shoulders(student, block):
    """The teacher's case: ball one width forward, next block the path goes from −1 to −4."""
    load_shipped()
    factories.add_balls(block=block, club_path_deg=[-1.2, -0.8, -1.0, -1.1, -0.9, -1.4, -0.6, -1.0])
    observe(block.lesson, "ball_position_cm", 5.0, 0.7)
    after = factories.make_block(lesson=block.lesson)
    factories.add_balls(block=after, club_path_deg=[-4.2, -3.8, -4.0, -4.1, -3.9, -4.4, -3.6, -4.0])
    found = evaluate(
        evidence_for(block=after, others=[block, after]), library=current_library()
    )
    assert found.findings[0].pattern == "shoulders_vs_feet"


def test_a_ball_moved_after_a_block_was_opened_says_nothing_about_that_block(block):
    factories.add_balls(block=block, club_path_deg=[-1.0] * 6)
    after = factories.make_block(lesson=block.lesson)
    factories.add_balls(block=after, club_path_deg=[-4.0] * 6)
    observe(block.lesson, "ball_position_cm", 5.0, 0.7)
    assert evidence_for(block=after, others=[block, after]).change is None


def visit_with_sticks(student, *, days_ago: int) -> None:
    lesson = finished(student, days_ago=days_ago)
    for aids, path in (([], 5.6), (["sticks"], 3.0), ([], 5.4)):
        factories.add_balls(block=factories.make_block(lesson=lesson, aids=aids), club_path_deg=[path] * 6)


def test_a_first_ten_is_read_beside_the_last_visit_with_and_without_aids(student):
    visit_with_sticks(student, days_ago=7)
    back = factories.make_block(lesson=factories.make_lesson(student=student), purpose="first_ten")
    factories.add_balls(block=back, club_path_deg=[5.0] * 6)
    pair = evidence_for(block=back, others=[back]).pair
    means = [float(shots["club_path_deg"].mean()) for shots in (
        pair.baseline, pair.with_aid, pair.no_aid, pair.next_first_ten)]
    assert means == pytest.approx([5.6, 3.0, 5.4, 5.0])


def test_other_blocks_of_a_return_are_not_read_beside_the_last_visit(student):
    visit_with_sticks(student, days_ago=7)
    block = factories.make_block(lesson=factories.make_lesson(student=student))
    factories.add_balls(block=block, club_path_deg=[5.0] * 6)
    assert evidence_for(block=block, others=[block]).pair is None


def test_a_visit_without_aids_in_between_ends_that_comparison(student):
    visit_with_sticks(student, days_ago=14)
    factories.add_balls(block=factories.make_block(lesson=finished(student, days_ago=7)), club_path_deg=[4.0] * 6)
    back = factories.make_block(lesson=factories.make_lesson(student=student), purpose="first_ten")
    factories.add_balls(block=back, club_path_deg=[5.0] * 6)
    assert evidence_for(block=back, others=[back]).pair is None


def iron(student, name: str, loft: float | None) -> Club:
    return Club.objects.create(student=student, name=name, category="mid_iron", loft_deg=loft)


def test_starts_of_several_lofts_are_gathered_over_visits_for_the_question_of_fit(student):
    lesson = factories.make_lesson(student=student)
    blocks = []
    for name, loft, start in (("6i", 27.0, 1.0), ("7i", 31.0, 1.3), ("8i", 35.0, 1.6)):
        block = factories.make_block(lesson=lesson, club=iron(student, name, loft), category="mid_iron")
        factories.add_balls(block=block, launch_direction_deg=[start - 0.5, start + 0.5] * 4)
        blocks.append(block)
    old = factories.make_block(lesson=finished(student, days_ago=20), club=blocks[0].club, category="mid_iron")
    factories.add_balls(block=old, launch_direction_deg=[1.5, 2.5] * 4)
    starts = {start.loft_deg: start for start in evidence_for(block=blocks[1], others=blocks).club_starts}
    assert {loft: start.n for loft, start in starts.items()} == {27.0: 16, 31.0: 8, 35.0: 8}
    assert starts[27.0].mean_deg == pytest.approx(1.5)
    assert starts[27.0].sd_deg == pytest.approx(0.5 * (8 / 7) ** 0.5)


def test_a_club_without_a_loft_asks_nothing_about_fit(student):
    block = factories.make_block(lesson=factories.make_lesson(student=student), club=iron(student, "7i", None),
                                 category="mid_iron")
    factories.add_balls(block=block, launch_direction_deg=[1.0, 2.0] * 4)
    assert evidence_for(block=block).club_starts == ()
