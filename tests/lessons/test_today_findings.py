"""Which finding stands in the brief, and on which day it was made."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from lessons.models import Finding, Lesson
from tests import factories


@pytest.fixture
def noon():
    return timezone.localtime().replace(hour=12, minute=0, second=0, microsecond=0)


def visit(student, *, at, findings=()):
    lesson = factories.make_lesson(student=student, status=Lesson.Status.FINISHED)
    Lesson.objects.filter(pk=lesson.pk).update(starts_at=at)
    for title, decision in findings:
        Finding.objects.create(lesson=lesson, pattern=title[:8], title=title, state="hint", decision=decision)
    return lesson


def brief(client):
    return " ".join(client.get(reverse("lessons:today")).content.decode().split())


def test_what_was_found_today_is_not_dated_to_the_last_visit(as_coach, student, noon):
    visit(student, at=noon - timedelta(days=9), findings=[("Path too far out", "confirmed")])
    visit(student, at=noon, findings=[("Aims right", "")])
    assert "Path too far out" in brief(as_coach) and "Aims right" not in brief(as_coach)


def test_what_the_coach_confirmed_comes_before_a_later_hint_of_that_visit(as_coach, student, noon):
    visit(student, at=noon - timedelta(days=9), findings=[("Path too far out", "confirmed"), ("Aims right", "")])
    Lesson.objects.create(student=student, coach=student.coach, starts_at=noon, status=Lesson.Status.PLANNED)
    assert "Path too far out" in brief(as_coach) and "Aims right" not in brief(as_coach)


def test_a_finding_of_an_earlier_visit_says_its_own_day(as_coach, student, noon):
    earlier = noon - timedelta(days=20)
    visit(student, at=earlier, findings=[("Path too far out", "confirmed")])
    visit(student, at=noon - timedelta(days=9))
    Lesson.objects.create(student=student, coach=student.coach, starts_at=noon, status=Lesson.Status.PLANNED)
    assert f"found on {earlier.day} {earlier:%b}: Path too far out" in brief(as_coach)
