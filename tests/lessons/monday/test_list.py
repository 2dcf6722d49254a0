"""Monday's list: each cause at its edge, worked off with a trace, and nobody reads what is not theirs."""

import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import Club, Consent, Guardian, Guardianship
from lessons.models import DrillAssignment, FollowUp, Lesson, PracticeEntry, QueueMark, StudentMessage
from lessons.queries.monday import monday
from lessons.services.packages import sell_package
from lessons.services.standing import refresh_standing
from tests import factories


def waiting(coach, student=None) -> dict[str, list]:
    found: dict[str, list] = {}
    for row in monday(coach=coach, now=timezone.now()).waiting:
        if student is None or row.student == student:
            found.setdefault(row.cause, []).append(row)
    return found


def visit(student, days_ago, *, sheet=True, **values) -> Lesson:
    lesson = factories.make_lesson(student=student, days_ago=days_ago, status="finished", **values)
    if sheet:
        FollowUp.objects.create(lesson=lesson, channel="copy", sent_at=lesson.starts_at + timedelta(hours=2))
    refresh_standing(student=student)
    return lesson


def keys(rows) -> list[str]:
    return [row.key for row in rows]


def test_overdue_comes_with_its_reason_and_what_was_last_said(coach, student):
    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20), student_note="Feet first, please.")
    row = waiting(coach)["overdue"][0]
    assert "20 days ago" in row.why and row.said == "Feet first, please."


def test_what_was_last_said_is_of_the_newest_hour_not_of_the_newest_row(coach, student):
    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20), student_note="Feet first, please.")
    visit(student, 90, student_note="Entered later, happened earlier.")
    assert waiting(coach)["overdue"][0].said == "Feet first, please."


def test_an_owner_reads_what_was_agreed_and_not_what_the_coach_wrote(owner, student):
    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20), student_note="Feet first, please.",
          private_note="afraid of water", next_measure="Ten driver balls")
    StudentMessage.objects.create(student=student, key=uuid.uuid4(), text="My hip?", sent_at=timezone.now())
    found = waiting(owner)
    assert found["overdue"][0].said == "Ten driver balls" and found["question"][0].said == ""


@pytest.mark.parametrize("reason", ["injury", "away", "family"])
def test_a_paused_student_is_not_chased(coach, student, reason):
    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20))
    student.status, student.pause_reason = "paused", reason
    student.save()
    assert waiting(coach) == {}


def test_a_lesson_of_which_nothing_was_given_waits_until_it_is(coach, student):
    lesson = visit(student, 2, sheet=False)
    assert len(waiting(coach)["sheet"]) == 1
    FollowUp.objects.create(lesson=lesson, channel="mail", sent_at=timezone.now())
    assert "sheet" not in waiting(coach)


def test_a_question_waits_for_its_answer(coach, student):
    message = StudentMessage.objects.create(student=student, key=uuid.uuid4(), text="A tee?", sent_at=timezone.now())
    assert waiting(coach)["question"][0].said == "A tee?"
    StudentMessage.objects.filter(pk=message.pk).update(answered_at=timezone.now())
    assert waiting(coach) == {}


@pytest.mark.parametrize(("given", "ticked", "silent"), [
    (21, None, True), (20, None, False), (40, 22, True), (40, 20, False),
])
def test_practice_is_silent_after_three_weeks_without_a_tick(coach, student, given, ticked, silent):
    visit(student, 15)
    today = timezone.localdate()
    DrillAssignment.objects.create(student=student, drill="gate", starts_on=today - timedelta(days=given))
    if ticked is not None:
        PracticeEntry.objects.create(
            student=student, key=uuid.uuid4(), practised_at=timezone.now() - timedelta(days=ticked))
    assert ("silent" in waiting(coach)) is silent


@pytest.mark.parametrize(("days", "born", "waits"), [
    (30, date(2016, 1, 1), True), (31, date(2016, 1, 1), False), (-1, date(2016, 1, 1), True),
    (10, date(1980, 1, 1), False),
])
def test_a_juniors_consent_that_runs_out_within_thirty_days_waits(coach, student, days, born, waits):
    student.born_on = born
    student.save()
    today = timezone.localdate()
    Consent.objects.create(student=student, item="filming", given_by_name="Ada", given_on=today - timedelta(days=300),
                           expires_on=today + timedelta(days=days))
    assert ("consent" in waiting(coach)) is waits


def test_a_renewed_consent_waits_no_more(coach, student):
    student.born_on = date(2016, 1, 1)
    student.save()
    today = timezone.localdate()
    for ends in (9, 300):
        Consent.objects.create(student=student, item="filming", given_by_name="Ada", given_on=today,
                               expires_on=today + timedelta(days=ends))
    assert "consent" not in waiting(coach)


@pytest.mark.parametrize(("lessons", "ends", "waits"), [
    (1, None, True), (2, None, False), (5, 30, True), (5, 31, False),
])
def test_a_package_that_is_nearly_used_up_or_runs_out_waits(coach, student, lessons, ends, waits):
    sell_package(by=coach, student=student, key=uuid.uuid4(), name="Pack", lessons=lessons,
                 expires_on=timezone.localdate() + timedelta(days=ends) if ends else None)
    assert ("package" in waiting(coach)) is waits


