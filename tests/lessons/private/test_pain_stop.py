"""What pain closes, what stays open, and how it ends, for the student and in the coach's plan alike."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import HealthFlag, PainReading
from lessons.models import PracticeEntry, StudentMessage
from lessons.queries.pain_rule import known_drill, pain_rule
from tests import factories

from . import cast


@pytest.fixture
def sore(student):
    cast.drill(student=student)
    return HealthFlag.objects.create(
        student=student, area="low_back", severity=5, reported_at=timezone.now() - timedelta(days=4))


def putting(student):
    return cast.drill(student=student, drill="putting-gate", card={"name": "Putting gate", "steps": ["Two tees."]})


def rule_for(student):
    return pain_rule(student=student, day=timezone.localdate())


def test_putting_stays_open_while_full_swings_are_off_and_comes_first(student, sore):
    gate = putting(student)
    phone = cast.holder_of(student)
    page = phone.get("/me/").content.decode()
    assert "<strong>Putting gate</strong>" in page and "this has no swing in it" in page
    assert "Rests until the pain is over." in page
    assert 'id="practice"' in phone.get(f"/me/drills/{gate.code}/").content.decode()


def test_a_drill_that_loads_the_sore_place_is_closed_even_without_a_swing(student):
    HealthFlag.objects.create(student=student, area="neck", severity=2, reported_at=timezone.now())
    mirror = cast.drill(student=student, drill="mirror-setup")
    assert 'id="practice"' not in cast.holder_of(student).get(f"/me/drills/{mirror.code}/").content.decode()


def test_after_an_emergency_sign_nothing_is_open(student):
    HealthFlag.objects.create(
        student=student, area="low_back", severity=5, red_flag=True, reported_at=timezone.now())
    gate = putting(student)
    phone = cast.holder_of(student)
    page = phone.get("/me/").content.decode()
    assert "Nothing today. First do what stands above." in page and "Practise now" not in page
    assert "How is it today?" not in page
    assert 'id="practice"' not in phone.get(f"/me/drills/{gate.code}/").content.decode()


def test_a_drill_the_library_does_not_know_counts_as_a_full_swing(student, sore):
    rule = rule_for(student)
    assert known_drill("of-my-own-making") is None
    assert not rule.allows(None)
    assert rule.allows(known_drill("putting-gate")) and not rule.allows(known_drill("two-stick-station"))


@pytest.mark.parametrize(("age", "open_"), [(12, False), (15, True), (30, True)])
def test_speed_work_rests_while_a_child_grows(coach, age, open_):
    born = timezone.localdate() - timedelta(days=round(age * 365.25) + 20)
    junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=born)
    assert rule_for(junior).allows(known_drill("step-speed-swings")) is open_


def test_two_calm_days_said_on_the_page_open_full_swings_and_the_coach_is_told_once(student, sore):
    PainReading.objects.create(student=student, severity=1, said_on=timezone.localdate() - timedelta(days=1))
    phone = cast.holder_of(student)
    assert "How is it today?" in phone.get("/me/").content.decode()
    page = phone.post("/me/pain/today/", {"pain": "2"}, follow=True).content.decode()
    assert "Full swings are open again" in page and "Practise now" in page
    phone.post("/me/pain/today/", {"pain": "2"})
    assert StudentMessage.objects.filter(kind="pain").count() == 1


def test_one_calm_day_says_what_is_still_missing(student, sore):
    page = cast.holder_of(student).post("/me/pain/today/", {"pain": "1"}, follow=True).content.decode()
    assert "one calm day. Say it again tomorrow" in page and "Stop the full swings" in page


@pytest.mark.parametrize("pain", ["", "11", "much"])
def test_a_day_needs_a_number_from_0_to_10(student, sore, pain):
    assert cast.holder_of(student).post("/me/pain/today/", {"pain": pain}).status_code == 422
    assert not PainReading.objects.exists()


def test_the_pain_told_after_putting_practice_counts_for_its_day(student, sore):
    gate = putting(student)
    phone = cast.holder_of(student)
    for days in (2, 1):
        moment = timezone.now() - timedelta(days=days)
        phone.post("/me/practice/", {
            "key": str(uuid.uuid4()), "drill": str(gate.code), "practised_at": moment.isoformat(), "pain": "1"})
    assert PracticeEntry.objects.count() == 2
    assert not rule_for(student).long_game_off
