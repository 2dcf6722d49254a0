"""The life of a private link, from issuing to its end."""

import logging
from datetime import timedelta

import pytest
from django.conf import settings
from django.core.exceptions import ValidationError
from django.test import Client
from django.utils import timezone

from academy import share
from academy.access import LINK_SESSION_KEY
from academy.models import Guardian, Guardianship, ShareLink
from academy.redact import HideLinkTokens
from tests import factories


@pytest.fixture
def issued(student, coach) -> tuple[ShareLink, str]:
    return share.issue_link(student=student, by=coach)


@pytest.fixture
def junior(coach):
    return factories.make_student(
        coach=coach, name="Ilya Reed", born_on=timezone.localdate() - timedelta(days=11 * 366))


@pytest.fixture
def guardian(junior):
    person = Guardian.objects.create(name="Tess Reed")
    Guardianship.objects.create(student=junior, guardian=person)
    return person


def open_page(token: str, client: Client | None = None, **answers) -> Client:
    client = client or Client()
    client.post(f"/p/{token}/", {"open": "1", **answers})
    return client


def guess_wrong(token: str, *, times: int) -> None:
    for answer in ["stork"] * times:
        open_page(token, answer=answer)


def sees_page(client: Client) -> bool:
    return client.get("/me/").status_code == 200


def test_looking_at_a_link_changes_nothing_however_often_a_mail_scanner_does_it(issued):
    link, token = issued
    scanner = Client()
    for look in ("first", "second", "third"):
        assert scanner.get(f"/p/{token}/").status_code == 200, look
    assert not sees_page(scanner)
    before = (link.first_seen_at, link.last_seen_at)
    link.refresh_from_db()
    assert (link.first_seen_at, link.last_seen_at) == before == (None, None)
    assert sees_page(open_page(token))


def test_the_button_leads_to_an_address_without_the_token(issued):
    _, token = issued
    response = Client().post(f"/p/{token}/", {"open": "1"})
    assert (response.status_code, response["Location"]) == (302, "/me/")


def test_the_page_with_the_button_tells_its_address_to_nobody(issued):
    _, token = issued
    response = Client().get(f"/p/{token}/")
    assert response["Referrer-Policy"] == "strict-origin"
    assert token not in response.content.decode()
    assert response["Cache-Control"] == "no-store"


@pytest.mark.parametrize("end", ["revoked", "expired", "left", "unknown", "one letter wrong"])
def test_every_link_that_does_not_work_gets_the_same_answer(issued, end):
    link, token = issued
    expected = Client().get("/p/no-such-token-at-all/")
    if end == "revoked":
        share.revoke_link(link=link)
    elif end == "expired":
        ShareLink.objects.filter(pk=link.pk).update(expires_at=timezone.now() - timedelta(seconds=1))
    elif end == "left":
        link.student.status = "left"
        link.student.save()
    else:
        token = token[:-1] + ("A" if token[-1] != "A" else "B") if end == "one letter wrong" else "x" * 40
    for response in (Client().get(f"/p/{token}/"), Client().post(f"/p/{token}/", {"open": "1"})):
        assert response.status_code == 404
        assert response.content == expected.content


def test_two_devices_read_with_one_link_and_its_end_ends_both_at_once(issued):
    link, token = issued
    phone, tablet = open_page(token), open_page(token)
    assert sees_page(phone) and sees_page(tablet)
    share.revoke_link(link=link)
    assert not sees_page(phone) and not sees_page(tablet)


def test_a_link_issued_again_leaves_the_other_one_alone(issued, student, coach):
    old, old_token = issued
    _, new_token = share.issue_link(student=student, by=coach)
    share.revoke_link(link=old)
    assert not sees_page(open_page(old_token))
    assert sees_page(open_page(new_token))


def test_the_stay_ends_with_the_link_or_after_half_a_year(student, coach):
    short, token = share.issue_link(student=student, by=coach, days=3)
    assert open_page(token).session.get_expiry_age() <= 3 * 86400
    _, token = share.issue_link(student=student, by=coach, days=400)
    assert open_page(token).session.get_expiry_age() == 180 * 86400


def test_a_coach_who_tries_a_link_stays_signed_in(issued, as_coach):
    _, token = issued
    age = as_coach.session.get_expiry_age()
    open_page(token, as_coach)
    assert sees_page(as_coach)
    assert as_coach.get("/students/").status_code == 200
    assert as_coach.session.get_expiry_age() == age


def test_a_coach_who_signs_in_on_a_students_device_does_not_stay_for_months(issued, coach):
    phone = open_page(issued[1])
    assert phone.session.get_expiry_age() > 100 * 86400
    phone.post("/sign-in/", {"username": coach.username, "password": "a-long-test-password"})
    assert phone.session.get_expiry_age() == settings.SESSION_COOKIE_AGE < 15 * 86400
    assert sees_page(phone)


def test_the_session_gets_a_new_name_when_a_link_is_opened(issued):
    """Otherwise somebody could plant a session on a phone and read along later."""
    client = Client()
    session = client.session
    session["planted"] = True
    session.save()
    planted = session.session_key
    open_page(issued[1], client)
    assert client.session.session_key != planted


