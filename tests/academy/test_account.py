"""The first run, signing in and out, the one-time local link."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from academy import share
from academy.models import Academy, Coach
from tests import factories

FIRST_RUN = {
    "academy_name": "Saltmarsh", "timezone": "Europe/Dublin", "units": "metres", "full_name": "Runa Holm",
    "username": "runa", "password": "seven grey herons fly",
}


def test_until_an_academy_exists_every_page_leads_to_the_first_run(client, db):
    assert client.get("/")["Location"] == reverse("academy:first_run")


def test_the_first_run_makes_the_academy_and_signs_its_owner_in(client, db):
    response = client.post(reverse("academy:first_run"), FIRST_RUN)
    assert response.status_code == 302
    assert Academy.objects.get().name == "Saltmarsh"
    owner = Coach.objects.get()
    assert owner.is_owner and owner.is_coach
    assert client.session["_auth_user_id"] == str(owner.pk)


@pytest.mark.parametrize(("field", "value", "sentence"), [
    ("timezone", "Mars/Base", "not a known time zone"),
    ("password", "short", "too short"),
    ("password", "123456789012345", "entirely numeric"),
])
def test_the_first_run_says_what_it_expected(client, db, field, value, sentence):
    response = client.post(reverse("academy:first_run"), FIRST_RUN | {field: value})
    assert response.status_code == 422
    assert sentence in response.content.decode()
    assert not Academy.objects.exists()


def test_the_first_run_is_gone_once_an_academy_exists(client, academy):
    assert client.post(reverse("academy:first_run"), FIRST_RUN).status_code == 404
    assert not Coach.objects.exists()


def test_a_one_time_link_signs_in_once(client, coach):
    token = share.issue_entry(coach=coach)
    assert client.get(reverse("academy:entry", args=[token])).status_code == 302
    assert client.session["_auth_user_id"] == str(coach.pk)
    assert client.get(reverse("academy:entry", args=[token])).status_code == 404


def test_a_one_time_link_is_too_old_after_a_quarter_of_an_hour(coach):
    token = share.issue_entry(coach=coach)
    assert share.use_entry(token=token, now=timezone.now() + timedelta(minutes=15)) is None


def test_the_one_time_link_is_not_what_is_stored(coach):
    token = share.issue_entry(coach=coach)
    assert token not in str(list(coach.entrylink_set.values()))


def test_signing_out_asks_the_browser_to_forget_the_pages(as_coach):
    response = as_coach.post(reverse("academy:sign_out"))
    assert response["Clear-Site-Data"] == '"cache"', "unsent balls in the browser's storage must survive"


def test_signing_in_does_not_lead_to_another_site(client, coach):
    response = client.post(
        reverse("academy:sign_in") + "?next=https://elsewhere.example/",
        {"username": "coach", "password": "a-long-test-password", "next": "https://elsewhere.example/"},
    )
    assert response["Location"] == "/"


def test_pages_are_not_cached_nor_indexed(as_coach):
    response = as_coach.get(reverse("academy:students"))
    assert response["Cache-Control"] == "no-store"
    assert "noindex" in response["X-Robots-Tag"]
    assert "script-src 'self';" in response["Content-Security-Policy"]


def test_a_student_of_another_coach_is_a_missing_page(as_coach, other_coach):
    theirs = factories.make_student(coach=other_coach, name="Somebody Else")
    assert as_coach.get(reverse("academy:student_record", args=[theirs.code])).status_code == 404


@pytest.mark.parametrize("address", ["/sign-in/", "/no-such-page/", "/", "/static/css/app.css", "/p/no-such-link/"])
def test_every_answer_carries_the_policy(client, academy, address):
    response = client.get(address)
    response.close()  # a static file is open until then
    assert "script-src 'self';" in response["Content-Security-Policy"]


def test_the_step_to_https_carries_the_policy(client, academy, settings):
    settings.SECURE_SSL_REDIRECT = True
    response = client.get("/sign-in/")
    assert response.status_code == 301
    assert "script-src 'self';" in response["Content-Security-Policy"]