def test_clubs_noted_more_than_two_years_ago_wait_for_a_look(coach, student):
    old = Club.objects.create(student=student, name="7 iron", category="mid_iron", from_date=date(2020, 1, 1))
    Club.objects.create(student=student, name="Driver", category="driver", from_date=timezone.localdate())
    assert "7 iron" in waiting(coach)["equipment"][0].why and "Driver" not in waiting(coach)["equipment"][0].why
    Club.objects.filter(pk=old.pk).update(to_date=timezone.localdate())
    assert "equipment" not in waiting(coach)


def post(client, rows, **values):
    return client.post(reverse("lessons:monday_mark"), {"row": keys(rows), "until": "", "reason": "", **values})


@pytest.fixture
def row(coach, student):
    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20))
    return waiting(coach)["overdue"][0]


def test_a_done_row_leaves_the_list_with_a_trace_and_comes_back(as_coach, coach, row):
    post(as_coach, [row], reason="rang, comes on Friday")
    assert "overdue" not in waiting(coach)
    page = as_coach.get(reverse("lessons:monday")).content.decode()
    assert "rang, comes on Friday" in page
    as_coach.post(reverse("lessons:monday_back", args=[QueueMark.objects.get().code]))
    assert "overdue" in waiting(coach)


def test_a_new_occasion_is_a_new_row(as_coach, coach, student, row):
    post(as_coach, [row])
    visit(student, 30, next_date=timezone.localdate() - timedelta(days=16))
    assert "overdue" in waiting(coach)


def test_a_row_put_off_comes_back_on_its_day(as_coach, coach, row):
    until = timezone.localdate() + timedelta(days=5)
    post(as_coach, [row], until=until.isoformat(), reason="on holiday")
    assert "overdue" not in waiting(coach)
    later = monday(coach=coach, now=timezone.now() + timedelta(days=5))
    assert [one.mark.reason for one in later.waiting if one.cause == "overdue"] == ["on holiday"]


@pytest.mark.parametrize(("days", "reason", "said"), [(0, "later", "not later than today"), (5, "", "Say why")])
def test_putting_off_asks_for_a_later_day_and_a_reason(as_coach, row, days, reason, said):
    until = timezone.localdate() + timedelta(days=days)
    answer = post(as_coach, [row], until=until.isoformat(), reason=reason)
    assert answer.status_code == 422 and said in answer.content.decode() and not QueueMark.objects.exists()


def test_another_coach_neither_sees_nor_marks_the_row(client, other_coach, row):
    client.force_login(other_coach)
    assert waiting(other_coach) == {}
    assert post(client, [row]).status_code == 422 and not QueueMark.objects.exists()


def test_the_list_takes_the_same_queries_for_many_students(coach, student, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    visit(student, 40, next_date=timezone.localdate() - timedelta(days=20))
    with CaptureQueriesContext(connection) as few:
        waiting(coach)
    for number in range(8):
        visit(factories.make_student(coach=coach, name=f"S {number}"), 40,
              next_date=timezone.localdate() - timedelta(days=20))
    with django_assert_num_queries(len(few)):
        assert len(waiting(coach)["overdue"]) == 9


def drafted(client, rows):
    return client.post(reverse("lessons:monday_mark"), {"row": keys(rows), "draft": "yes"}).context["drafts"]


def test_a_draft_is_filled_in_and_nothing_is_sent(as_coach, student, row, mailoutbox):
    student.email = "edda@example.org"
    student.save()
    draft = drafted(as_coach, [row])[0]
    assert draft.to == ["edda@example.org"] and "next lesson for Edda" in draft.body and "{" not in draft.body
    assert draft.mail_address.startswith("mailto:edda@example.org?subject=Your%20next%20lesson&body=Dear%20Edda")
    assert mailoutbox == []


def test_a_juniors_draft_goes_to_the_guardian_with_the_child_in_copy_only(as_coach, student, row):
    today = timezone.localdate()
    student.born_on, student.email = date(today.year - 11, 1, 1), "edda@example.org"
    student.save()
    guardian = Guardian.objects.create(name="Ada Marlow", email="ada@example.org")
    Guardianship.objects.create(student=student, guardian=guardian)
    assert "nobody has allowed this yet" in drafted(as_coach, [row])[0].problem
    Consent.objects.create(student=student, item="messaging", given_by_guardian=guardian, given_by_name="Ada",
                           given_on=today, expires_on=today + timedelta(days=300))
    draft = drafted(as_coach, [row])[0]
    assert (draft.to, draft.copies) == (["ada@example.org"], ["edda@example.org"])
    assert draft.body.startswith("Dear Ada Marlow")


def test_the_academy_writes_its_own_text_and_an_unknown_word_is_named(client, owner, coach, row):
    client.force_login(owner)
    address = reverse("lessons:monday_texts")
    for body, said in (("Dear {frist_name}", "“{frist_name}” is not known here"), ("Dear {first_name", "not closed")):
        answer = client.post(address, {"cause": "overdue", "subject": "Hello", "body": body})
        assert answer.status_code == 422 and said in answer.content.decode()
    client.post(address, {"cause": "overdue", "subject": "Hello {first_name}", "body": "Come back, {first_name}."})
    row.student.email = "edda@example.org"
    row.student.save()
    assert drafted(client, [row])[0].subject == "Hello Edda"
