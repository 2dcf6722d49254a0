"""What a plan never does, whatever the record: go over the minutes, ask for what is not there, or ignore a no."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from metrics.plans.kit import KIT, PLACES, alternatives, can_do
from metrics.plans.lesson import plan_lesson
from metrics.plans.minutes import growth_limit, split_minutes
from metrics.plans.practice import practice_plan
from metrics.plans.season import plan_season
from metrics.plans.series import bend_series, plan_series
from metrics.plans.types import ChangeInWork, Event, Player, VisitResult
from tests.library.shipped import shipped_library

from .scripted import TODAY

LIBRARY = shipped_library()
DRILLS = LIBRARY.drills
changes = st.sampled_from([None, *(
    ChangeInWork(pattern=p.slug, title=p.title, change="Do it", drills=p.drills, with_aids=True)
    for p in LIBRARY.patterns.values())])
results = st.lists(st.builds(
    VisitResult, day=st.just(TODAY - timedelta(days=14)), in_window=st.booleans(), pain=st.integers(0, 10),
    outcome=st.sampled_from(["kept", "partly", "lost", "worse", "unknown"]),
    practised=st.sampled_from(["", "no", "some", "yes"]),
    mood=st.sampled_from(["", "bored", "frightened"])), max_size=3)
players = st.builds(
    Player, age=st.one_of(st.none(), st.integers(4, 80)), minutes_week=st.integers(0, 400),
    places=st.lists(st.sampled_from(list(PLACES)), unique=True).map(tuple),
    kit=st.lists(st.sampled_from(list(KIT)), unique=True).map(tuple), max_pain=st.integers(0, 10),
    new_pain=st.booleans(), red_flag=st.booleans(),
    areas=st.lists(st.sampled_from(["low_back", "elbow", "knee", "shoulder", "lead_wrist"]), unique=True).map(tuple),
    consents_missing=st.sampled_from([(), ("lessons",), ("filming",)]),
    events=st.lists(st.builds(Event, name=st.just("Medal"), day=st.integers(-5, 90).map(
        lambda n: TODAY + timedelta(days=n))), max_size=2).map(tuple),
    change=changes, results=results.map(tuple),
    balls_weeks=st.lists(st.integers(0, 400), max_size=4).map(tuple))
steps = st.sampled_from(["", "mix", "short_game", "course", "battery", "retention"])
many = settings(max_examples=250, deadline=None)


@many
@given(players, st.integers(20, 120), steps)
def test_a_lesson_is_exactly_as_long_as_promised(player, minutes, step):
    plan = plan_lesson(player, day=TODAY, minutes=minutes, step=step)
    assert sum(item.minutes for item in plan.items) == minutes
    assert all(item.minutes > 0 and item.reason for item in plan.items)


@many
@given(players, st.integers(20, 120), steps)
def test_a_lesson_holds_no_full_swing_and_nothing_new_where_that_is_forbidden(player, minutes, step):
    plan = plan_lesson(player, day=TODAY, minutes=minutes, step=step)
    if player.long_game_off or not player.may_be_taught:
        assert not any(item.full_swing or item.is_new for item in plan.items)
    if player.event_near(TODAY):
        assert not any(item.is_new for item in plan.items)
    if player.red_flag or not player.may_be_taught:
        assert [item.key for item in plan.items] == ["greet"]


@many
@given(players)
def test_practice_never_asks_for_more_minutes_than_were_promised(player):
    plan = practice_plan(player, day=TODAY, library=DRILLS)
    for week in plan.weeks:
        assert sum(session.minutes for session in week.sessions) <= player.minutes_week
        assert all(s.minutes == sum(task.minutes for task in s.tasks) for s in week.sessions)


@many
@given(players)
def test_no_drill_is_proposed_without_its_place_and_its_kit(player):
    for task in tasks(practice_plan(player, day=TODAY, library=DRILLS)):
        if task.drill:
            assert can_do(DRILLS[task.drill], places=player.places, kit=player.kit)


@many
@given(players)
def test_no_drill_loads_what_is_sore_or_swings_while_the_long_game_is_off(player):
    plan = practice_plan(player, day=TODAY, library=DRILLS)
    for task in tasks(plan):
        drill = DRILLS.get(task.drill)
        assert drill is None or not set(drill.areas) & set(player.areas)
        assert drill is None or drill.gentle or not player.long_game_off
        assert drill is None or player.age is None or player.age >= 15 or "growing" not in drill.areas
    if player.red_flag or not player.may_be_taught:
        assert plan.minutes_week == 0 and not tasks(plan)


@many
@given(players)
def test_balls_stay_within_eighty_an_hour_and_the_growth_of_the_weeks(player):
    plan = practice_plan(player, day=TODAY, library=DRILLS)
    history = list(player.balls_weeks)
    for week in plan.weeks:
        limit = growth_limit(balls_weeks=history)
        assert limit is None or week.most_balls <= limit
        assert week.most_balls == sum(task.most_balls for s in week.sessions for task in s.tasks if task.swings)
        assert sum(task.most_balls for s in week.sessions for task in s.tasks) <= player.minutes_week * 80 / 60
        history.insert(0, week.most_balls)


@many
@given(players)
def test_a_child_stays_at_one_thing_for_twenty_minutes_at_most(player):
    if player.age is not None and player.age < 11:
        assert all(task.minutes <= 20 for task in tasks(practice_plan(player, day=TODAY, library=DRILLS)))


@many
@given(players, st.integers(2, 12))
def test_a_series_keeps_its_number_of_visits_through_every_bend_and_changes_nothing_before_an_event(player, visits):
    series = plan_series(player, start=TODAY, visits=visits)
    bend = bend_series(series, player=player, day=TODAY)
    for step in (*series.steps, *bend.after):
        assert step.reason
        if player.event_near(step.day):
            assert step.key not in {"baseline", "retention", "mix", "repeat", "reopen", "next"}
        if player.long_game_off:
            assert step.key in {"calm", "wait", "short_game"}
    assert len(bend.after) == visits


@many
@given(st.lists(st.integers(-30, 400), max_size=4), st.integers(1, 12), st.integers(1, 12))
def test_no_battery_and_no_change_stands_in_the_weeks_before_an_event(days, first, last):
    events = [Event(name=f"Cup {n}", day=TODAY + timedelta(days=d)) for n, d in enumerate(days)]
    season = plan_season(start=TODAY, first_month=first, last_month=last, events=events)
    for week in season.weeks:
        near = any(week.monday <= e.day and (e.day - week.monday).days <= 28 for e in events)
        assert bool(week.no_change) >= near
        assert not (week.no_change and "Test battery" in week.does)


@given(st.integers(0, 500), st.lists(st.floats(0, 50), min_size=1, max_size=9), st.integers(0, 5))
def test_split_minutes_add_up_exactly(total, weights, least):
    parts = split_minutes(total=total, weights=weights, least=least)
    assert sum(parts) == (total if any(weights) and total >= least else 0) and min(parts) >= 0


@pytest.mark.parametrize("slug", sorted(DRILLS))
def test_every_line_of_kit_of_the_library_is_understood(slug):
    for item in DRILLS[slug].kit:
        assert alternatives(item) is None or alternatives(item), f"{item!r} is a need that nobody could have"


def tasks(plan):
    return [task for week in plan.weeks for session in week.sessions for task in session.tasks]
