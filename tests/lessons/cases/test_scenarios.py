"""Whole situations of a teacher's week and the first-class answer to each, on the pages and for both hands.

Invented people. Duplicates, juniors, what held and the owner's Monday have their own tests beside their pages.
"""

from io import StringIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import CommandError, call_command
from django.urls import reverse
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import ImportBatch, Lesson
from tests import factories
from tests.lessons.hour import data_of, note_setup, stop, strike
from tests.metrics.rules.cases import column

from .by_file import Case, shown


@pytest.fixture(params=["right", "left"])
def hand(request, student) -> str:
    student.hand = request.param
    student.save()
    return request.param


@pytest.fixture
def lesson(student, hand) -> Lesson:
    return factories.make_lesson(student=student)


def found_on(client, lesson) -> list[tuple[str, str]]:
    return [(f.pattern, f.state) for f in data_of(client, lesson, "reason")["assessment"].findings]


def test_a_players_imported_file_is_turned_once_and_read_in_that_hands_words(as_coach, lesson, hand):
    sign = -1 if hand == "left" else 1
    rows = [f"Driver,{sign * path:.2f},{sign * (path - 2.5):.2f}" for path in column(7, 1, 12)]
    data = "\n".join(["Club,Club path (deg),Face angle (deg)", *rows]).encode()
    as_coach.post(reverse("lessons:import_new", args=[lesson.code]), {"file": SimpleUploadedFile("a.csv", data)})
    as_coach.post(reverse("lessons:import_store", args=[ImportBatch.objects.get().code]))
    assert found_on(as_coach, lesson)[0] == ("over_draw", "supported")
    text = stop(as_coach, lesson, "reason")
    assert "7.0° in-to-out" in text and f"arc {hand}" in text


def test_numbers_without_units_are_asked_about_and_never_guessed_silently(tmp_path, hand):
    balls, chart = tmp_path / "odd.csv", tmp_path / "map.json"
    balls.write_text("Speed club,Carry\n" + "\n".join("41.0,194" for _ in range(10)))
    ask = ("analyse", str(balls), "--club", "driver", "--hand", hand, "--intent", "straight")
    with pytest.raises(CommandError, match="fits yd, but m would fit too; say which of yd, m it is in"):
        call_command(*ask)
    chart.write_text('{"carry_m": {"heading": "Carry", "unit": "m"}, "club_speed_mps": "Speed club"}')
    out, notes = StringIO(), StringIO()
    call_command(*ask, "--columns", str(chart), "--json", stdout=out, stderr=notes)
    assert '"mean": 194.0' in out.getvalue() and '"mean": 41.0' in out.getvalue()
    assert "no unit stated" in notes.getvalue() and "m/s" in notes.getvalue()


def test_eyes_only_gives_a_hint_with_what_was_called_beside_it_and_no_invented_degree(as_coach, lesson, hand):
    block = factories.make_block(lesson=lesson, reading="calls")
    for start, curve in [(1, -1)] * 7 + [(0, 0)] * 3:
        factories.add_call(block=block, called_start=start, called_curve=curve, contact="clean")
    note_setup(as_coach, lesson, feet_deg="8")
    assert found_on(as_coach, lesson) == [("over_draw", "hint")]
    text = stop(as_coach, lesson, "reason")
    other = {"right": "left", "left": "right"}[hand]
    assert "What was called" in text
    assert f"7 {hand} and 3 on line, of 10 called" in text and f"7 {other} and 3 none, of 10 called" in text
    assert "called by eye" in text and "path averaged" not in text
    assert "8° closed" in text


def test_a_beginner_who_tops_hears_of_contact_alone_and_gets_its_drills(as_coach, lesson, student):
    student.handicap_index = 40
    student.save()
    block = factories.make_block(lesson=lesson, club_name="7 iron", category="mid_iron")
    factories.add_balls(block=block, club_path_deg=list(column(-6, 2, 10)), face_to_path_deg=list(column(4, 1, 10)))
    block.shots.filter(number__lte=6).update(contact="top")
    block.shots.filter(number__gt=6).update(contact="clean")
    assert [pattern for pattern, _ in found_on(as_coach, lesson)] == ["thin_top_iron"]
    assert data_of(as_coach, lesson, "reason")["assessment"].watching == ()
    drills = data_of(as_coach, lesson, "agree")["offers"]
    assert {"clip-the-tee", "tall-tee-to-turf"} & {drill.slug for drill in drills}


