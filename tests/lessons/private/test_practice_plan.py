"""The practice plan as its student reads it: this week, the days they chose, and only what is open."""

from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import Change, Consent, HealthFlag
from lessons.library import stored_library
from lessons.models import PracticeDays
from lessons.queries.plans.practice import practice_today
from lessons.services.plans import end_plan
from metrics.plans.practice import Session

from . import cast
from .practice_plan import plan_for
from .test_private_page import text_of


@pytest.fixture
def client_of(student):
    plan_for(student)
    return cast.holder_of(student)


def choose(client, *weekdays, at=""):
    return client.post("/me/plan/days/", {"weekdays": [str(day) for day in weekdays], "at": at})


def hurt(student, **values):
    whole = {"area": "hip", "severity": 6, "reported_at": timezone.now(), **values}
    return HealthFlag.objects.create(student=student, **whole)


def test_the_page_shows_this_week_and_leads_to_the_whole_plan(client_of):
    page = text_of(client_of.get("/me/"))
    assert "Your practice week" in page and "Sitting 1 : 15 minutes. Main drill" in page
    whole = text_of(client_of.get("/me/plan/"))
    assert "60 minutes a week" in whole and "this week" in whole
    assert all(f"Week {number}" in whole for number in (1, 2, 3, 4))


def test_the_days_the_student_chooses_date_every_sitting(client_of, student):
    first = timezone.localdate()
    assert choose(client_of, (first.weekday() + 1) % 7, (first.weekday() + 4) % 7, at="18:30").status_code == 302
    weeks = practice_today(student=student, now=timezone.now()).weeks
    days = [[(sitting.day - first).days for sitting in week.sittings] for week in weeks]
    assert days == [[1, 1, 4, 4], [8, 8, 11, 11], [15, 15, 18, 18], [22, 22, 25, 25]]
    assert f"{first + timedelta(days=1):%A}" in text_of(client_of.get("/me/plan/"))
    assert Change.objects.get(sentence__startswith="Practice days").created_by is None


def test_no_day_at_all_takes_the_dates_away(client_of, student):
    choose(client_of, 0, 3)
    choose(client_of)
    assert PracticeDays.objects.get().weekdays == []
    assert "Sitting 1" in text_of(client_of.get("/me/"))


@pytest.mark.parametrize(("sent", "said"), [
    ({"weekdays": ["9"]}, "9 was found; expected days from 0 (Monday) to 6 (Sunday)"),
    ({"weekdays": ["1"], "at": "half six"}, "expected one such as 18:30"),
])
def test_a_day_that_is_none_is_refused_with_what_was_expected(client_of, sent, said):
    response = client_of.post("/me/plan/days/", sent)
    assert response.status_code == 422 and said in text_of(response)
    assert not PracticeDays.objects.exists()


def test_pain_leaves_aim_and_putting_and_lets_the_rest_rest(client_of, student):
    hurt(student)
    page = text_of(client_of.get("/me/plan/"))
    assert "Putting" in page and "rests until the pain is over" in page
    assert "Random clubs" not in page and "Wedges" not in page and "full swings." not in page
    kept = {task["name"] for week in practice_today(student=student, now=timezone.now()).weeks
            for sitting in week.sittings for task in sitting.tasks}
    gentle = {drill.name for drill in stored_library().drills.values() if drill.gentle}
    assert kept and kept <= gentle


def test_an_emergency_sign_leaves_nothing(client_of, student):
    hurt(student, red_flag=True)
    weeks = practice_today(student=student, now=timezone.now()).weeks
    assert not any(sitting.tasks for week in weeks for sitting in week.sittings)


def test_a_junior_without_the_consent_to_lessons_reads_no_plan(student):
    student.born_on = timezone.localdate() - timedelta(days=365 * 12)
    student.save()
    consent = Consent.objects.create(
        student=student, item="lessons", given_by_name="Ada", given_on=timezone.localdate(),
        expires_on=timezone.localdate() + timedelta(days=300))
    plan_for(student)
    client = cast.holder_of(student, guardian=cast.guardian_of(student))
    assert "Your practice week" in text_of(client.get("/me/"))
    consent.withdrawn_on = timezone.localdate()
    consent.save()
    assert "Your practice week" not in text_of(client.get("/me/"))
    assert "No practice plan at the moment" in text_of(client.get("/me/plan/"))


def test_a_child_reads_no_measures_in_the_plan(student):
    student.born_on = timezone.localdate() - timedelta(days=9 * 366)
    student.save()
    Consent.objects.create(student=student, item="lessons", given_by_name="Ada", given_on=timezone.localdate(),
                           expires_on=timezone.localdate() + timedelta(days=300))
    plan = plan_for(student)
    plan.body["weeks"][0]["sessions"][0]["tasks"][0]["how"] = "Feet 7° closed."
    plan.save()
    page = text_of(cast.holder_of(student, guardian=cast.guardian_of(student)).get("/me/plan/"))
    assert "minutes." in page and "7°" not in page and "% of the balls" not in page


def test_what_the_coach_reads_of_a_plan_stays_with_the_coach(client_of):
    for address in ("/me/", "/me/plan/"):
        page = client_of.get(address).content.decode()
        assert "Sore" not in page and "hushword" not in page and "bored" not in page


def test_a_plan_whose_weeks_are_over_or_that_was_ended_is_not_this_week(client_of, student):
    plan = student.plans.get()
    plan.starts_on -= timedelta(weeks=4)
    plan.save()
    assert "Your practice week" not in text_of(client_of.get("/me/"))
    assert "These weeks are over" in text_of(client_of.get("/me/plan/"))
    end_plan(by=student.coach, plan=plan, day=timezone.localdate())
    assert "No practice plan at the moment" in text_of(client_of.get("/me/plan/"))


def test_the_record_a_student_takes_along_holds_the_plan_and_the_days(client_of):
    choose(client_of, 0)
    record = client_of.get("/me/kept/my-golf-record.json").json()
    assert record["practice_days"][0]["weekdays (0 is Monday)"] == [0]
    assert set(record["practice_plans"][0]["weeks"][0]["sessions"][0]) == set(Session.__dataclass_fields__)
    assert "each in full in the other file" in client_of.get("/me/kept/my-golf-record.txt").content.decode()
