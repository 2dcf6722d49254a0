"""One's own account: devices, limits of a stay, the password."""

from datetime import timedelta

import pytest
import time_machine
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from academy.models import Session
from academy.passwords import GuessableValidator
from academy.stay import device_words

PHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 Version/18.1 Mobile Safari/604.1"
LAPTOP = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
NEW = "seven grey herons fly"


def signed_in(coach, agent: str = LAPTOP) -> Client:
    client = Client(headers={"user-agent": agent})
    client.post(reverse("academy:sign_in"), {"username": coach.username, "password": "a-long-test-password"})
    return client


def is_in(client: Client) -> bool:
    return client.get(reverse("academy:students")).status_code == 200


def test_each_device_stands_on_the_page_and_the_present_one_is_named(coach):
    signed_in(coach, PHONE)
    page = signed_in(coach).get(reverse("academy:account")).content.decode()
    assert "Safari on iPhone" in page and "Firefox on Linux, <strong>this one</strong>" in page


def test_no_session_key_stands_on_the_page(coach):
    page = signed_in(coach).get(reverse("academy:account")).content.decode()
    assert not [key for key in Session.objects.values_list("session_key", flat=True) if key in page]


def test_one_device_is_signed_out_from_another_at_once(coach):
    phone, laptop = signed_in(coach, PHONE), signed_in(coach)
    other = Session.objects.get(device="Safari on iPhone")
    laptop.post(reverse("academy:device_end"), {"device": other.code})
    assert not is_in(phone) and is_in(laptop)


def test_nobody_signs_out_the_device_of_somebody_else(coach, other_coach):
    theirs, mine = signed_in(other_coach), signed_in(coach)
    mine.post(reverse("academy:device_end"), {"device": Session.objects.get(coach=other_coach).code})
    mine.post(reverse("academy:device_end"), {"all": "others"})
    assert is_in(theirs)


def test_a_stay_ends_after_hours_without_use(coach, settings):
    settings.IDLE_HOURS = 12
    with time_machine.travel(timezone.now(), tick=False) as clock:
        client = signed_in(coach)
        clock.shift(timedelta(hours=11))
        assert is_in(client)
        clock.shift(timedelta(hours=11))
        assert is_in(client), "each use begins the hours anew"
        clock.shift(timedelta(hours=13))
        assert not is_in(client)
        assert "You were signed out" in client.get(reverse("academy:sign_in")).content.decode()


def test_a_stay_ends_after_days_in_any_case(coach, settings):
    settings.IDLE_HOURS, settings.SIGNED_IN_DAYS = 12, 2
    with time_machine.travel(timezone.now(), tick=False) as clock:
        client = signed_in(coach)
        for _ in range(4):
            clock.shift(timedelta(hours=11))
            assert is_in(client)
        clock.shift(timedelta(hours=11))
        assert not is_in(client)


def test_a_clock_that_goes_back_signs_nobody_out_and_lets_nobody_stay_for_ever(coach):
    with time_machine.travel(timezone.now(), tick=False) as clock:
        client = signed_in(coach)
        clock.shift(timedelta(days=-3))
        assert is_in(client)
        clock.shift(timedelta(days=11))
        assert not is_in(client)


def test_the_limits_cost_no_query(coach, django_assert_num_queries, settings):
    client = signed_in(coach)
    with django_assert_num_queries(4):  # session, academy, person, students
        assert is_in(client)


def test_a_changed_password_signs_the_other_devices_out(coach):
    phone, laptop = signed_in(coach, PHONE), signed_in(coach)
    values = {"old_password": "a-long-test-password", "new_password1": NEW, "new_password2": NEW}
    assert laptop.post(reverse("academy:password"), values).status_code == 302
    assert is_in(laptop) and not is_in(phone)
    coach.refresh_from_db()
    assert coach.check_password(NEW)
    assert Session.objects.filter(coach=coach).count() == 1


@pytest.mark.parametrize(("change", "sentence"), [
    ({"old_password": "wrong"}, "old password was entered incorrectly"),
    ({"new_password2": "another one here"}, "didn’t match"),
    ({"new_password1": "Password1234!", "new_password2": "Password1234!"}, "list of known ones"),
])
def test_a_password_that_will_not_do_is_refused_with_a_sentence(coach, change, sentence):
    values = {"old_password": "a-long-test-password", "new_password1": NEW, "new_password2": NEW} | change
    answer = signed_in(coach).post(reverse("academy:password"), values)
    assert answer.status_code == 422 and sentence in answer.content.decode().replace("&#x27;", "’")


@pytest.mark.parametrize("password", [
    "qwertyuiop12", "1q2w3e4r5t6y", "P@ssw0rd2024!", "aaaaaaaaaaaaaa", "Saltmarsh Golf School", "liverpool2023!!",
])
def test_known_and_quickly_guessed_passwords_are_refused_offline(academy, password):
    with pytest.raises(ValidationError, match="list of known ones"):
        GuessableValidator().validate(password)


@pytest.mark.parametrize("password", [NEW, "b9!kTq0zLw2x", "x" * 20 + "kraken under the pier"])
def test_a_sentence_and_a_random_word_are_taken(academy, password):
    GuessableValidator().validate(password)


def test_a_browser_that_says_nothing_of_itself_is_called_unknown():
    assert device_words("") == "a browser on unknown device"
