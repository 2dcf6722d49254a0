"""Entering balls: stored at once and once, in the coach's units, mirrored at the door, corrected in the open."""

import uuid

import pytest
from django.urls import reverse

from lessons.models import DataSource, Shot
from tests import factories


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, pain_asked=True)


@pytest.fixture
def block(lesson):
    return factories.make_block(lesson=lesson)


def send(client, block, *, key=None, system="yards", parts=False, **values):
    headers = {"X-Parts": "1"} if parts else {}
    return client.post(
        reverse("lessons:ball_add", args=[block.code]),
        {"key": str(key or uuid.uuid4()), "system": system, **values}, headers=headers,
    )


def test_a_typed_ball_is_kept_in_metres_whatever_the_coach_types_in(as_coach, block):
    send(as_coach, block, carry_m="200", club_path_deg="−4,5")
    ball = Shot.objects.get()
    assert ball.carry_m == pytest.approx(182.88)  # 200 international yards
    assert ball.club_path_deg == -4.5


def test_the_units_of_the_moment_of_typing_count_when_a_ball_is_sent_later(as_coach, block):
    send(as_coach, block, system="metres", carry_m="200")
    assert Shot.objects.get().carry_m == 200


def test_one_key_sent_twice_is_one_ball(as_coach, block):
    key = uuid.uuid4()
    for _ in ("first", "again"):
        assert send(as_coach, block, key=key, carry_m="200", parts=True).status_code == 200
    assert Shot.objects.count() == 1


@pytest.mark.parametrize("text", ["twelve", "1,234", "nan", "1e999"])
def test_what_is_no_number_is_refused_with_what_was_found(as_coach, block, text):
    answer = send(as_coach, block, carry_m=text, parts=True)
    assert answer.status_code == 422
    assert text in answer.content.decode() and "expected" in answer.content.decode()
    assert not Shot.objects.exists()


def test_a_number_that_cannot_be_is_refused_with_its_range(as_coach, block):
    answer = send(as_coach, block, club_path_deg="80", parts=True)
    assert answer.status_code == 422
    assert "Club path: 80° was found; expected -30 to 30°" in answer.content.decode()


def test_the_range_is_told_in_the_unit_that_was_typed(as_coach, block):
    """350 m are 382.8 yd (international yard, 0.9144 m)."""
    answer = send(as_coach, block, carry_m="2350", parts=True).content.decode()
    assert answer == "Carry: 2350 yd was found; expected 0 to 382.8 yd."
    assert Shot.objects.count() == 0


def test_a_left_handers_numbers_are_mirrored_where_the_device_means_right(as_coach, lesson, block):
    lesson.device = DataSource.objects.create(name="Bay unit", file_sign="right")
    lesson.save()
    lesson.student.hand = "left"
    lesson.student.save()
    send(as_coach, block, club_path_deg="-5.1", attack_angle_deg="-2")
    ball = Shot.objects.get()
    assert (ball.club_path_deg, ball.attack_angle_deg) == (5.1, -2)


def test_a_left_handers_numbers_stay_where_plus_is_the_slice_side_already(as_coach, lesson, block):
    lesson.device = DataSource.objects.create(name="Bay unit", file_sign="player")
    lesson.save()
    lesson.student.hand = "left"
    lesson.student.save()
    send(as_coach, block, club_path_deg="5.1")
    assert Shot.objects.get().club_path_deg == 5.1


def test_the_page_gets_back_the_parts_a_ball_changes(as_coach, block):
    text = send(as_coach, block, shape="1,-1", contact="clean", parts=True).content.decode()
    ball = Shot.objects.get()
    assert f'id="ball-{ball.key}"' in text and 'id="topline"' in text and 'id="desk-count"' in text
    assert "push draw, clean" in text and "7 more balls before this can be judged" in text


def test_without_a_script_the_form_leads_back_to_the_block(as_coach, block):
    answer = send(as_coach, block, carry_m="200")
    assert answer.status_code == 302 and str(block.code) in answer["Location"]


