"""Ticking a practice, and what pain leads to."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import PracticeEntry, StudentMessage
from lessons.queries.practice_dose import is_steep, todays_dose, too_many_hours
from tests import factories

from . import cast


@pytest.fixture
def drill(student):
    return cast.drill(student=student)


@pytest.fixture
def phone(student):
    return cast.holder_of(student)


def tick(phone, *, json=False, **values):
    whole = {"key": str(uuid.uuid4()), "minutes": "15", "balls": "12", "hits": "7", **values}
    return phone.post("/me/practice/", whole, headers={"accept": "application/json"} if json else {})


def test_a_tick_without_javascript_is_stored_and_shown_on_the_page(phone, drill, student):
    response = tick(phone, drill=str(drill.code), pain="0", note="windy")
    assert (response.status_code, response["Location"]) == (302, "/me/")
    entry = PracticeEntry.objects.get()
    assert (entry.student, entry.assignment, entry.minutes, entry.balls, entry.hits) == (student, drill, 15, 12, 7)
    assert (entry.pain, entry.note, entry.source) == (0, "windy", "student")
    assert "15 minutes, 12 balls, 7 passed: windy" in phone.get("/me/").content.decode()


def test_a_bare_tick_is_enough(phone, drill):
    assert tick(phone, minutes="", balls="", hits="").status_code == 302
    assert PracticeEntry.objects.count() == 1


def test_the_same_practice_sent_twice_is_stored_once(phone, drill):
    key = str(uuid.uuid4())
    first, second = tick(phone, key=key, json=True).json(), tick(phone, key=key, minutes="99", json=True).json()
    assert (first["new"], second["new"]) == (True, False)
    assert PracticeEntry.objects.get().minutes == 15


def test_pain_sent_twice_tells_the_coach_once(phone, drill):
    key = str(uuid.uuid4())
    for pain in ("6", "6"):
        tick(phone, key=key, pain=pain)
    assert (HealthFlag.objects.count(), StudentMessage.objects.count()) == (1, 1)


def test_a_practice_that_waited_on_the_phone_keeps_its_own_time(phone, drill):
    moment = timezone.now() - timedelta(days=2)
    tick(phone, practised_at=moment.isoformat().replace("+00:00", "Z"), json=True)
    assert abs(PracticeEntry.objects.get().practised_at - moment) < timedelta(milliseconds=1)


@pytest.mark.parametrize(("values", "said"), [
    ({"hits": "13"}, "13 passed of 12 balls; expected 12 at most."),
    ({"pain": "11"}, "Pain was 11; expected 0 to 10."),
    ({"practised_at": "2999-01-01T00:00:00Z"}, "lies in the future"),
    ({"practised_at": "2001-01-01T00:00:00Z"}, "older than 35 days"),
    ({"is_new": "on"}, "Say how strong it is, from 0 to 10."),
    ({"key": "not-a-key"}, "valid UUID"),
    ({"drill": "00000000-0000-4000-8000-000000000000"}, "This drill is not one of yours."),
])
def test_what_cannot_be_is_refused_with_a_sentence_and_nothing_is_stored(phone, drill, values, said):
    for json in (False, True):
        response = tick(phone, json=json, **values)
        assert response.status_code == 422
        assert said in response.content.decode()
    assert not PracticeEntry.objects.exists()


def test_another_students_drill_or_key_is_refused(phone, coach):
    other = factories.make_student(coach=coach, name="Somebody Else")
    theirs = cast.drill(student=other)
    assert tick(phone, drill=str(theirs.code), json=True).status_code == 422
    key = uuid.uuid4()
    PracticeEntry.objects.create(student=other, key=key, practised_at=timezone.now())
    assert tick(phone, key=str(key), json=True).status_code == 422


@pytest.mark.parametrize(("pain", "extra", "stops"), [
    ("0", {}, False), ("3", {}, False), ("4", {}, True), ("10", {}, True),
    ("1", {"is_new": "on"}, True), ("0", {"red_flag": "on"}, True),
])
def test_pain_of_four_or_new_pain_stops_the_long_game_and_tells_the_coach(phone, drill, pain, extra, stops):
    answer = tick(phone, json=True, pain=pain, area="low_back", **extra).json()
    assert answer["stop"] is stops
    assert HealthFlag.objects.exists() is stops
    assert list(StudentMessage.objects.values_list("kind", flat=True)) == (["pain"] if stops else [])
    page = phone.get("/me/").content.decode()
    assert ("Stop the full swings" in page) is stops
    assert ("Practise now" in page) is not stops
    assert ('id="practice"' in phone.get(f"/me/drills/{drill.code}/").content.decode()) is not stops


def test_an_emergency_sign_shows_the_emergency_text_first_with_the_local_number(phone, drill, academy):
    academy.emergency_number, academy.defibrillator_place = "999", "Clubhouse door"
    academy.save()
    cards = tick(phone, json=True, pain="8", red_flag="on").json()["cards"]
    assert [card["title"] for card in cards] == ["Call 999 now", "Stop the full swings"]
    assert "Clubhouse door" in cards[0]["text"]
    page = phone.get("/me/").content.decode()
    assert page.index("Call 999 now") < page.index("Stop the full swings") < page.index("one thing</h1>")


def test_what_was_said_about_pain_stands_in_the_health_entry_and_nowhere_else(phone, student):
    phone.post("/me/pain/", {"key": str(uuid.uuid4()), "pain": "5", "area": "hip", "text": "stabs on the way down"})
    assert HealthFlag.objects.get().text == "stabs on the way down"
    assert "stabs" not in StudentMessage.objects.get().text
    assert "stabs" not in phone.get("/me/").content.decode()


def test_the_advice_counts_as_seen_once_the_page_has_shown_it(phone):
    phone.post("/me/pain/", {"key": str(uuid.uuid4()), "pain": "5", "area": "hip"})
    assert not HealthFlag.objects.get().advice_seen
    phone.get("/me/")
    assert HealthFlag.objects.get().advice_seen


def test_somebody_without_a_link_ticks_nothing(client, student, drill):
    for address in ("/me/practice/", "/me/pain/", "/me/message/", "/me/kept/delete/"):
        assert client.post(address, {"key": str(uuid.uuid4()), "pain": "5", "text": "x"}).status_code == 404
    assert not PracticeEntry.objects.exists() and not HealthFlag.objects.exists()


@pytest.mark.parametrize(
    ("week", "minutes", "balls"), [(20, 10, 13), (30, 10, 13), (60, 15, 20), (120, 30, 40), (8, 8, 10)])
def test_todays_share_fits_the_minutes_they_said_at_eighty_balls_an_hour_at_most(week, minutes, balls):
    dose = todays_dose(week_minutes=week, done_minutes=0, done_times=0)
    assert (dose.minutes, dose.most_balls) == (minutes, balls)


def test_nobody_is_told_a_dose_who_has_not_said_what_time_there_is():
    assert todays_dose(week_minutes=None, done_minutes=5, done_times=1).minutes is None


@pytest.mark.parametrize(("this_week", "earlier", "steep"), [
    (130, [100, 100, 100, 100], False), (131, [100, 100, 100, 100], True), (500, [100, 0, 0, 0], False),
])
def test_a_week_is_steep_above_thirteen_tenths_of_the_weeks_before(this_week, earlier, steep):
    assert is_steep(week_balls=this_week, earlier_weeks=earlier) is steep


@pytest.mark.parametrize(("age", "hours", "too_many"), [(11, 11, False), (11, 11.1, True), (None, 40, False)])
def test_a_juniors_weekly_hours_are_too_many_above_the_age_in_years(age, hours, too_many):
    assert too_many_hours(age=age, week_minutes=round(hours * 60)) is too_many
