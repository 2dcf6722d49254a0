"""Values that no form offers and any program can send: a sentence or the usual page, never a break."""

import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from lessons.models import Attachment, Package
from tests import factories

LONG = "9" * 5000
"""Longer than Python turns into a number."""
pytestmark = pytest.mark.django_db


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student)


@pytest.mark.parametrize("minutes", ["²", LONG, "-5", "٩٩٩٩"])
def test_odd_minutes_of_an_hours_plan_are_passed_over_or_named(as_coach, lesson, minutes):
    address = reverse("lessons:lesson_hour", args=[lesson.code])
    assert as_coach.get(address, {"minutes": minutes[:200]}).status_code == 200
    answer = as_coach.post(address, {"minutes": "60", "minutes-agree": minutes})
    assert answer.status_code == 422 and "expected 0 to" in answer.content.decode()


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31", "2026-02-30", "²"])
def test_a_day_without_a_week_around_it_shows_today_in_the_diary(as_coach, coach, day):
    assert as_coach.get(reverse("lessons:diary"), {"day": day}).context["filters"].day == timezone.localdate()


@pytest.mark.parametrize("days", [LONG, "²", "-90"])
def test_odd_windows_of_the_figures_fall_back_to_the_usual(as_coach, coach, days):
    assert as_coach.get(reverse("lessons:figures"), {"days": days}).context["filters"].days == 90


@pytest.mark.parametrize("asked", [f"bytes={LONG}-", f"bytes=0-{LONG}", "bytes=²-", "bytes=5-2"])
def test_an_odd_range_of_a_picture_gets_the_whole_or_is_outside_it(as_coach, lesson, settings, tmp_path, asked):
    settings.MEDIA_ROOT = tmp_path / "media"
    kept = factories.keep_picture(block=factories.make_block(lesson=lesson))
    answer = as_coach.get(reverse("lessons:picture", args=[kept.code]), headers={"range": asked})
    assert answer.status_code in {200, 206, 416}


def test_a_package_whose_last_day_is_over_is_refused_with_both_days(as_coach, student):
    sold = {"key": str(uuid.uuid4()), "name": "Six lessons", "lessons": "6", "expires_on": "2020-05-01"}
    answer = as_coach.post(reverse("lessons:student_packages", args=[student.code]), sold)
    assert answer.status_code == 422 and "1 May 2020 lies before" in answer.content.decode()
    assert not Package.objects.exists()


def test_a_new_last_day_before_the_first_is_refused_with_both_days(as_coach, student):
    sold = {"key": str(uuid.uuid4()), "name": "Six lessons", "lessons": "6"}
    as_coach.post(reverse("lessons:student_packages", args=[student.code]), sold)
    address = reverse("lessons:package_step", args=[Package.objects.get().code, "last-day"])
    answer = as_coach.post(address, {"expires_on": "2020-05-01"})
    assert answer.status_code == 422 and "1 May 2020 lies before" in answer.content.decode()


@pytest.mark.parametrize("what, sent", [
    ("refund", {"lessons": "-3", "amount": "10"}), ("refund", {"lessons": "1", "amount": "-10"}),
    ("refund", {"lessons": "7", "amount": "0"}), ("hand-on", {"lessons": "-1"}),
])
def test_nothing_negative_and_no_more_than_there_is_leaves_a_package(as_coach, coach, student, what, sent):
    bought = {"key": str(uuid.uuid4()), "name": "Six lessons", "lessons": "6", "price": "300"}
    as_coach.post(reverse("lessons:student_packages", args=[student.code]), bought)
    package = Package.objects.get()
    other = factories.make_student(coach=coach, name="Tove Lind")
    answer = as_coach.post(reverse("lessons:package_step", args=[package.code, what]), {"to": str(other.code), **sent})
    assert answer.status_code == 422 and package.balance() == 6 and package.entries.count() == 1


def test_the_form_of_another_lessons_picture_keeps_nothing_and_says_so(as_coach, student, lesson, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    later = factories.make_lesson(student=student)
    block, there = factories.make_block(lesson=lesson), factories.make_block(lesson=later)
    factories.keep_picture(block=block)
    key = str(uuid.uuid4())
    for one in (block, there):
        sent = {"key": key, "angle": "face_on", "block": str(one.code), "keep_days": "30",
                "before": SimpleUploadedFile("a.png", factories.picture_bytes())}
        answer = as_coach.post(reverse("lessons:pictures", args=[one.lesson.code]), sent)
    assert answer.status_code == 422 and "used for something else already" in answer.content.decode()
    assert not Attachment.objects.filter(lesson=later).exists()
