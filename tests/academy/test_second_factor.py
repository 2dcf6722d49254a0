"""The second step of signing in: the codes of RFC 6238, used once, counted when wrong."""

import re
from datetime import UTC, datetime, timedelta

import pyotp
import pytest
import time_machine
from django.core.exceptions import ValidationError
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse

from academy import second_factor
from academy.models import RecoveryCode, SecondFactor
from academy.sealed import SealBroken, seal, unseal

NOW = datetime(2026, 5, 4, 9, 0, 10, tzinfo=UTC)
PASSWORD = {"username": "coach", "password": "a-long-test-password"}


@pytest.fixture
def clock():
    with time_machine.travel(NOW, tick=False) as clock:
        yield clock


@pytest.fixture
def factor(coach, clock):
    """A coach whose second step is on: (secret, codes on paper)."""
    secret, _ = second_factor.start(coach=coach)
    codes = second_factor.confirm(coach=coach, code=pyotp.TOTP(secret).at(NOW), now=NOW)
    clock.shift(60)
    return secret, codes


def code_at(secret: str, moment: datetime) -> str:
    return pyotp.TOTP(secret).at(moment)


def now() -> datetime:
    return datetime.now(tz=UTC)


def test_the_codes_are_those_of_the_standard():
    """RFC 6238, appendix B, SHA-1: the last six figures of its eight."""
    secret = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"
    found = [pyotp.TOTP(secret).at(moment) for moment in (59, 1111111109, 1234567890, 20000000000)]
    assert found == ["287082", "081804", "005924", "353130"]


def test_the_right_password_alone_opens_nothing(client, coach, factor):
    answer = client.post(reverse("academy:sign_in"), PASSWORD)
    assert answer["Location"] == reverse("academy:sign_in_code")
    assert "_auth_user_id" not in client.session
    assert client.get(reverse("academy:students")).status_code == 302


def test_password_and_code_sign_in_and_lead_where_one_wanted_to_go(client, coach, factor):
    wanted = reverse("academy:students")
    client.post(f"{reverse('academy:sign_in')}?next={wanted}", PASSWORD | {"next": wanted})
    answer = client.post(reverse("academy:sign_in_code"), {"code": code_at(factor[0], now())})
    assert answer["Location"] == wanted
    assert client.get(wanted).status_code == 200


def test_the_code_page_is_no_way_in_without_the_password(client, coach, factor):
    answer = client.post(reverse("academy:sign_in_code"), {"code": code_at(factor[0], now())})
    assert answer["Location"] == reverse("academy:sign_in")


def test_the_password_is_forgotten_after_ten_minutes(client, coach, factor, clock):
    client.post(reverse("academy:sign_in"), PASSWORD)
    clock.shift(601)
    answer = client.post(reverse("academy:sign_in_code"), {"code": code_at(factor[0], now())})
    assert answer["Location"] == reverse("academy:sign_in")


def test_a_code_is_good_once(coach, factor):
    code = code_at(factor[0], now())
    assert second_factor.check(coach=coach, code=code, now=now())
    assert not second_factor.check(coach=coach, code=code, now=now())


def test_a_code_older_than_the_one_used_last_is_refused(coach, factor):
    assert second_factor.check(coach=coach, code=code_at(factor[0], now()), now=now())
    assert not second_factor.check(coach=coach, code=code_at(factor[0], now() - timedelta(seconds=30)), now=now())


@pytest.mark.parametrize(("seconds", "fits"), [(-60, False), (-30, True), (0, True), (30, True), (60, False)])
def test_a_phone_half_a_minute_off_is_believed_and_no_more(coach, factor, seconds, fits):
    code = code_at(factor[0], now() + timedelta(seconds=seconds))
    assert second_factor.check(coach=coach, code=code, now=now()) is fits


def test_eight_wrong_codes_close_the_step_for_a_right_one_too(coach, factor, clock):
    for _ in range(8):
        assert not second_factor.check(coach=coach, code="000000", now=now())
    with pytest.raises(ValidationError, match="Too many wrong codes"):
        second_factor.check(coach=coach, code=code_at(factor[0], now()), now=now())
    clock.shift(15 * 60)
    assert second_factor.check(coach=coach, code=code_at(factor[0], now()), now=now())


def test_a_code_on_paper_is_good_once_and_the_others_stay(coach, factor):
    first = factor[1][0]
    assert second_factor.check(coach=coach, code=first.upper(), now=now())
    assert not second_factor.check(coach=coach, code=first, now=now())
    assert second_factor.codes_left(coach=coach) == 9


