"""The hour, the weeks of practice and the year, by their numbers."""

from datetime import date, timedelta

import pytest

from metrics.plans.difficulty import next_step
from metrics.plans.lesson import plan_lesson
from metrics.plans.minutes import growth_limit, most_balls, split_minutes
from metrics.plans.practice import FADE, practice_plan
from metrics.plans.season import plan_season
from metrics.plans.types import Event, ShortGameNeed
from tests.library.shipped import shipped_library

from .scripted import TODAY, player, seen

DRILLS = shipped_library().drills


def test_an_hour_is_eight_fifteen_twenty_ten_and_seven_minutes():
    plan = plan_lesson(player(results=seen("partly")), day=TODAY, minutes=60)
    minutes = {item.key: item.minutes for item in plan.items}
    assert minutes["greet"] == 8 and minutes["transfer"] == 10 and minutes["agree"] == 7
    assert minutes["first_ten"] + minutes["look"] + minutes["reason"] == 15
    assert minutes["change"] + minutes["with_aids"] + minutes["without"] == 20
    assert plan.nudge_at == 43


def test_every_part_of_the_hour_stands_in_the_order_of_the_running_order():
    plan = plan_lesson(player(results=seen("partly")), day=TODAY, minutes=45)
    assert [item.key for item in plan.items] == [
        "greet", "first_ten", "look", "reason", "change", "with_aids", "without", "transfer", "agree"]
    assert sum(item.minutes for item in plan.items) == 45


def test_half_an_hour_takes_six_balls_and_says_that_they_cannot_tell():
    plan = plan_lesson(player(results=seen("partly")), day=TODAY, minutes=30)
    texts = " ".join(item.text for item in plan.items)
    assert "Six balls" in texts and "can’t tell yet" in texts and "Ten balls" not in texts


def test_the_cue_of_the_student_and_the_change_stand_in_the_plan():
    texts = " ".join(item.text for item in plan_lesson(player(results=seen("kept")), day=TODAY, minutes=60).items)
    assert "rails beside it" in texts and "Feet square" in texts


@pytest.mark.parametrize("minutes", [19, 121])
def test_a_lesson_that_cannot_be_is_refused(minutes):
    with pytest.raises(ValueError, match="expected 20 to 120"):
        plan_lesson(player(), day=TODAY, minutes=minutes)


def test_a_child_without_consent_to_filming_is_looked_at_by_eye():
    plan = plan_lesson(player(age=11, consents_missing=("filming",), results=seen("kept")), day=TODAY, minutes=60)
    assert "filming is not allowed" in next(item.text for item in plan.items if item.key == "look")
    assert any("filming" in alert for alert in plan.alerts)


def parts(minutes: int) -> dict[str, int]:
    found: dict[str, int] = {}
    for session in practice_plan(player(minutes_week=minutes), day=TODAY, library=DRILLS).weeks[0].sessions:
        for task in session.tasks:
            found[task.part] = found.get(task.part, 0) + task.minutes
    return found


@pytest.mark.parametrize(("minutes", "expected"), [
    (30, {"Setup": 10, "Main drill": 10, "Random clubs and targets": 10}),
    (60, {"Main drill": 15, "Random clubs and targets": 15, "Wedges and chips": 15, "Putting": 15}),
    (120, {"Main drill": 24, "Random clubs and targets": 36, "Wedges and chips": 30, "Putting": 30}),
])
def test_minutes_are_shared_out_as_usual(minutes, expected):
    assert parts(minutes) == expected


@pytest.mark.parametrize("minutes", [7, 31, 44, 75, 90, 200])
def test_minutes_between_are_used_up_and_not_passed(minutes):
    assert sum(parts(minutes).values()) == minutes


def test_aids_fade_and_mixing_rises_week_by_week():
    weeks = practice_plan(player(), day=TODAY, library=DRILLS).weeks
    assert tuple(week.aids for week in weeks) == FADE
    assert [week.mixed_pct for week in weeks] == [20, 40, 60, 80]


def test_nothing_practised_makes_the_plan_three_times_ten_minutes():
    plan = practice_plan(player(minutes_week=120, results=seen("partly", practised="no")), day=TODAY, library=DRILLS)
    assert plan.minutes_week == 30
    assert [session.minutes for session in plan.weeks[0].sessions] == [10, 10, 10]
    assert any("Smaller than said" in reason for reason in plan.reasons)


