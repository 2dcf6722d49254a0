"""The coach's page of a student, the owner's reduced one, and health for the assigned coach alone."""

import uuid
from datetime import date, timedelta

import pytest
from django.utils import timezone

from academy.models import Goal, HealthFlag, Intent
from lessons.models import Finding, PracticeEntry, StudentMessage
from tests import factories
from tests.lessons.private import cast


@pytest.fixture
def story(student):
    student.notes = "keep it light"
    student.save()
    last, assignment = cast.whole_story(student)
    Goal.objects.create(student=student, text="Aim the face first")
    Intent.objects.create(student=student, category="driver", shape="draw")
    Finding.objects.create(lesson=last, pattern="over_draw", title="Draw growing into a hook", state="hint")
    HealthFlag.objects.create(student=student, area="hip", severity=6, text="aches", reported_at=timezone.now())
    StudentMessage.objects.create(
        student=student, key=uuid.uuid4(), kind="question", text="Which ball?", sent_at=timezone.now())
    return student


def test_the_coach_sees_the_student_whole(as_coach, story):
    page = as_coach.get(f"/students/{story.code}/").content.decode()
    for words in ("Edda Marlow", "Aim the face first", "draw", "Feet from 7° closed", "Draw growing into a hook",
                  "Two-stick station", "Which ball?", "keep it light", "keeps full swings off"):
        assert words in page, words


def test_the_owner_who_is_not_the_coach_sees_no_notes_health_messages_or_findings(client, owner, story):
    client.force_login(owner)
    page = client.get(f"/students/{story.code}/").content.decode()
    assert "Edda Marlow" in page and "Aim the face first" in page
    for words in ("keep it light", "swings", "Which ball?", "hook", "railway", "aches", "Feet from"):
        assert words not in page, words


def test_another_coach_and_the_welfare_lead_get_a_missing_page(client, other_coach, story):
    welfare = factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    for person in (other_coach, welfare):
        client.force_login(person)
        assert client.get(f"/students/{story.code}/").status_code == 404


def test_health_is_read_by_the_assigned_coach_alone(client, story, coach, owner, other_coach):
    seen = {}
    for person in (coach, owner, other_coach):
        client.force_login(person)
        seen[person.username] = client.get(f"/students/{story.code}/health/").status_code
    assert seen == {"coach": 200, "owner": 404, "other": 404}


def test_a_health_entry_is_added_and_cleared_by_the_coach(as_coach, student):
    as_coach.post(f"/students/{student.code}/health/", {"area": "knee", "severity": "5", "text": "after tennis"})
    flag = HealthFlag.objects.get()
    assert flag.stops_long_game
    as_coach.post(f"/students/{student.code}/health/{flag.code}/clear/", {"by_clinician": "no"})
    flag.refresh_from_db()
    assert flag.cleared_at is not None and not flag.stops_long_game


def test_a_red_flag_is_cleared_by_a_clinician_only(as_coach, student):
    as_coach.post(f"/students/{student.code}/health/", {"area": "heart", "severity": "2", "red_flag": "on"})
    flag = HealthFlag.objects.get()
    as_coach.post(f"/students/{student.code}/health/{flag.code}/clear/", {"by_clinician": "no"})
    flag.refresh_from_db()
    assert flag.cleared_at is None
    as_coach.post(f"/students/{student.code}/health/{flag.code}/clear/", {"by_clinician": "yes"})
    flag.refresh_from_db()
    assert flag.cleared_by_clinician


def test_the_coachs_page_costs_no_more_queries_for_nine_visits(as_coach, story, django_assert_max_num_queries):
    for days in (10, 20, 30, 40, 50, 60, 70):
        lesson = cast.visit(student=story, days_ago=days)
        cast.drill(student=story, lesson=lesson)
    with django_assert_max_num_queries(26):
        as_coach.get(f"/students/{story.code}/")


@pytest.fixture
def junior(coach):
    return factories.make_student(coach=coach, name="Ilya Reed", born_on=date(timezone.localdate().year - 11, 1, 1))


def test_the_coach_notes_a_guardian_and_a_consent(as_coach, junior):
    as_coach.post(f"/students/{junior.code}/guardians/", {"name": "Tess Reed", "relation": "mother"})
    guardian = junior.guardians.get()
    as_coach.post(f"/students/{junior.code}/consents/", {
        "item": "filming", "guardian": str(guardian.code), "given_on": timezone.localdate().isoformat()})
    page = as_coach.get(f"/students/{junior.code}/guardians/").content.decode()
    assert "Filming and photos: allowed by Tess Reed until" in page
    as_coach.post(f"/students/{junior.code}/consents/withdraw/", {"item": "filming"})
    assert "withdrawn on" in as_coach.get(f"/students/{junior.code}/guardians/").content.decode()


def test_a_juniors_consent_without_a_guardian_is_refused_with_the_reason(as_coach, junior):
    response = as_coach.post(f"/students/{junior.code}/consents/", {
        "item": "filming", "given_on": timezone.localdate().isoformat()})
    assert response.status_code == 422
    assert "say which guardian gives the consent" in response.content.decode()


def test_a_consent_cannot_be_given_for_tomorrow(as_coach, student):
    day = timezone.localdate() + timedelta(days=1)
    response = as_coach.post(f"/students/{student.code}/consents/", {"item": "sharing", "given_on": day.isoformat()})
    assert response.status_code == 422


def test_the_welfare_lead_sees_juniors_consents_and_no_coaching(client, junior, student):
    cast.whole_story(junior)
    client.force_login(factories.make_coach("welfare", is_coach=False, is_welfare_lead=True))
    page = client.get("/welfare/").content.decode()
    assert "Ilya Reed" in page and "Edda Marlow" not in page
    own = client.get(f"/students/{junior.code}/guardians/").content.decode()
    assert "railway" not in own and "station" not in own
    assert client.get(f"/students/{student.code}/guardians/").status_code == 404
    for address in (f"/students/{junior.code}/", f"/students/{junior.code}/health/"):
        assert client.get(address).status_code == 404


def test_the_welfare_page_is_for_the_welfare_lead(client, coach, owner):
    for person in (coach, owner):
        client.force_login(person)
        assert client.get("/welfare/").status_code == 404


def test_a_lesson_begins_from_the_students_page_at_one_press(as_coach, student):
    page = as_coach.get(f"/students/{student.code}/")
    form = {"key": str(page.context["begin_key"]), "student": str(student.code), "minutes": "60"}
    assert "Begin a lesson now" in page.content.decode()
    answer = as_coach.post("/today/book/", form)
    running = student.lessons.get()
    assert running.status == "running" and str(running.code) in answer.url
    assert "Begin a lesson now" not in as_coach.get(f"/students/{student.code}/").content.decode()


def test_the_coach_reads_the_warning_about_a_juniors_week_that_the_guardian_reads(as_coach, junior):
    assert "more than the" not in as_coach.get(f"/students/{junior.code}/").content.decode()
    for days in (1, 2, 3, 4):
        PracticeEntry.objects.create(student=junior, key=uuid.uuid4(), minutes=180, balls=60,
                                     practised_at=timezone.now() - timedelta(days=days))
    page = as_coach.get(f"/students/{junior.code}/").content.decode()
    assert "12 hours of golf in seven days is more than the" in page and "ask about any ache" in page