def test_closing_on_this_device_keeps_the_link_itself(issued):
    _, token = issued
    phone = open_page(token)
    phone.post("/me/close/")
    assert not sees_page(phone)
    assert sees_page(open_page(token, phone))


def test_a_forwarded_link_needs_the_second_answer_where_one_was_asked(student, coach):
    _, token = share.issue_link(student=student, by=coach, second_factor="1984")
    wrong = Client().post(f"/p/{token}/", {"open": "1", "answer": "1985"})
    assert wrong.status_code == 422
    assert b"not the answer we have" in wrong.content
    assert not sees_page(open_page(token))
    assert sees_page(open_page(token, answer=" 19 84"))


def test_ten_wrong_answers_close_the_question_for_an_hour_and_for_everybody(student, coach, time_machine):
    start = timezone.now().replace(microsecond=0)
    time_machine.move_to(start, tick=False)
    _, token = share.issue_link(student=student, by=coach, second_factor="heron")
    guess_wrong(token, times=10)
    assert not sees_page(open_page(token, answer="heron"))
    time_machine.move_to(start + timedelta(minutes=59), tick=False)
    assert b"Too many wrong answers" in Client().post(f"/p/{token}/", {"answer": "heron"}).content
    time_machine.move_to(start + timedelta(minutes=60), tick=False)
    assert sees_page(open_page(token, answer="heron"))


def test_nine_wrong_answers_do_not_close_it(student, coach):
    _, token = share.issue_link(student=student, by=coach, second_factor="heron")
    guess_wrong(token, times=9)
    assert sees_page(open_page(token, answer="heron"))


def test_a_juniors_link_goes_to_a_guardian_only(junior, guardian, coach, student):
    with pytest.raises(ValidationError, match="under 18: the link goes to a guardian"):
        share.issue_link(student=junior, by=coach)
    with pytest.raises(ValidationError, match="not noted as a guardian"):
        share.issue_link(student=junior, by=coach, guardian=Guardian.objects.create(name="Nobody’s"))
    assert sees_page(open_page(share.issue_link(student=junior, by=coach, guardian=guardian)[1]))


def test_coming_of_age_ends_the_guardians_link_on_the_birthday(coach, time_machine):
    time_machine.move_to("2026-03-01T10:00:00Z")
    junior = factories.make_student(coach=coach, name="Noa Reed", born_on=timezone.datetime(2008, 5, 20).date())
    person = Guardian.objects.create(name="Tess Reed")
    Guardianship.objects.create(student=junior, guardian=person)
    _, token = share.issue_link(student=junior, by=coach, guardian=person)
    phone = open_page(token)
    time_machine.move_to("2026-05-19T10:00:00Z")
    assert sees_page(phone)
    time_machine.move_to("2026-05-20T10:00:00Z")
    assert not sees_page(phone)
    assert Client().get(f"/p/{token}/").status_code == 404
    with pytest.raises(ValidationError, match="of age"):
        share.issue_link(student=junior, by=coach, guardian=person)


def test_a_birthday_noted_later_ends_a_juniors_own_link(issued):
    link, token = issued
    phone = open_page(token)
    link.student.born_on = timezone.localdate() - timedelta(days=12 * 366)
    link.student.save()
    assert not sees_page(phone)


def test_the_coach_sees_a_new_link_once_with_its_qr_code(as_coach, student):
    response = as_coach.post(f"/students/{student.code}/links/", {"days": "30"})
    page = response.content.decode()
    link = student.links.get()
    assert f"/p/{link.prefix}" in page
    assert "<svg" in page and "style=" not in page
    assert link.prefix not in as_coach.get(f"/students/{student.code}/").content.decode()


def test_the_coach_ends_a_link_on_the_students_page(as_coach, student, issued):
    link, token = issued
    phone = open_page(token)
    as_coach.post(f"/students/{student.code}/links/{link.code}/end/")
    assert not sees_page(phone)


def test_nobody_else_issues_or_ends_a_students_link(client, student, issued, other_coach, owner):
    link, _ = issued
    for person in (other_coach, owner):
        client.force_login(person)
        assert client.post(f"/students/{student.code}/links/", {}).status_code == 404
        assert client.post(f"/students/{student.code}/links/{link.code}/end/").status_code == 404


@pytest.mark.parametrize("line", ["Not Found: /p/abcDEF_-123/", 'Forbidden: "/entry/abcDEF_-123/" twice'])
def test_the_log_never_holds_a_token(line):
    record = logging.LogRecord("django.request", logging.WARNING, "", 0, "%s", (line,), None)
    assert HideLinkTokens().filter(record)
    assert "abcDEF" not in record.getMessage()
    assert "…" in record.getMessage()


def test_the_running_settings_use_that_filter(settings):
    assert "hide_link_tokens" in settings.LOGGING["handlers"]["console"]["filters"]


def test_the_session_names_the_link_and_not_the_token(issued):
    link, token = issued
    stored = dict(open_page(token).session)
    assert stored[LINK_SESSION_KEY] == link.pk
    assert token not in str(stored)
