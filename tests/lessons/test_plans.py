"""Plans on the pages: a proposal from the record, kept by the coach, bent by results, in versions."""

from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import Consent, HealthFlag, Student
from lessons.models import Lesson, Plan, StudentEvent
from lessons.queries.plans.pages import plans_page
from lessons.queries.plans.player import player_of
from lessons.queries.plans.results import results_of
from tests import factories

from .return_visits import visit, with_a_change

TODAY = {"starts_on": "2026-05-04"}


@pytest.fixture
def changed(student):
    return with_a_change(student)


@pytest.mark.parametrize(("first", "outcome"), [(3.0, "kept"), (6.0, "partly"), (8.9, "lost"), (12.5, "worse")])
def test_the_first_ten_of_a_return_visit_says_what_was_kept(changed, first, outcome):
    visit(changed, 14, first=first)
    assert [one.outcome for one in results_of(student=changed, system="yards")] == [outcome]


def test_each_return_visit_has_its_own_result(changed):
    visit(changed, 14, first=3.0, end=3.0)
    visit(changed, 2, first=9.0, practised="no")
    found = results_of(student=changed, system="yards")
    assert [one.practised for one in found] == ["", "no"]
    assert found[0].outcome == "kept" and found[0].in_window and found[1].outcome != "kept"


def propose(client, student, kind, **values):
    return client.get(f"/students/{student.code}/plans/new/{kind}/", {**TODAY, **values})


def keep(client, student, kind, **values):
    response = client.post(f"/students/{student.code}/plans/new/{kind}/", {**TODAY, **values})
    assert response.status_code == 302, response.content.decode()[:2000]
    return Plan.objects.get(kind=kind, ended_on__isnull=True)


def test_a_proposal_is_not_a_plan_until_the_coach_keeps_it(as_coach, changed):
    page = propose(as_coach, changed, "series", visits=6).content.decode()
    assert "Baseline and one setup change" in page and "Repeat the battery" in page
    assert not Plan.objects.exists()
    assert keep(as_coach, changed, "series", visits=6).version == 1


def test_a_practice_plan_needs_the_minutes_and_keeps_place_and_kit(as_coach, changed):
    changed.practice_minutes_week = None
    changed.save()
    assert "Ask for the minutes" in propose(as_coach, changed, "practice").content.decode()
    plan = keep(as_coach, changed, "practice", minutes_week=60, places=["range", "home"], kit=["sticks"])
    minutes = sum(session["minutes"] for session in plan.body["weeks"][0]["sessions"])
    assert minutes == 60 and plan.body["made_from"]["kit"] == ["sticks"]
    page = as_coach.get(f"/students/{changed.code}/plans/new/series/").content.decode()
    assert 'value="sticks"' in page and page.count("checked") == 3, "what was said is said again"


def test_the_coach_notes_the_days_that_the_student_says_and_the_plan_shows_them(as_coach, changed):
    plan = keep(as_coach, changed, "practice", minutes_week=60, places=["range"], starts_on="2026-05-04")
    assert "Sitting 1" in as_coach.get(f"/plans/{plan.code}/").content.decode()
    as_coach.post(f"/plans/{plan.code}/days/", {"weekdays": ["2"], "at": "18:30"})
    page = as_coach.get(f"/plans/{plan.code}/").content.decode()
    assert "On Wednesday, at 18:30" in page and "Wednesday 6 May, 15 minutes." in page
    refused = as_coach.post(f"/plans/{plan.code}/days/", {"weekdays": ["8"]})
    assert refused.status_code == 422 and "8 was found" in refused.content.decode()


def test_results_bend_a_series_and_only_the_coach_takes_the_bend(as_coach, changed):
    first = keep(as_coach, changed, "series", visits=6)
    visit(changed, 2, first=6.0)
    page = as_coach.get(f"/plans/{first.code}/").content.decode()
    assert "The results propose a change" in page and "Same change, less help" in page
    assert Plan.objects.count() == 1
    as_coach.post(f"/plans/{first.code}/bend/")
    second = Plan.objects.get(version=2)
    assert second.thread == first.thread and second.body["steps"][0]["key"] == "repeat"
    assert "Part of the gain was there" in second.reason
    assert len(second.body["steps"]) == 6
    page = as_coach.get(f"/plans/{second.code}/").content.decode()
    assert "Version 1" in page and "Take this version back" in page


