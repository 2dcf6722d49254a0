"""The calendar file of a practice plan, read back by vobject: the same sitting keeps its uid, a change is counted."""

from datetime import date, datetime, timedelta

import pytest
import vobject
from django.utils import timezone

from academy.models import HealthFlag
from lessons.services.plans import end_plan

from . import cast
from .practice_plan import plan_for
from .test_practice_plan import choose

TOMORROW, LATER = 1, 4


@pytest.fixture
def holder(student):
    plan_for(student)
    return cast.holder_of(student)


def weekday(days_ahead: int) -> int:
    return (timezone.localdate() + timedelta(days=days_ahead)).weekday()


def entries(client) -> dict[str, vobject.base.Component]:
    response = client.get("/me/plan/practice.ics")
    assert response["Content-Type"] == "text/calendar; charset=utf-8"
    found = list(vobject.readOne(response.content.decode()).vevent_list)
    assert len({one.uid.value for one in found}) == len(found)
    return {one.uid.value: one for one in found}


def test_every_sitting_of_four_weeks_is_an_entry_with_its_day_and_its_minutes(holder):
    choose(holder, weekday(TOMORROW), weekday(LATER), at="18:30")
    found = sorted(entries(holder).values(), key=lambda one: one.dtstart.value)
    local = [timezone.localtime(one.dtstart.value) for one in found]
    assert len(found) == 16 and {f"{moment:%H:%M}" for moment in local} == {"18:30", "18:45"}, "one after the other"
    assert {(one.dtend.value - one.dtstart.value) for one in found} == {timedelta(minutes=15)}
    assert found[0].summary.value.startswith("Golf practice, 15 min: ")
    assert {one.status.value for one in found} == {"CONFIRMED"}


def test_without_an_hour_an_entry_takes_the_day(holder):
    choose(holder, weekday(TOMORROW))
    starts = [one.dtstart.value for one in entries(holder).values()]
    assert all(isinstance(day, date) and not isinstance(day, datetime) for day in starts)


def test_the_same_file_twice_says_the_same(holder):
    choose(holder, weekday(TOMORROW))
    assert holder.get("/me/plan/practice.ics").content == holder.get("/me/plan/practice.ics").content


def test_other_days_move_the_entries_and_raise_what_changed(holder):
    choose(holder, weekday(TOMORROW))
    before = entries(holder)
    choose(holder, weekday(TOMORROW), weekday(LATER))
    after = entries(holder)
    assert after.keys() == before.keys()
    moved = {uid for uid in after if after[uid].dtstart.value != before[uid].dtstart.value}
    assert 0 < len(moved) < len(after)
    assert {uid for uid, one in after.items() if one.sequence.value == "1"} == moved


def test_no_days_take_the_entries_out_and_days_bring_the_same_ones_back(holder):
    choose(holder, weekday(TOMORROW))
    before = entries(holder)
    choose(holder)
    gone = entries(holder)
    assert gone.keys() == before.keys() and {one.status.value for one in gone.values()} == {"CANCELLED"}
    choose(holder, weekday(TOMORROW))
    back = entries(holder)
    assert {(one.status.value, one.sequence.value) for one in back.values()} == {("CONFIRMED", "2")}


def test_pain_takes_out_what_rests_and_keeps_the_putting(holder, student):
    choose(holder, weekday(TOMORROW))
    entries(holder)
    HealthFlag.objects.create(student=student, area="hip", severity=6, reported_at=timezone.now())
    found = entries(holder).values()
    still = [one for one in found if one.status.value == "CONFIRMED"]
    gone = {one.summary.value.partition(": ")[2] for one in found if one.status.value == "CANCELLED"}
    assert "Random clubs and targets" in gone and {"Putting"} <= {
        one.summary.value.partition(": ")[2] for one in still} and not gone & {"Putting"}
    assert "pain" not in "".join(one.summary.value for one in found)


def test_a_plan_that_ends_takes_its_entries_out_and_the_next_one_moves_in(holder, student):
    choose(holder, weekday(TOMORROW))
    before = entries(holder)
    end_plan(by=student.coach, plan=student.plans.get(), day=timezone.localdate())
    assert {one.status.value for one in entries(holder).values()} == {"CANCELLED"}
    plan_for(student, minutes=30)
    found = entries(holder)
    confirmed = {uid for uid, one in found.items() if one.status.value == "CONFIRMED"}
    assert confirmed < before.keys() and found.keys() == before.keys()


def test_what_is_past_is_neither_told_again_nor_taken_out(holder, student, monkeypatch):
    choose(holder, weekday(TOMORROW))
    first = entries(holder)
    later = timezone.now() + timedelta(days=9)
    monkeypatch.setattr(timezone, "now", lambda: later)
    again = entries(cast.holder_of(student))
    assert again.keys() == {uid for uid, one in first.items() if one.dtstart.value >= timezone.localdate(later)}
    assert len(again) == 8
    assert {one.sequence.value for one in again.values()} == {"0"}


def test_without_days_there_is_no_file_and_the_page_says_why(holder):
    response = holder.get("/me/plan/practice.ics", follow=True)
    assert "choose your days first" in response.content.decode()
