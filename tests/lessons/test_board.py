"""The setup board: drawn from what is stored or typed, in the reader's units, stored through the stop “look”."""

import re

import pytest
from django.urls import reverse

from lessons.forms.setup import read_number
from lessons.models import SetupObservation
from lessons.queries.setup_terms import UNITS, other_terms, term
from tests import factories

from .hour import draw_lesson, note_setup


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def address(lesson) -> str:
    return reverse("lessons:board", args=[lesson.code])


def page(client, lesson, **asked) -> str:
    return client.get(address(lesson), asked).content.decode()


def box(text: str, key: str) -> str:
    return re.search(rf'id="box-{key}" name="[\w-]+" value="([^"]*)"', text).group(1)


def stored() -> dict:
    return {(row.checkpoint, row.phase): row.value for row in SetupObservation.objects.filter(removed_at__isnull=True)}


def test_what_is_stored_stands_in_its_box_and_in_the_picture(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="9", feet_deg="7")
    text = page(as_coach, lesson, units="cm")
    assert box(text, "ball_position_cm") == "9 cm" and box(text, "feet_deg") == "7"
    assert 'data-part="ball_position_cm" data-value="9"' in text and "outside the window" in text


@pytest.mark.parametrize(("units", "ball", "width"), [
    ("cm", "9 cm", "40 cm"), ("in", "3.54 in", "15.7 in"), ("own", "2.11 w", "1.03x"),
])
def test_units_can_be_switched_and_everything_is_also_said_in_the_player_s_own_terms(
    as_coach, lesson, units, ball, width
):
    note_setup(as_coach, lesson, ball_position_cm="9", stance_width_ratio="40 cm")
    text = page(as_coach, lesson, units=units)
    assert (box(text, "ball_position_cm"), box(text, "stance_width_ratio")) == (ball, width)
    assert "3.5 in, 2.1 ball widths" in text and "40 cm, 15.7 in" in text and "1.03 × shoulder width" in text


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize(("checkpoint", "value", "near"), [
    ("ball_position_cm", -1.5, 0.03), ("stance_width_ratio", 1.12, 0.006), ("handle_ahead_cm", 3, 0.02),
    ("feet_deg", -4, 0), ("tee_height_mm", 38, 0),
])
def test_what_the_board_writes_the_form_reads_back(units, checkpoint, value, near):
    text = term(checkpoint=checkpoint, units=units, shoulder_width_cm=39).text(value)
    back = read_number(checkpoint=checkpoint, text=text, system="yards", shoulder_width_cm=39)
    assert back == pytest.approx(value, abs=near + 1e-4)


def test_angles_have_no_other_terms():
    assert other_terms(checkpoint="feet_deg", value=3, shoulder_width_cm=39) == ""


def test_storing_goes_through_the_stop_look_with_its_method_and_comes_back_to_the_board(as_coach, lesson):
    answer = as_coach.post(address(lesson), {
        "category": "driver", "phase": "after", "units": "in", "method": "tape", "after-ball_position_cm": "1 in",
        "was-after-ball_position_cm": "", "after-feet_deg": "2", "was-after-feet_deg": "2",
    })
    assert answer.status_code == 302 and "phase=after&units=in" in answer["Location"]
    assert stored() == {("ball_position_cm", "after"): 2.54}
    assert SetupObservation.objects.get().method == "tape"


def test_a_part_that_moves_is_drawn_and_judged_but_not_stored(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="9")
    answer = as_coach.get(address(lesson), {"before-ball_position_cm": "2 cm"}, headers={"HX-Request": "true"})
    text = answer.content.decode()
    assert 'data-part="ball_position_cm" data-value="2"' in text and "not stored yet" in text and "<input" not in text
    assert stored() == {("ball_position_cm", "before"): 9}


def test_a_number_that_cannot_be_is_named_and_nothing_is_stored(as_coach, lesson):
    answer = as_coach.post(address(lesson), {"before-feet_deg": "80", "before-hips_deg": "2"})
    assert answer.status_code == 422 and "expected -45 to 45°" in answer.content.decode() and not stored()


def test_before_lies_under_after_and_the_target_over_both_in_one_scale(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="9")
    as_coach.post(address(lesson), {"phase": "after", "after-ball_position_cm": "3"})
    plain, whole = page(as_coach, lesson), page(as_coach, lesson, phase="after", goal="yes")
    for kind in ("now", "before", "goal"):
        assert f'id="board-plan-{kind}-ball"' in whole
    assert 'id="board-plan-goal-ball"' not in plain
    scales = {re.search(r'data-scale="([\d.]+)"', text).group(1) for text in (plain, whole)}
    assert len(scales) == 1


def test_the_frame_stays_while_parts_move_in_it(as_coach, lesson):
    frames = set()
    for width in ("0.5", "1.0", "1.4"):
        text = page(as_coach, lesson, **{"before-stance_width_ratio": width + "x"})
        frames.add(re.search(r'data-origin-x="([\d.]+)" data-origin-y="([\d.]+)"', text).groups())
    assert len(frames) == 1


def test_a_left_hander_s_board_is_mirrored_and_the_numbers_are_not(as_coach, student):
    student.hand = "left"
    student.save()
    lesson = draw_lesson(student=student)
    note_setup(as_coach, lesson, feet_deg="7", ball_position_cm="9")
    text = page(as_coach, lesson, units="cm")
    assert 'data-hand="left"' in text and box(text, "ball_position_cm") == "9 cm"
    x = {hand: float(re.search(r'data-part="ball_position_cm" data-value="9" cx="([\d.]+)"', text).group(1))
         for hand in ("left",)}
    assert x["left"] < float(re.search(r'data-origin-x="([\d.]+)"', text).group(1))


def test_another_club_has_its_own_board(as_coach, lesson):
    factories.make_block(lesson=lesson, category="mid_iron", club_name="7 iron")
    as_coach.post(address(lesson), {"category": "mid_iron", "before-ball_position_cm": "11"})
    assert SetupObservation.objects.get().category == "mid_iron"
    assert box(page(as_coach, lesson, category="driver"), "ball_position_cm") == ""
    assert box(page(as_coach, lesson, category="mid_iron", units="cm"), "ball_position_cm") == "11 cm"


def test_without_a_block_the_board_asks_for_one(as_coach, student):
    assert "open a block first" in page(as_coach, factories.make_lesson(student=student))


def test_odd_questions_get_the_plain_board(as_coach, lesson):
    answer = as_coach.get(address(lesson), {"category": "spoon", "phase": "later", "units": "ells", "goal": "?"})
    assert answer.status_code == 200


def test_another_coach_sees_nothing(client, other_coach, lesson):
    client.force_login(other_coach)
    assert client.get(address(lesson)).status_code == 404
    assert client.post(address(lesson), {"before-feet_deg": "7"}).status_code == 404 and not stored()