def test_what_the_student_says_of_it_is_asked_where_the_bend_is_taken(as_coach, changed):
    first = keep(as_coach, changed, "series", visits=6)
    visit(changed, 2, first=6.0)
    page = as_coach.get(f"/plans/{first.code}/", {"mood": "bored"}).content.decode()
    assert "Make it a game" in page and 'name="mood" value="bored"' in page
    as_coach.post(f"/plans/{first.code}/bend/", {"mood": "bored"})
    second = Plan.objects.get(version=2)
    assert second.body["steps"][0]["key"] == "game" and "bored" in second.reason


def test_a_series_begins_where_the_change_in_work_stands(as_coach, changed):
    visit(changed, 2, first=6.0)
    plan = keep(as_coach, changed, "series", visits=6)
    assert [step["key"] for step in plan.body["steps"]][:2] == ["repeat", "retention"]
    assert "The results propose a change" not in as_coach.get(f"/plans/{plan.code}/").content.decode()


def test_a_version_is_taken_back_and_the_one_before_it_is_in_use_again(as_coach, changed):
    first = keep(as_coach, changed, "series", visits=6)
    visit(changed, 2, first=6.0)
    as_coach.post(f"/plans/{first.code}/bend/")
    as_coach.post(f"/plans/{Plan.objects.get(version=2).code}/back/")
    assert str(first.code) in as_coach.get(f"/students/{changed.code}/plans/").content.decode()


def test_a_new_series_ends_the_one_before_it(as_coach, changed):
    first = keep(as_coach, changed, "series", visits=6)
    keep(as_coach, changed, "series", visits=4)
    first.refresh_from_db()
    assert first.ended_on is not None


def test_what_held_in_the_window_leaves_the_series_alone(as_coach, changed):
    plan = keep(as_coach, changed, "series", visits=6)
    visit(changed, 2, first=3.0)
    page = as_coach.get(f"/plans/{plan.code}/").content.decode()
    assert "The results propose a change" not in page and "stays as it is" in page


def test_an_event_keeps_changes_away(as_coach, changed):
    day = timezone.localdate() + timedelta(days=10)
    as_coach.post(f"/students/{changed.code}/events/new/", {"name": "Club championship", "on_date": day.isoformat()})
    page = as_coach.get(f"/students/{changed.code}/plans/").content.decode()
    assert "Maintain only" in page and "Club championship is in 10 days" in page
    event = StudentEvent.objects.get()
    as_coach.post(f"/students/{changed.code}/events/{event.code}/out/")
    assert "Maintain only" not in as_coach.get(f"/students/{changed.code}/plans/").content.decode()


def test_a_past_event_is_refused(as_coach, student):
    response = as_coach.post(f"/students/{student.code}/events/new/", {"name": "Cup", "on_date": "2020-01-01"})
    assert response.status_code == 422 and "is past" in response.content.decode()


def test_open_pain_plans_putting_and_aim(as_coach, changed):
    HealthFlag.objects.create(student=changed, area="low_back", severity=6, reported_at=timezone.now())
    page = as_coach.get(f"/students/{changed.code}/plans/").content.decode()
    assert "Putting and aim until it is over" in page and "no full swings" in page
    lesson = factories.make_lesson(student=changed, status=Lesson.Status.PLANNED)
    hour = as_coach.get(f"/lessons/{lesson.code}/plan/").content.decode()
    assert "Putting" in hour and "First ten" not in hour and "With aids" not in hour


def test_a_junior_without_consent_is_not_planned_for(as_coach, changed):
    changed.born_on = timezone.localdate() - timedelta(days=365 * 12)
    changed.save()
    assert "Consent first" in as_coach.get(f"/students/{changed.code}/plans/").content.decode()
    Consent.objects.create(student=changed, item="lessons", given_by_name="Ada", given_on=timezone.localdate(),
                           expires_on=timezone.localdate() + timedelta(days=300))
    assert "Consent first" not in as_coach.get(f"/students/{changed.code}/plans/").content.decode()


