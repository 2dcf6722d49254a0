"""Two calm days running, or a clinician: nothing else opens full swings again."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from academy import health
from academy.models import HealthFlag, PainReading
from academy.pain_days import calm_days, calm_days_of, note_pain_day, stopping_flags

SAID = date(2026, 6, 1)


@pytest.mark.parametrize(("days", "run"), [
    ({}, 0), ({2: [0]}, 1), ({2: [2], 3: [2]}, 2), ({2: [2], 3: [3]}, 0), ({2: [3], 3: [1]}, 1),
    ({2: [0], 4: [0]}, 1), ({2: [0], 3: [0, 5]}, 0), ({2: [0], 3: [1], 4: [2]}, 3),
])
def test_a_run_is_broken_by_a_worse_word_and_by_a_silent_day(days, run):
    """Days are in June, the pain was said on the first of June."""
    readings = [(date(2026, 6, day), severity) for day, said in days.items() for severity in said]
    assert calm_days(readings=readings, after=SAID) == run


def test_the_day_of_the_complaint_itself_does_not_count():
    assert calm_days(readings=[(SAID, 0), (SAID + timedelta(days=1), 0)], after=SAID) == 1


@pytest.fixture
def flag(student):
    return HealthFlag.objects.create(
        student=student, area="low_back", severity=5, reported_at=timezone.now() - timedelta(days=4))


def say(student, severity, days_ago):
    day = timezone.localdate() - timedelta(days=days_ago)
    return note_pain_day(student=student, by=None, severity=severity, day=day)


def test_one_calm_day_is_not_enough_and_the_second_one_ends_the_stop(student, flag):
    assert say(student, 2, 2) == [] and stopping_flags(student=student) == [flag]
    assert say(student, 1, 1) == [flag] and stopping_flags(student=student) == []
    flag.refresh_from_db()
    assert not flag.cleared_by_clinician


def test_the_same_place_said_again_as_worse_breaks_the_run(student, flag):
    say(student, 1, 2)
    again = timezone.now() - timedelta(days=1)
    HealthFlag.objects.create(student=student, area="low_back", severity=3, reported_at=again)
    say(student, 1, 1)
    assert calm_days_of(flag) == 0 and stopping_flags(student=student) == [flag]


def test_calm_days_never_clear_an_emergency_sign(student):
    HealthFlag.objects.create(
        student=student, area="low_back", severity=5, red_flag=True, reported_at=timezone.now() - timedelta(days=4))
    say(student, 0, 2), say(student, 0, 1)
    assert len(stopping_flags(student=student)) == 1


def test_without_a_stop_no_day_is_kept(student):
    assert say(student, 1, 0) == [] and not PainReading.objects.exists()


def test_new_pain_however_weak_needs_the_two_days_too(student):
    HealthFlag.objects.create(
        student=student, area="elbow", severity=1, is_new=True, reported_at=timezone.now() - timedelta(days=4))
    say(student, 1, 2)
    assert stopping_flags(student=student)
    say(student, 0, 1)
    assert not stopping_flags(student=student)


def test_the_coach_notes_the_days_and_a_number_that_cannot_be_is_refused(as_coach, student, flag):
    address = f"/students/{student.code}/health/day/"
    page = as_coach.post(address, {"severity": "11"}, follow=True).content.decode()
    assert "a whole number from 0 to 10" in page and not PainReading.objects.exists()
    PainReading.objects.create(student=student, severity=0, said_on=timezone.localdate() - timedelta(days=1))
    page = as_coach.post(address, {"severity": "2"}, follow=True).content.decode()
    assert "full swings are open again" in page
    assert not health.open_flags(student=student)
