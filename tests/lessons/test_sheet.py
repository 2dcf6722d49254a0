"""The lesson sheet: what it holds, who gets it, and that what left the house is kept."""

import smtplib
import uuid
from datetime import timedelta

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone

from academy import consents, share
from academy.models import HealthFlag, ShareLink
from lessons.models import Finding, FollowUp
from lessons.queries.note import note_page
from lessons.queries.sheet import sheet_text
from lessons.services.practice_days import choose_days
from tests import factories
from tests.lessons.private import cast
from tests.lessons.private.practice_plan import plan_for


@pytest.fixture
def lesson(student):
    student.email = "edda@example.org"
    student.save()
    lesson, _ = cast.whole_story(student)
    cast.change(lesson=lesson)
    Finding.objects.create(
        lesson=lesson, pattern="over_draw", title="Path too far in-to-out", state="supported", decision="confirmed")
    lesson.private_note = "afraid of the pond"
    lesson.save()
    HealthFlag.objects.create(student=student, area="hip", severity=2, text="stabs", reported_at=timezone.now())
    return lesson


@pytest.fixture
def junior(coach):
    born = timezone.localdate() - timedelta(days=12 * 366)
    return factories.make_student(coach=coach, name="Ilya Reed", born_on=born, email="ilya@example.org")


@pytest.fixture
def parent(junior):
    return cast.guardian_of(junior, "Tess Reed")


@pytest.fixture
def childs(junior, parent):
    lesson, _ = cast.whole_story(junior)
    consents.give_consent(
        by=None, student=junior, item="messaging", given_on=timezone.localdate(), guardian=parent)
    return lesson


def send(client, lesson, **values):
    whole = {"key": str(uuid.uuid4()), **values}
    return client.post(reverse("lessons:sheet_send", args=[lesson.code]), whole)


def copy(client, lesson, **values):
    return client.post(reverse("lessons:sheet_copied", args=[lesson.code]), {"key": str(uuid.uuid4()), **values})


def page_of(client, lesson) -> str:
    return client.get(reverse("lessons:note", args=[lesson.code])).content.decode()


def test_the_sheet_holds_reason_cue_change_drill_dose_and_next_test_and_nothing_of_the_coach_or_health(lesson):
    text = sheet_text(note_page(lesson))
    for words in ("“toes on the railway line”", "Feet from 7° closed to 3° closed", "Your swing goes out to the right",
                  "DRILL\nTwo-stick station", "10 to 20 balls", "2. lay a stick", "10 setups within 2°",
                  "It begins with: ten drives, no aids"):
        assert words in text, words
    for words in ("pond", "stabs", "hip", "over_draw", "in-to-out"):
        assert words not in text, words


def test_the_one_thing_of_an_earlier_visit_goes_on_until_there_is_another(student):
    first = cast.visit(student=student, days_ago=20)
    later = cast.visit(student=student, days_ago=3)
    cast.change(lesson=first)
    assert "toes on the railway line" in sheet_text(note_page(later))
    cast.change(lesson=later, cue="belt at the flag")
    assert "railway" not in sheet_text(note_page(later)) and "railway" in sheet_text(note_page(first))


def test_the_reason_is_said_for_the_hand(lesson, student):
    student.hand = "left"
    student.save()
    assert "Your swing goes out to the left" in sheet_text(note_page(lesson))


def test_sending_is_an_act_and_reading_the_page_sends_nothing(as_coach, lesson):
    page_of(as_coach, lesson)
    assert mail.outbox == [] and not FollowUp.objects.exists()


def test_the_mail_goes_to_the_student_in_text_and_html_and_is_kept_as_it_was(as_coach, lesson):
    assert send(as_coach, lesson).status_code == 302
    sent, kept = mail.outbox[0], FollowUp.objects.get()
    assert (sent.to, sent.cc) == (["edda@example.org"], [])
    assert sent.body == kept.text and "toes on the railway line" in sent.body
    html, kind = sent.alternatives[0]
    assert kind == "text/html" and "Saltmarsh Golf School" in html and "toes on the railway line" in html
    assert "<script" not in html and "http" not in html
    assert kept.sent_to == [{"name": "Edda Marlow", "address": "edda@example.org", "copy": False}]
    assert "railway" not in sent.subject
    assert "Mailed to Edda Marlow" in page_of(as_coach, lesson)


def test_a_double_click_sends_one_mail(as_coach, lesson):
    key = str(uuid.uuid4())
    send(as_coach, lesson, key=key)
    send(as_coach, lesson, key=key)
    assert len(mail.outbox) == 1 and FollowUp.objects.count() == 1