def test_what_the_student_told_makes_it_a_game(changed):
    visit(changed, 2, first=6.0)
    player = player_of(student=changed, now=timezone.now(), system="yards", mood="bored")
    assert player.results[-1].mood == "bored" and player.results[-1].outcome == "partly"


@pytest.mark.parametrize("kind", ["series", "practice", "season"])
def test_a_form_that_cannot_be_read_says_what_was_expected(as_coach, student, kind):
    response = as_coach.post(f"/students/{student.code}/plans/new/{kind}/", {"starts_on": "someday", "visits": "99"})
    assert response.status_code == 422 and "Enter a valid date" in response.content.decode()


def test_a_season_shows_its_phases_and_weeks_without_change(as_coach, student):
    StudentEvent.objects.create(student=student, name="Medal", on_date=timezone.localdate() + timedelta(days=60))
    plan = keep(as_coach, student, "season", first_month=4, last_month=9,
                starts_on=timezone.localdate().isoformat())
    page = as_coach.get(f"/plans/{plan.code}/").content.decode()
    assert "Off-season: the change" in page and "Test battery" in page and "Medal" in page


def no_change_weeks(plan) -> list[str]:
    return [week["monday"] for week in plan.body["weeks"] if week["no_change"]]


def test_the_four_weeks_before_an_event_and_its_own_are_without_change(as_coach, student):
    start = timezone.localdate()
    event = StudentEvent.objects.create(student=student, name="Medal", on_date=start + timedelta(days=100))
    values = {"first_month": 4, "last_month": 9, "starts_on": start.isoformat()}
    plan = keep(as_coach, student, "season", **values)
    own = event.on_date - timedelta(days=event.on_date.weekday())
    assert no_change_weeks(plan) == [(own - timedelta(weeks=n)).isoformat() for n in (4, 3, 2, 1, 0)]
    battery = [week["monday"] for week in plan.body["weeks"] if "Test battery" in week["does"]]
    assert battery and not set(battery) & set(no_change_weeks(plan))
    page = as_coach.get(f"/plans/{plan.code}/").content.decode()
    assert page.count("No change; play, short game, first ten") == 5 and "events have changed" not in page


def test_an_event_that_is_new_or_gone_is_said_on_the_season_and_the_next_one_has_it(as_coach, student):
    start = timezone.localdate()
    values = {"first_month": 4, "last_month": 9, "starts_on": start.isoformat()}
    StudentEvent.objects.create(student=student, name="Medal", on_date=start + timedelta(days=100))
    plan = keep(as_coach, student, "season", **values)
    code = StudentEvent.objects.get().code
    as_coach.post(f"/students/{student.code}/events/{code}/out/")
    as_coach.post(f"/students/{student.code}/events/new/",
                  {"name": "Spring cup", "on_date": (start + timedelta(days=60)).isoformat()})
    page = as_coach.get(f"/plans/{plan.code}/").content.decode()
    assert "Not in this plan yet: Spring cup" in page and "Still in it: Medal" in page
    again = keep(as_coach, student, "season", **values)
    assert {week["no_change"] for week in again.body["weeks"]} == {"", "Spring cup"}
    assert "events have changed" not in as_coach.get(f"/plans/{again.code}/").content.decode()


@pytest.mark.parametrize("visits", [1, 6])
def test_the_page_asks_the_same_few_questions_however_many_visits_and_plans(
        as_coach, changed, visits, django_assert_max_num_queries):
    for number in range(visits):
        visit(changed, 2 + 3 * number, first=3.0)
        keep(as_coach, changed, "season", first_month=4, last_month=9)
        keep(as_coach, changed, "series", visits=6)
    with django_assert_max_num_queries(18):
        plans_page(student=Student.objects.get(pk=changed.pk), now=timezone.now(), system="yards")


def test_an_unknown_kind_of_plan_is_a_missing_page(as_coach, student):
    assert as_coach.get(f"/students/{student.code}/plans/new/lesson/").status_code == 404
