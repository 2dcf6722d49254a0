"""The stop “look”: setup numbers as they are typed, kept in one unit, against the windows of this player."""

import pytest
from django.urls import reverse

from academy.models import Change
from lessons.forms.setup import read_number
from lessons.models import SetupObservation
from lessons.services.history import undo_last
from tests import factories

from .hour import data_of, draw_lesson, note_setup, stop

HTMX = {"HX-Request": "true"}


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def stored() -> dict:
    return {
        (row.checkpoint, row.phase): row.value for row in SetupObservation.objects.filter(removed_at__isnull=True)
    }


def test_five_numbers_are_kept_and_the_stop_says_how_many_lie_outside(as_coach, lesson):
    answer = note_setup(as_coach, lesson, stance_width_ratio="0.80", ball_position_cm="7", feet_deg="7", hips_deg="2",
                        shoulders_deg="1")
    assert answer.status_code == 302 and answer["Location"].endswith("?stop=look#stop-look")
    assert stored()["feet_deg", "before"] == 7 and len(stored()) == 5
    assert "5 setup numbers, 3 outside the window" in stop(as_coach, lesson, "look")


@pytest.mark.parametrize(("text", "system", "ratio"), [
    ("39", "metres", 1.0), ("41 cm", "yards", 41 / 39), ("16", "yards", 16 * 2.54 / 39),
    ("16in", "metres", 16 * 2.54 / 39), ("1.05x", "yards", 1.05), ("1,05", "metres", 1.05), ("0.8", "yards", 0.8),
])
def test_stance_width_is_typed_in_the_coach_s_unit_and_kept_as_a_share_of_the_shoulders(text, system, ratio):
    value = read_number(checkpoint="stance_width_ratio", text=text, system=system, shoulder_width_cm=39)
    assert value == pytest.approx(ratio, abs=1e-4)


@pytest.mark.parametrize(("checkpoint", "text", "value"), [
    ("ball_position_cm", "−1", -1), ("ball_position_cm", "1 w", 4.267), ("ball_position_cm", "2 in", 5.08),
    ("feet_deg", "3 open", -3), ("feet_deg", "7 closed", 7), ("face_aim_deg", "2 open", 2),
    ("tee_height_mm", "4 cm", 40), ("shoulder_tilt_deg", "10°", 10), ("lead_weight_pct", "45 %", 45),
])
def test_a_number_may_carry_its_unit_or_its_direction(checkpoint, text, value):
    assert read_number(checkpoint=checkpoint, text=text, system="yards", shoulder_width_cm=39) == pytest.approx(value)


@pytest.mark.parametrize(("checkpoint", "text", "words"), [
    ("feet_deg", "eighty", "“eighty” was found"), ("feet_deg", "80", "80° was found; expected -45 to 45°"),
    ("feet_deg", "3 cm", "expected a number in °"), ("grip_pressure", "4 open", "expected a plain number"),
    ("lead_knuckles", "9", "9 was found; expected 0 to 4"),
])
def test_a_number_that_cannot_be_is_refused_with_what_was_found_and_what_is_expected(
    as_coach, lesson, checkpoint, text, words
):
    answer = note_setup(as_coach, lesson, **{checkpoint: text, "hips_deg": "2"})
    assert answer.status_code == 422
    assert words in answer.content.decode().replace("&#x27;", "'")
    assert stored() == {("hips_deg", "before"): 2}


def test_the_student_s_own_shoulders_count_once_they_are_known(as_coach, lesson, student):
    assert "39 cm, assumed until it is measured" in stop(as_coach, lesson, "look")
    student.shoulder_width_cm = 42
    student.save()
    note_setup(as_coach, lesson, stance_width_ratio="42 cm")
    assert stored()["stance_width_ratio", "before"] == 1.0
    assert "assumed" not in stop(as_coach, lesson, "look")


def test_a_script_sends_one_box_and_gets_the_words_and_the_picture_back_but_no_box(as_coach, lesson):
    url = reverse("lessons:look", args=[lesson.code])
    answer = as_coach.post(url, {"before-feet_deg": "7", "before-hips_deg": "9"},
                           headers={**HTMX, "HX-Trigger-Name": "before-feet_deg"})
    text = answer.content.decode()
    assert answer.status_code == 200 and stored() == {("feet_deg", "before"): 7}
    assert 'id="seen-feet_deg" hx-swap-oob="true"' in text and "7° closed" in text and 'id="look-plan"' in text
    assert "<input" not in text