def test_a_link_in_the_mail_works_and_is_not_kept(as_coach, lesson):
    send(as_coach, lesson, with_link="on")
    token = mail.outbox[0].body.split("/p/")[1].split("/")[0]
    assert share.find_link(token=token).student == lesson.student
    assert token in mail.outbox[0].alternatives[0][0]
    assert token not in FollowUp.objects.get().text and "It is not kept" in FollowUp.objects.get().text


def test_a_juniors_sheet_goes_to_every_guardian_and_never_to_the_child_alone(as_coach, childs, junior):
    second = cast.guardian_of(junior, "Bo Reed")
    second.email = "bo@example.org"
    second.save()
    send(as_coach, childs)
    assert (sorted(mail.outbox[0].to), mail.outbox[0].cc) == (["bo@example.org", "tess@example.org"], [])


def test_a_childs_copy_has_the_guardian_in_it_and_carries_no_link(as_coach, childs):
    refused = send(as_coach, childs, copy_to_child="on", with_link="on")
    assert refused.status_code == 422 and "choose one of the two" in refused.content.decode()
    assert mail.outbox == [] and not ShareLink.objects.exists()
    send(as_coach, childs, copy_to_child="on")
    assert (mail.outbox[0].to, mail.outbox[0].cc) == (["tess@example.org"], ["ilya@example.org"])
    assert "/p/" not in mail.outbox[0].body


def test_each_guardian_gets_a_link_of_their_own(as_coach, childs, junior, parent):
    send(as_coach, childs, with_link="on")
    assert ShareLink.objects.get().guardian == parent and mail.outbox[0].to == ["tess@example.org"]


def test_without_the_consent_to_messages_nothing_leaves_but_paper(as_coach, childs, junior):
    consents.withdraw_consent(by=None, student=junior, item="messaging", day=timezone.localdate())
    page = page_of(as_coach, childs)
    assert "Messages: withdrawn on" in page and "Send it now" not in page and "Copy the text" not in page
    assert "data-print" in page
    for act in (send, copy):
        answer = act(as_coach, childs)
        assert answer.status_code == 422 and "Messages: withdrawn on" in answer.content.decode()
    assert mail.outbox == [] and not FollowUp.objects.exists()


def test_without_an_address_the_page_says_whose_is_missing(as_coach, lesson, student, childs, junior, parent):
    student.email = parent.email = ""
    student.save(), parent.save()
    assert "No e-mail address of Edda is noted." in page_of(as_coach, lesson)
    assert "no guardian with an e-mail address is noted" in page_of(as_coach, childs)
    assert send(as_coach, childs).status_code == 422 and mail.outbox == []


def test_when_the_server_refuses_nothing_is_stored_and_the_coach_is_told(as_coach, lesson, monkeypatch):
    def refuse(*args):
        raise smtplib.SMTPServerDisconnected("Connection unexpectedly closed")

    monkeypatch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", refuse)
    answer = send(as_coach, lesson, with_link="on")
    assert answer.status_code == 422 and "nothing was sent or stored" in answer.content.decode()
    assert not FollowUp.objects.exists() and not ShareLink.objects.exists()


def test_the_practice_plan_stands_on_the_newest_sheet_in_print_and_in_text(as_coach, lesson):
    assert "Practice, 60 minutes a week" not in page_of(as_coach, lesson)
    plan_for(lesson.student)
    choose_days(student=lesson.student, weekdays=[timezone.localdate().weekday()], at=None)
    day = f"{timezone.localdate():%A} {timezone.localdate().day} {timezone.localdate():%B}"
    page = page_of(as_coach, lesson)
    assert "Practice, 60 minutes a week" in page and day in page
    text = sheet_text(note_page(lesson))
    assert f"{day} {timezone.localdate():%Y}, 15 min: Main drill: " in text
    older = lesson.student.lessons.order_by("starts_at").first()
    assert "PRACTICE" not in sheet_text(note_page(older)), "an older sheet does not speak of today"


def test_what_pain_lets_rest_is_not_on_the_sheet(lesson):
    plan_for(lesson.student)
    HealthFlag.objects.create(student=lesson.student, area="hip", severity=7, reported_at=timezone.now())
    text = sheet_text(note_page(lesson))
    assert "Putting" in text and "Random clubs" not in text


def test_copying_the_text_is_kept_once(as_coach, lesson):
    key = str(uuid.uuid4())
    copy(as_coach, lesson, key=key)
    copy(as_coach, lesson, key=key)
    kept = FollowUp.objects.get()
    assert kept.channel == "copy" and "toes on the railway line" in kept.text
    send(as_coach, lesson, key=key)
    assert len(mail.outbox) == 1


def test_another_coach_sends_nothing(client, other_coach, lesson):
    client.force_login(other_coach)
    assert send(client, lesson).status_code == 404 and copy(client, lesson).status_code == 404
    assert mail.outbox == []