def test_a_windy_day_withholds_carry_and_keeps_the_path(as_coach, lesson):
    lesson.is_windy = True
    lesson.save()
    block = factories.make_block(lesson=lesson, club_name="7 iron", category="mid_iron")
    factories.add_balls(block=block, club_path_deg=list(column(-6, 1, 15)), face_to_path_deg=list(column(4, 1, 15)),
                        carry_m=list(column(120, 30, 15)))
    assert found_on(as_coach, lesson) == [("slice", "supported")]
    assert "carry, curve and finish are not judged" in stop(as_coach, lesson, "reason")


def test_attack_survives_a_headwind(as_coach, lesson):
    lesson.is_windy = True
    lesson.save()
    factories.add_balls(block=factories.make_block(lesson=lesson), attack_angle_deg=list(column(-3.5, 1, 10)),
                        carry_m=list(column(150, 20, 10)))
    assert found_on(as_coach, lesson) == [("driver_steep", "supported")]


def test_a_wanted_draw_inside_its_window_is_left_alone(as_coach, lesson):
    block = factories.make_block(lesson=lesson, intent="draw")
    factories.add_balls(block=block, club_path_deg=list(column(2.8, 1.2, 10)),
                        face_to_path_deg=list(column(-1.1, 0.8, 10)))
    assert found_on(as_coach, lesson) == []
    assert "In your window for a draw" in stop(as_coach, lesson, "reason")


@pytest.mark.parametrize(("path", "seen"), [(6.0, "In-to-out path seen"), (-6.0, "Out-to-in path seen")])
def test_without_face_or_start_the_page_says_what_cannot_be_told_apart(as_coach, lesson, path, seen):
    factories.add_balls(block=factories.make_block(lesson=lesson), club_path_deg=list(column(path, 1.5, 10)))
    assert found_on(as_coach, lesson) == []
    text = stop(as_coach, lesson, "reason")
    assert seen in text and "until face or start direction is logged" in text


def test_pain_stops_the_long_game_and_leaves_what_needs_no_full_swing(as_coach, lesson, student):
    strike(lesson=lesson, path=5.7)
    HealthFlag.objects.create(student=student, area="low_back", severity=5, reported_at=timezone.now())
    assert found_on(as_coach, lesson) == []
    assert "Putting" in stop(as_coach, lesson, "reason")
    assert all(drill.gentle for drill in data_of(as_coach, lesson, "agree")["offers"])


def test_good_with_sticks_and_gone_next_week_is_named_with_its_size_and_a_way_to_wean(as_coach, lesson, student):
    earlier = factories.make_lesson(student=student, days_ago=7, status=Lesson.Status.FINISHED)
    strike(lesson=earlier, path=5.6, sd=2.0, purpose="first_ten")
    strike(lesson=earlier, path=3.0, sd=2.0, aids=["sticks"], purpose="with_aid")
    strike(lesson=earlier, path=5.4, sd=2.0)
    strike(lesson=lesson, path=5.0, sd=2.0, purpose="first_ten")
    assert ("aid_dependent", "supported") in found_on(as_coach, lesson)
    text = stop(as_coach, lesson, "reason")
    assert "1.4°" in text and "without the aids" in text
    assert "faded-sticks" in [drill.slug for drill in data_of(as_coach, lesson, "agree")["offers"]]


def test_a_gain_that_came_back_without_aids_is_not_called_dependent(as_coach, lesson, student):
    earlier = factories.make_lesson(student=student, days_ago=7, status=Lesson.Status.FINISHED)
    strike(lesson=earlier, path=5.6, sd=2.0, purpose="first_ten")
    strike(lesson=earlier, path=3.0, sd=1.7, aids=["sticks"], purpose="with_aid")
    strike(lesson=earlier, path=3.3, sd=2.0)
    strike(lesson=lesson, path=3.0, sd=1.9, purpose="first_ten")
    considered = {c.pattern: c.state for c in data_of(as_coach, lesson, "reason")["assessment"].considered}
    assert considered["aid_dependent"] == "silent" and found_on(as_coach, lesson) == []


def test_another_club_in_the_same_lesson_is_read_alone(as_coach, lesson):
    strike(lesson=lesson, path=6.5, n=14, intent="straight", club_name="Old driver")
    new = strike(lesson=lesson, path=2.0, sd=1.0, n=15, intent="straight", club_name="New driver")
    read = data_of(as_coach, lesson, "reason")
    assert read["block"] == new and read["assessment"].balls == 15


def test_the_same_columns_as_a_file_on_the_command_line_give_the_same_finding(as_coach, lesson, hand, tmp_path):
    shots = {"club_path_deg": column(-6, 1, 12), "face_to_path_deg": column(4, 1, 12)}
    factories.add_balls(block=factories.make_block(lesson=lesson), **{k: list(v) for k, v in shots.items()})
    by_file = Case(tmp_path, hand).read(shots)
    assert shown(by_file) == [pattern for pattern, _ in found_on(as_coach, lesson)] == ["slice"]
