"""Every branch of a series, each by a scripted record, and which one takes precedence."""

from datetime import date, timedelta

import pytest

from metrics.plans.branch import branch_of
from metrics.plans.series import apply_bend, bend_series, plan_series
from metrics.plans.types import Event

from .scripted import TODAY, player, seen

SOON = (Event(name="Club championship", day=TODAY + timedelta(days=20)),)


@pytest.mark.parametrize(("record", "key"), [
    ({"results": seen("kept", in_window=True)}, "go_on"),
    ({"results": seen("kept", in_window=False)}, "keep_at_it"),
    ({"results": seen("partly")}, "less_help"),
    ({"results": seen("lost")}, "once_more"),
    ({"results": seen("lost", "lost")}, "reopen"),
    ({"results": seen("kept", "lost")}, "once_more"),
    ({"results": seen("worse", pain=5), "max_pain": 5}, "refer"),
    ({"results": seen("worse", pain=0)}, "once_more"),
    ({"results": seen("partly", practised="no")}, "smaller"),
    ({"results": seen("lost", "lost", practised="no")}, "smaller"),
    ({"results": seen("kept", in_window=True, practised="no")}, "go_on"),
    ({"results": seen("partly", mood="bored")}, "play"),
    ({"results": seen("kept", in_window=True, mood="frightened")}, "play"),
    ({"results": seen("kept", in_window=True), "events": SOON}, "maintain"),
    ({"results": seen("unknown")}, "measure"),
    ({"results": ()}, "measure"),
    ({"change": None, "results": ()}, "begin"),
])
def test_each_record_leads_to_its_branch_with_a_reason(record, key):
    found = branch_of(player(**record), day=TODAY)
    assert found.key == key
    assert found.reason and found.do


def test_pain_comes_before_everything_and_keeps_full_swings_out():
    found = branch_of(player(results=seen("kept", in_window=True, mood="bored"), max_pain=4, events=SOON), day=TODAY)
    assert (found.key, found.full_swings, found.may_change) == ("health", False, False)


def test_an_emergency_sign_refers_without_asking_the_numbers():
    assert branch_of(player(red_flag=True), day=TODAY).key == "refer"


def test_a_junior_without_consent_to_lessons_is_not_planned_for():
    young = player(age=11, consents_missing=("lessons",), results=seen("kept", in_window=True))
    assert branch_of(young, day=TODAY).key == "consent"
    assert branch_of(player(age=41, consents_missing=("lessons",)), day=TODAY).key != "consent", "an adult decides"


@pytest.mark.parametrize(("days", "near"), [(28, True), (29, False), (0, True), (-1, False)])
def test_the_weeks_without_change_are_four_and_end_with_the_event(days, near):
    events = (Event(name="Away trip", day=TODAY + timedelta(days=days)),)
    found = branch_of(player(results=seen("partly"), events=events), day=TODAY)
    assert (found.key == "maintain") is near


def keys(series) -> list[str]:
    return [step.key for step in series.steps]


def begun(record, done=1, visits=6):
    first = plan_series(player(), start=TODAY, visits=visits)
    steps = tuple(s if s.number > done else type(s)(**{**vars(s), "done": True}) for s in first.steps)
    series = type(first)(steps=steps)
    return series, bend_series(series, player=player(**record), day=TODAY)


def test_six_visits_follow_the_usual_order_with_a_reason_each():
    series = plan_series(player(), start=TODAY)
    assert keys(series) == ["baseline", "retention", "mix", "short_game", "course", "battery"]
    assert all(step.reason for step in series.steps)
    assert [(step.day - TODAY).days for step in series.steps] == [0, 14, 28, 42, 56, 70]


def test_little_practice_puts_three_weeks_between_visits():
    series = plan_series(player(minutes_week=30), start=TODAY)
    assert (series.steps[1].day - TODAY).days == 21


@pytest.mark.parametrize(("record", "expected"), [
    ({"results": seen("kept", in_window=True)}, ["mix", "short_game", "course", "battery"]),
    ({"results": seen("partly")}, ["repeat", "mix", "short_game", "battery"]),
    ({"results": seen("lost", "lost")}, ["reopen", "mix", "short_game", "battery"]),
    ({"results": seen("worse", pain=6), "max_pain": 6}, ["calm", "short_game", "calm", "calm"]),
    ({"results": seen("partly", practised="no")}, ["repeat", "mix", "short_game", "battery"]),
    ({"results": seen("kept", mood="bored")}, ["game", "short_game", "course", "battery"]),
    ({"results": seen("kept", in_window=True), "events": SOON}, ["maintain", "short_game", "course", "battery"]),
])
def test_results_bend_the_visits_to_come_and_never_add_one(record, expected):
    series, bend = begun(record, done=2)
    assert [step.key for step in bend.after] == expected
    assert len(apply_bend(series, bend=bend).steps) == 6
    assert bend.sentence


def test_what_held_leaves_the_series_as_it_is():
    _, bend = begun({"results": seen("kept", in_window=True)}, done=2)
    assert not bend.changes and "stays as it is" in bend.sentence


def test_a_bend_is_a_proposal_the_series_itself_does_not_move():
    series, bend = begun({"results": seen("partly")}, done=2)
    assert keys(series) == ["baseline", "retention", "mix", "short_game", "course", "battery"]
    assert keys(apply_bend(series, bend=bend))[:2] == ["baseline", "retention"], "what is done stays"


def test_a_series_that_waited_for_health_is_taken_up_again():
    hurt = plan_series(player(max_pain=5), start=TODAY)
    assert keys(hurt) == ["calm", "calm", "calm", "short_game", "calm", "calm"]
    bend = bend_series(hurt, player=player(results=seen("kept", in_window=True)), day=TODAY)
    assert [step.key for step in bend.after][-1] == "battery" and "calm" not in {s.key for s in bend.after}


def test_visits_before_an_event_maintain_and_the_others_go_on():
    series = plan_series(player(events=(Event(name="Medal", day=TODAY + timedelta(days=30)),)), start=TODAY)
    assert keys(series) == ["baseline", "maintain", "maintain", "short_game", "course", "battery"]
    assert "Medal is 16 days later" in series.steps[1].reason


def test_a_finished_series_has_nothing_to_bend():
    series, bend = begun({"results": seen("partly")}, done=6)
    assert bend is None and series.next_number is None


@pytest.mark.parametrize("visits", range(2, 13))
def test_a_series_of_any_length_begins_with_a_baseline_and_ends_with_the_battery(visits):
    series = plan_series(player(), start=TODAY, visits=visits)
    assert len(series.steps) == visits
    assert (series.steps[0].key, series.steps[-1].key) == ("baseline", "battery")


def test_one_visit_is_no_series():
    with pytest.raises(ValueError, match="expected 2 to 12"):
        plan_series(player(), start=date(2026, 1, 1), visits=1)
