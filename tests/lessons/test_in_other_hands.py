"""What a person may do beside their own work: the owner in the diary, a stand-in in a lesson, a second tab."""

import uuid

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import ShareLink
from lessons.models import GroupClass, Package, QueueMark
from lessons.queries.monday import monday
from lessons.services.agree import finish_visit
from lessons.services.classes import join_class, open_class
from lessons.services.clinics import note_observations
from lessons.services.diary import cancel_lesson, move_lesson
from lessons.services.lessons import change_lesson
from lessons.services.monday import mark_rows
from tests import factories

NOT_YOURS = "used for something else already"


def finished(client, lesson):
    sent = {"key": str(uuid.uuid4()), "link": "on", "next_measure": "Ten balls", "student_note": "Feet first"}
    return client.post(reverse("lessons:finish", args=[lesson.code]), sent)


def test_a_stand_in_closes_the_lesson_and_gets_no_link_to_the_students_page(client, other_coach, student):
    lesson = factories.make_lesson(student=student, coach=other_coach)
    client.force_login(other_coach)
    page = client.get(reverse("lessons:stop", args=[lesson.code, "agree"])).content.decode()
    assert 'name="link"' not in page and "The private link is for Runa Holm to give" in page
    answer = finished(client, lesson)
    assert answer.status_code == 200 and "/p/" not in answer.content.decode()
    lesson.refresh_from_db()
    assert lesson.status == "finished" and not ShareLink.objects.exists()


def test_the_students_own_coach_gets_one(as_coach, student):
    assert "/p/" in finished(as_coach, factories.make_lesson(student=student)).content.decode()
    assert ShareLink.objects.count() == 1


@pytest.fixture
def taught(coach, student):
    """A booked lesson whose last written word is of the lesson itself."""
    lesson = factories.make_lesson(student=student, status="planned", days_ago=-2)
    move_lesson(by=coach, lesson=lesson, starts_at=lesson.starts_at, minutes=45, coach=coach, venue=None)
    change_lesson(by=coach, lesson=lesson, sentence="The one change: a stronger grip", goal="grip")
    return lesson


def test_an_owner_who_keeps_the_diary_reads_nothing_of_what_was_written_in_the_lesson(client, owner, taught):
    client.force_login(owner)
    pages = [client.get(reverse("lessons:booking", args=[taught.code])),
             client.get(reverse("lessons:diary"), {"changed": str(taught.code)})]
    assert not any("stronger grip" in page.content.decode() for page in pages)


def test_an_owners_undo_in_the_diary_leaves_what_was_written_in_the_lesson(client, owner, taught):
    client.force_login(owner)
    answer = client.post(reverse("lessons:booking_undo", args=[taught.code]), follow=True)
    taught.refresh_from_db()
    assert taught.goal == "grip" and "nothing left to take back" in answer.content.decode()


def test_an_owners_undo_in_the_diary_takes_back_what_the_diary_did(client, owner, student):
    lesson = factories.make_lesson(student=student, status="planned", days_ago=-2)
    cancel_lesson(by=owner, lesson=lesson, reason="weather")
    client.force_login(owner)
    assert "Lesson cancelled" in client.get(reverse("lessons:booking", args=[lesson.code])).content.decode()
    client.post(reverse("lessons:booking_undo", args=[lesson.code]))
    lesson.refresh_from_db()
    assert lesson.status == "planned"


def test_a_sale_with_the_key_of_somebody_elses_package_sells_nothing_and_tells_nothing(as_coach, student, other_coach):
    theirs = factories.make_student(coach=other_coach, name="Bo Fenwick")
    package = Package.objects.create(student=theirs, name="Secret dozen", lessons=12, starts_on=timezone.localdate())
    sent = {"key": str(package.code), "name": "Six lessons", "lessons": "6"}
    answer = as_coach.post(reverse("lessons:student_packages", args=[student.code]), sent)
    assert answer.status_code == 422 and NOT_YOURS in answer.content.decode()
    assert "Secret dozen" not in answer.content.decode() and Package.objects.count() == 1


def test_a_class_with_the_key_of_somebody_elses_is_refused(as_coach, coach, other_coach):
    theirs = GroupClass.objects.create(
        name="Saturday", coach=other_coach, created_by=other_coach, starts_at=timezone.now())
    sent = {"key": str(theirs.code), "name": "Sunday", "starts_at": "2030-05-05T10:00", "minutes": "60",
            "coach": str(coach.code), "capacity": "6", "helpers": "0", "anyway": "on"}
    answer = as_coach.post(reverse("lessons:class_new"), sent)
    assert answer.status_code == 422 and NOT_YOURS in answer.content.decode() and GroupClass.objects.count() == 1


def test_two_tabs_that_work_the_same_row_of_monday_leave_one_trace(coach, student):
    factories.make_lesson(student=student, status="finished", days_ago=3)
    now = timezone.now()
    first, second = monday(coach=coach, now=now).waiting, monday(coach=coach, now=now).waiting
    assert [row.cause for row in first] == ["sheet"] and mark_rows(by=coach, rows=first) == len(first)
    assert mark_rows(by=coach, rows=second) == 0
    assert QueueMark.objects.count() == len(first)


def test_a_lesson_finished_twice_from_two_tabs_keeps_one_link_that_works(coach, student):
    lesson = factories.make_lesson(student=student)
    same = {"by": coach, "lesson": lesson, "key": uuid.uuid4(), "next_date": None, "next_measure": "",
            "student_note": "", "private_note": "", "link": True}
    finish_visit(**same)
    finish_visit(**same)
    assert lesson.followups.count() == 1
    assert ShareLink.objects.filter(student=student, revoked_at=None).count() == 1


def test_a_class_takes_back_its_coachs_own_word_and_leaves_it_to_them(client, coach, owner, student):
    group = open_class(by=coach, key=uuid.uuid4(), name="Saturday", coach=coach, starts_at=timezone.now())
    lesson = join_class(by=coach, group=group, student=student)
    note_observations(by=coach, group=group, said={str(lesson.code): "Feet first"})
    for who, left in ((owner, "Feet first"), (coach, "")):
        client.force_login(who)
        client.post(reverse("lessons:class_undo", args=[group.code]))
        lesson.refresh_from_db()
        assert lesson.student_note == left