def test_sending_the_same_number_again_changes_nothing(as_coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7")
    before = Change.objects.count()
    note_setup(as_coach, lesson, feet_deg="7")
    assert Change.objects.count() == before and SetupObservation.objects.count() == 1


def test_a_tab_that_was_opened_earlier_does_not_empty_what_was_typed_since(as_coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7")
    url = reverse("lessons:look", args=[lesson.code])
    as_coach.post(url, {"before-feet_deg": "", "was-before-feet_deg": "", "before-hips_deg": "2"})
    assert stored() == {("feet_deg", "before"): 7, ("hips_deg", "before"): 2}
    as_coach.post(url, {"before-feet_deg": "", "was-before-feet_deg": "7"})
    assert stored() == {("hips_deg", "before"): 2}


def test_a_setup_number_can_be_undone(as_coach, coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7")
    undo_last(by=coach, lesson=lesson)
    assert stored() == {}


def test_a_photo_carries_its_error(as_coach, lesson):
    as_coach.post(reverse("lessons:look", args=[lesson.code]), {"before-feet_deg": "7", "method": "photo"})
    assert SetupObservation.objects.get().uncertainty == 3


def test_before_and_after_are_kept_apart_and_both_drawn(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="7")
    as_coach.post(reverse("lessons:look", args=[lesson.code]), {"after-ball_position_cm": "2"})
    board = data_of(as_coach, lesson, "look")["board"]
    assert (board.rows["ball_position_cm"].before.value, board.rows["ball_position_cm"].latest.value) == (7, 2)
    assert board.rows["ball_position_cm"].latest.outside is False


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_picture_is_drawn_for_the_student_s_hand(as_coach, student, hand):
    student.hand = hand
    student.save()
    lesson = draw_lesson(student=student)
    note_setup(as_coach, lesson, feet_deg="7")
    assert f'data-hand="{hand}"' in stop(as_coach, lesson, "look")


def test_what_the_student_believes_is_kept(as_coach, lesson):
    as_coach.post(reverse("lessons:belief", args=[lesson.code]), {"belief": "I cut across it"})
    lesson.refresh_from_db()
    assert lesson.belief == "I cut across it"


def test_without_a_block_the_stop_asks_for_one(as_coach, student):
    lesson = factories.make_lesson(student=student)
    assert "Open a block first" in stop(as_coach, lesson, "look")
    assert note_setup(as_coach, lesson, feet_deg="7").status_code == 404


def test_another_coach_cannot_note_anything(client, other_coach, lesson):
    client.force_login(other_coach)
    assert note_setup(client, lesson, feet_deg="7").status_code == 404 and not stored()


def after(client, lesson, **values):
    boxes = {f"after-{key}": value for key, value in values.items()}
    return client.post(reverse("lessons:look", args=[lesson.code]), boxes, headers=HTMX).content.decode()


@pytest.mark.parametrize(("place", "said"), [("3", "The ball went forward: shoulders like to turn open"),
                                             ("9", "The ball went back: shoulders like to turn closed")])
def test_a_moved_ball_asks_for_the_shoulder_line_until_it_was_looked_at(as_coach, lesson, place, said):
    note_setup(as_coach, lesson, ball_position_cm="7", shoulders_deg="1")
    assert said in after(as_coach, lesson, ball_position_cm=place) and said in stop(as_coach, lesson, "look")
    after(as_coach, lesson, shoulders_deg="0")
    assert "The ball went" not in stop(as_coach, lesson, "look")


def test_a_ball_left_where_it_was_asks_nothing(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="7")
    assert "The ball went" not in after(as_coach, lesson, ball_position_cm="7")


def test_the_chosen_change_of_the_ball_keeps_asking_too(as_coach, lesson):
    note_setup(as_coach, lesson, ball_position_cm="7")
    as_coach.post(reverse("lessons:change", args=[lesson.code]), {
        "change": "Ball forward", "cue": "heel", "stop_sign": "pulls", "checkpoint": "ball_position_cm",
        "value_from": "7", "value_to": "3"})
    assert "Before the next ball" not in stop(as_coach, lesson, "change")
    after(as_coach, lesson, ball_position_cm="3")
    assert "Look at the shoulder line before the next ball" in stop(as_coach, lesson, "change")