def test_a_need_that_a_test_pointed_at_chooses_the_short_game_drill():
    need = ShortGameNeed(part="sand", pattern="bunker", why="4 of 10 out of the sand")
    plan = practice_plan(player(minutes_week=120, needs=(need,)), day=TODAY, library=DRILLS)
    short = {task.drill for s in plan.weeks[0].sessions for task in s.tasks if task.part == "Wedges and chips"}
    assert short == {"sand-line"}
    assert need.why in plan.reasons


def test_without_place_and_kit_the_plan_names_no_drill_and_is_not_empty():
    plan = practice_plan(player(places=(), kit=()), day=TODAY, library=DRILLS)
    tasks = [task for session in plan.weeks[0].sessions for task in session.tasks]
    assert tasks and not any(task.drill or task.most_balls for task in tasks)


@pytest.mark.parametrize(("shares", "step"), [
    ([0.9, 0.9], "harder"), ([0.7, 0.9], "same"), ([0.85, 0.85], "same"), ([0.4, 0.3], "easier"), ([0.6, 0.4], "same"),
    ([0.5, 0.5], "same"), ([0.9], "same"), ([], "same"), ([0.1, 0.9, 0.95], "harder"),
])
def test_two_results_running_move_a_task(shares, step):
    assert next_step(shares=shares) == step


def test_a_share_that_cannot_be_is_refused():
    with pytest.raises(ValueError, match="between 0 and 1"):
        next_step(shares=[1.2])


def test_a_task_that_works_too_often_says_how_it_gets_harder():
    usual = practice_plan(player(), day=TODAY, library=DRILLS)
    drill = next(task.drill for s in usual.weeks[0].sessions for task in s.tasks if task.part == "Main drill")
    plan = practice_plan(player(success={drill: (0.95, 0.9)}), day=TODAY, library=DRILLS)
    how = next(task.how for s in plan.weeks[0].sessions for task in s.tasks if task.drill == drill)
    assert how == f"It works too often: {DRILLS[drill].harder}"


@pytest.mark.parametrize(("weeks", "limit"), [
    ([100, 100], 130), ([200, 0, 100], 195), ([100], None), ([], None), ([10, 20, 30, 40, 1000], 40),
    ([40, 60, 50, 50, 1000], 65),
])
def test_a_week_grows_by_a_third_of_the_last_four(weeks, limit):
    assert growth_limit(balls_weeks=weeks) == limit


def test_an_hour_holds_eighty_balls():
    assert (most_balls(minutes=60), most_balls(minutes=10), most_balls(minutes=-1)) == (80, 13, 0)


def test_negative_minutes_are_refused():
    with pytest.raises(ValueError, match="negative"):
        split_minutes(total=-1, weights=[1])


def test_a_year_has_its_phases_around_the_months_of_play():
    season = plan_season(start=date(2026, 10, 5))
    assert [phase for phase, _, _ in season.phases] == ["review", "change", "contact", "maintain"]
    change = next(found for found in season.phases if found[0] == "change")
    assert 8 <= ((change[2] - change[1]).days + 1) / 7 <= 12


def test_the_season_of_the_south_runs_over_new_year():
    season = plan_season(start=date(2026, 10, 5), first_month=10, last_month=3)
    assert season.weeks[0].phase == "maintain"


def test_a_battery_comes_every_ten_weeks_and_waits_for_an_event_to_pass():
    start = date(2026, 10, 5)
    batteries = [n for n, week in enumerate(plan_season(start=start).weeks) if "Test battery" in week.does]
    assert batteries == [0, 10, 20, 30, 40, 50]
    event = Event(name="Cup", day=start + timedelta(weeks=11))
    moved = plan_season(start=start, events=[event])
    assert "Test battery" not in moved.weeks[10].does and moved.weeks[10].no_change == "Cup"
    assert "Test battery" in moved.weeks[12].does


def test_a_month_that_is_not_is_refused():
    with pytest.raises(ValueError, match="expected 1 to 12"):
        plan_season(start=TODAY, first_month=13)