def test_neither_secret_nor_codes_stand_in_the_database(coach, factor):
    kept = str([*SecondFactor.objects.values(), *RecoveryCode.objects.values()])
    assert factor[0] not in kept and not [code for code in factor[1] if code in kept]


def test_what_was_sealed_opens_on_this_installation_only(settings):
    sealed = seal("word", purpose="x")
    assert unseal(sealed, purpose="x") == "word"
    with pytest.raises(SealBroken):
        unseal(sealed, purpose="y")
    settings.SECRET_KEY = "another key of another installation, long enough"
    with pytest.raises(SealBroken):
        unseal(sealed, purpose="x")


def test_it_is_turned_on_with_the_password_and_a_code_and_off_the_same_way(as_coach, coach, clock):
    page = reverse("academy:second_factor")
    assert "Your password first" in as_coach.get(page).content.decode()
    assert as_coach.post(page, {"password": "wrong"}).status_code == 422
    as_coach.post(page, {"password": "a-long-test-password"})
    secret = re.search(r"<code>([A-Z2-7]{32})</code>", as_coach.get(page).content.decode())[1]
    assert as_coach.post(page, {"code": "000000"}).status_code == 422
    assert "The second step is on" in as_coach.post(page, {"code": code_at(secret, now())}).content.decode()
    assert second_factor.is_on(coach)
    clock.shift(60)
    off = reverse("academy:second_factor_off")
    assert as_coach.post(off, {"password": "a-long-test-password", "code": "000000"}).status_code == 422
    as_coach.post(off, {"password": "a-long-test-password", "code": code_at(secret, now())})
    assert not second_factor.is_on(coach)


def test_a_secret_that_was_never_confirmed_asks_for_nothing(client, coach, clock):
    second_factor.start(coach=coach)
    assert client.post(reverse("academy:sign_in"), PASSWORD)["Location"] == "/"


def test_a_lost_phone_is_helped_on_the_machine_itself(coach, factor):
    call_command("second_factor_off", "coach")
    assert not second_factor.is_on(coach)
    with pytest.raises(CommandError, match="has no second factor"):
        call_command("second_factor_off", "coach")


def test_signing_in_with_a_code_begins_a_new_session(coach, factor):
    client = Client()
    client.post(reverse("academy:sign_in"), PASSWORD)
    before = client.session.session_key
    client.post(reverse("academy:sign_in_code"), {"code": code_at(factor[0], now())})
    assert client.session.session_key != before


@pytest.fixture
def asked_of_all(academy):
    academy.house_rules = {"second_step_for_all": True}
    academy.save()


@pytest.mark.parametrize("name", ["academy:students", "academy:account", "lessons:today", "lessons:diary"])
def test_where_the_house_asks_it_of_all_nobody_gets_on_without_it(as_coach, asked_of_all, name):
    assert as_coach.get(reverse(name))["Location"] == reverse("academy:second_factor")
    assert as_coach.post(reverse("lessons:sources"), {"name": "Bay 3"})["Location"] == reverse("academy:second_factor")


def test_where_the_house_asks_it_of_all_it_can_be_turned_on_and_one_can_leave(as_coach, asked_of_all):
    page = as_coach.get(reverse("academy:students"), follow=True).content.decode()
    assert "The house asks for a second step of everybody" in page
    assert as_coach.post(reverse("academy:sign_out")).status_code in {200, 302}


def test_who_has_it_and_who_comes_by_a_private_link_are_not_held_up(client, coach, student, factor, asked_of_all):
    from academy import share

    token = share.issue_link(student=student, by=coach)[1]
    assert Client().post(f"/p/{token}/", follow=True).status_code == 200
    client.force_login(coach)
    assert client.get(reverse("academy:students")).status_code == 200


def test_after_a_change_of_the_key_no_code_fits_until_it_was_turned_off_by_hand(client, coach, factor, settings):
    settings.SECRET_KEY = "another key of fifty characters or more, made up here"
    client.post(reverse("academy:sign_in"), PASSWORD)
    answer = client.post(reverse("academy:sign_in_code"), {"code": code_at(factor[0], now())})
    assert answer.status_code == 422 and "_auth_user_id" not in client.session
    call_command("second_factor_off", "coach")
    secret, _ = second_factor.start(coach=coach)
    assert second_factor.confirm(coach=coach, code=code_at(secret, now()), now=now())