def test_a_ball_is_corrected_in_the_coachs_units(as_coach, block):
    send(as_coach, block, carry_m="200", club_path_deg="3")
    ball = Shot.objects.get()
    page = as_coach.get(reverse("lessons:ball", args=[ball.key])).content.decode()
    assert 'value="200"' in page
    typed = {"system": "yards", "carry_m": "210", "club_path_deg": "3"}
    as_coach.post(reverse("lessons:ball", args=[ball.key]), typed)
    ball.refresh_from_db()
    assert ball.carry_m == pytest.approx(192.024)


def test_opening_and_keeping_a_mirrored_ball_changes_nothing(as_coach, lesson, block):
    lesson.device = DataSource.objects.create(name="Bay unit", file_sign="right")
    lesson.save()
    lesson.student.hand = "left"
    lesson.student.save()
    send(as_coach, block, club_path_deg="-5.1")
    ball = Shot.objects.get()
    page = as_coach.get(reverse("lessons:ball", args=[ball.key]))
    as_coach.post(reverse("lessons:ball", args=[ball.key]), {"system": "yards", **dict(page.context["typed"])})
    ball.refresh_from_db()
    assert ball.club_path_deg == pytest.approx(5.1)


def test_a_ball_is_left_out_with_a_reason_and_counts_again(as_coach, block):
    for carry in ("200", "210", "60"):
        send(as_coach, block, carry_m=carry)
    odd = Shot.objects.get(number=3)
    refused = as_coach.post(reverse("lessons:ball_exclude", args=[odd.key]), {"reason": ""})
    assert refused.status_code == 422
    as_coach.post(reverse("lessons:ball_exclude", args=[odd.key]), {"reason": "hit the net pole"})
    block.refresh_from_db()
    assert (block.summary["balls"], block.summary["judged"]) == (3, 2)
    page = as_coach.get(reverse("lessons:lesson", args=[block.lesson.code])).content.decode()
    assert "hit the net pole" in page
    as_coach.post(reverse("lessons:ball_count", args=[odd.key]))
    block.refresh_from_db()
    assert block.summary["judged"] == 3


def test_taking_a_ball_out_twice_is_taking_it_out_once(as_coach, block):
    send(as_coach, block, carry_m="200")
    ball = Shot.objects.get()
    for expected in (302, 204):
        assert as_coach.post(reverse("lessons:ball_out", args=[ball.key])).status_code == expected
    assert not Shot.objects.present().exists() and Shot.objects.count() == 1


def test_a_moment_in_the_future_is_not_believed(as_coach, block):
    send(as_coach, block, carry_m="200", hit_at="2199-01-01T10:00:00Z")
    assert Shot.objects.get().hit_at.year < 2199


def test_the_numbers_to_type_are_those_of_the_students_last_block(as_coach, lesson, block):
    factories.add_balls(block=block, club_speed_mps=[40.0], ball_speed_mps=[60.0])
    fresh = factories.make_block(lesson=lesson)
    page = as_coach.get(reverse("lessons:lesson", args=[lesson.code]) + f"?block={fresh.code}")
    assert page.context["desk"]["fields"] == ["club_speed_mps", "ball_speed_mps"]


def test_chosen_numbers_are_remembered(as_coach, block):
    as_coach.post(reverse("lessons:ball_fields", args=[block.code]), {"fields_shown": ["spin_rpm", "carry_m"]})
    page = as_coach.get(reverse("lessons:lesson", args=[block.lesson.code]))
    assert page.context["desk"]["fields"] == ["spin_rpm", "carry_m"]


def test_the_key_of_another_coachs_ball_shows_nothing_of_it_and_is_not_called_stored(as_coach, block, other_coach):
    theirs = factories.make_block(
        lesson=factories.make_lesson(student=factories.make_student(coach=other_coach, name="Somebody Else"))
    )
    factories.add_balls(block=theirs, carry_m=[171.5])
    key = theirs.shots.get().key
    response = send(as_coach, block, key=key, parts=True, system="metres", carry_m="150")
    assert response.status_code == 422
    assert "171" not in response.content.decode()
    assert not block.shots.exists()
