"""Questions and answers, guardians on the page, and what is kept about a student."""

import json
import uuid
from datetime import date, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from academy import consents
from academy.models import Consent
from lessons.models import StudentMessage
from tests import factories

from . import cast


@pytest.fixture
def junior(coach):
    return factories.make_student(
        coach=coach, name="Ilya Reed", born_on=timezone.localdate() - timedelta(days=12 * 366))


@pytest.fixture
def parent(junior):
    return cast.guardian_of(junior, "Tess Reed")


def ask(client, text="Which ball?", **values):
    return client.post("/me/message/", {"key": str(uuid.uuid4()), "kind": "question", "text": text, **values})


def test_a_question_reaches_the_coach_and_the_answer_comes_back(student, as_coach):
    phone = cast.holder_of(student)
    assert ask(phone).status_code == 302
    message = StudentMessage.objects.get()
    page = as_coach.get(f"/students/{student.code}/").content.decode()
    assert "Which ball?" in page
    as_coach.post(f"/students/{student.code}/messages/{message.code}/answer/", {"answer": "The soft one."})
    assert "The soft one." in phone.get("/me/").content.decode()


def test_a_question_sent_twice_is_stored_once(student):
    phone, key = cast.holder_of(student), str(uuid.uuid4())
    ask(phone, key=key)
    ask(phone, key=key)
    assert StudentMessage.objects.count() == 1


def test_an_empty_question_is_refused_beside_its_field(student):
    response = ask(cast.holder_of(student), text=" ")
    assert response.status_code == 422
    assert b"This field is required" in response.content


def test_a_message_about_a_junior_names_the_guardian_who_wrote_it(junior, parent):
    consents.give_consent(
        by=None, student=junior, item="messaging", given_on=timezone.localdate(), guardian=parent)
    phone = cast.holder_of(junior, guardian=parent)
    ask(phone)
    assert StudentMessage.objects.get().written_by == "Tess Reed"
    assert "from Tess Reed" in phone.get("/me/").content.decode()


def test_without_the_consent_messages_are_off_with_the_reason_but_pain_can_always_be_told(junior, parent):
    phone = cast.holder_of(junior, guardian=parent)
    page = phone.get("/me/").content.decode()
    assert "Messages: nobody has allowed this yet. Ask a guardian." in page
    assert 'action="/me/message/"' not in page
    assert ask(phone).status_code == 422
    assert phone.post("/me/pain/", {"key": str(uuid.uuid4()), "pain": "5"}).status_code == 302
    assert list(StudentMessage.objects.values_list("kind", flat=True)) == ["pain"]


def test_a_guardian_gives_and_withdraws_item_by_item_on_the_page(junior, parent):
    phone = cast.holder_of(junior, guardian=parent)
    phone.post("/me/consents/", {"item": "filming", "give": "yes"})
    given = Consent.objects.get()
    assert (given.item, given.given_by_guardian, given.given_on) == ("filming", parent, timezone.localdate())
    phone.post("/me/consents/", {"item": "filming"})
    given.refresh_from_db()
    assert given.withdrawn_on == timezone.localdate()


def test_a_students_own_link_changes_no_consent(student):
    cast.holder_of(student).post("/me/consents/", {"item": "sharing", "give": "yes"})
    assert not Consent.objects.exists()


def test_too_many_hours_for_the_age_are_said_to_the_guardian(junior, parent):
    phone = cast.holder_of(junior, guardian=parent)
    for minutes in (400, 400):
        phone.post("/me/practice/", {"key": str(uuid.uuid4()), "minutes": str(minutes)})
    assert "13 hours of golf in seven days is more than the 12 that fit this age" in phone.get("/me/").content.decode()


def test_the_page_about_the_record_counts_what_is_kept(student):
    cast.whole_story(student)
    page = cast.holder_of(student).get("/me/kept/").content.decode()
    assert "Lessons: 2" in page and "Balls: 21" in page


def test_the_download_holds_the_students_record_without_notes_of_the_coach(student):
    student.notes = "tends to sulk"
    student.save()
    last, _ = cast.whole_story(student)
    last.private_note = "afraid of the pond"
    last.save()
    phone = cast.holder_of(student)
    record = json.loads(phone.get("/me/kept/my-golf-record.json").content)
    assert record["student"]["name"] == student.name
    assert len(record["balls"]) == 21
    assert record["balls"][0]["club_path_deg"] == 5.0
    assert record["changes"][0]["cue"] == "toes on the railway line"
    text = phone.get("/me/kept/my-golf-record.txt").content.decode()
    assert "toes on the railway line" in text
    for content in (json.dumps(record), text):
        assert "sulk" not in content and "pond" not in content and '"id"' not in content


def test_the_download_leaves_other_students_out(student, coach):
    cast.whole_story(factories.make_student(coach=coach, name="Somebody Else"))
    record = json.loads(cast.holder_of(student).get("/me/kept/my-golf-record.json").content)
    assert record["balls"] == [] and record["lessons"] == []


def test_asking_to_delete_tells_the_coach_and_erases_nothing(student, as_coach):
    cast.whole_story(student)
    cast.holder_of(student).post("/me/kept/delete/", {"key": str(uuid.uuid4()), "text": "All of it, please."})
    assert student.lessons.count() == 2
    page = as_coach.get(f"/students/{student.code}/").content.decode()
    assert "Request to delete" in page and "All of it, please." in page


def test_only_the_two_forms_of_the_record_exist(student):
    assert cast.holder_of(student).get("/me/kept/my-golf-record.html").status_code == 404


def test_a_birthday_on_the_page_gives_nothing_away(junior, parent):
    """The year of birth may be the answer to the extra question of a link."""
    page = cast.holder_of(junior, guardian=parent).get("/me/").content.decode()
    assert str(junior.born_on.year) not in page


def test_an_ended_drill_cannot_be_practised(student):
    ended = cast.drill(student=student, ends_on=date(2020, 1, 1))
    assert cast.holder_of(student).get(f"/me/drills/{ended.code}/").status_code == 404
    assert Client().get(f"/me/drills/{ended.code}/").status_code == 404


def test_a_word_about_pain_is_never_lost_to_a_key_that_was_used_for_something_else(student, coach):
    phone, other = cast.holder_of(student), factories.make_student(coach=coach, name="Somebody Else")
    mine, theirs = uuid.uuid4(), uuid.uuid4()
    ask(phone, key=str(mine))
    StudentMessage.objects.create(student=other, key=theirs, text="x", sent_at=timezone.now())
    for key in (mine, theirs, theirs):
        assert phone.post("/me/pain/", {"key": str(key), "pain": "6", "area": "hip"}).status_code == 302
    assert student.health_flags.count() == 2
    assert student.messages.filter(kind=StudentMessage.Kind.PAIN).count() == 2
    assert not other.health_flags.exists()
