"""Tries at the sign-in are counted by name and by address, in the database, and a closed door opens again."""

from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests import factories

CLOSED = 429


@pytest.fixture(autouse=True)
def throttled(settings, coach):
    settings.AXES_ENABLED = True


def try_in(name: str = "coach", password: str = "wrong", address: str = "192.0.2.1") -> int:
    """Try once from a browser of its own and return the status."""
    values = {"username": name, "password": password}
    return Client(REMOTE_ADDR=address).post(reverse("academy:sign_in"), values).status_code


def test_eight_wrong_tries_close_a_name_from_wherever_they_come():
    answers = [try_in(address=f"192.0.2.{number}") for number in range(1, 9)]
    assert answers == [200] * 7 + [CLOSED]
    assert try_in(address="192.0.2.99", password="a-long-test-password") == CLOSED


def test_another_name_is_not_closed_with_it(other_coach):
    for _ in range(9):
        try_in(address="192.0.2.1")
    assert try_in(name="other", password="a-long-test-password", address="198.51.100.7") == 302


def test_one_address_that_tries_many_names_is_closed_for_all_of_them(other_coach):
    answers = [try_in(name=f"name-{number}") for number in range(24)]
    assert answers[:23] == [200] * 23 and answers[23] == CLOSED
    assert try_in(name="other", password="a-long-test-password") == CLOSED
    assert try_in(name="other", password="a-long-test-password", address="198.51.100.7") == 302


def test_a_shared_address_may_fail_more_often_than_one_name(other_coach):
    for number in range(10):
        try_in(name=f"name-{number}")
    assert try_in(name="other", password="a-long-test-password") == 302


def test_the_door_opens_again_after_a_quarter_of_an_hour_though_somebody_kept_knocking():
    for _ in range(8):
        try_in()
    AccessAttempt.objects.update(attempt_time=timezone.now() - timedelta(minutes=14))
    assert try_in() == CLOSED
    AccessAttempt.objects.update(attempt_time=AccessAttempt.objects.get().attempt_time - timedelta(minutes=2))
    assert try_in(password="a-long-test-password") == 302


def test_no_password_that_was_tried_is_kept():
    factories.make_coach("third")
    try_in(name="third", password="nearly my password")
    assert "nearly my password" not in str(list(AccessAttempt.objects.values()))
