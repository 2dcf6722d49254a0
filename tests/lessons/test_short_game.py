"""Short-game tests on the page: begun, typed, read, and what the rules make of them."""

import uuid
from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import SkillBall, SkillTest
from lessons.queries.skills.findings import findings_of
from lessons.queries.skills.runs import run_of
from lessons.services.library import override_threshold
from lessons.services.skills import add_ball, begin_test
from metrics.shortgame.designs import DESIGNS, FOOT_M, YARD_M, target_at


@pytest.fixture
def begin(as_coach, student):
    def begin(design: str, **values) -> SkillTest:
        as_coach.post(f"/students/{student.code}/short-game/new/", {"design": design, **values})
        return SkillTest.objects.get(design=design)
    return begin


def type_ball(client, test, number: int, **values):
    return client.post(f"/tests/{test.code}/ball/", {"key": str(uuid.uuid4()), "number": number, **values})


def run(student, design: str, *balls: dict) -> SkillTest:
    test = SkillTest.objects.create(student=student, design=design, seed=3)
    targets = [target_at(design=DESIGNS[design], seed=3, number=n + 1).metres for n in range(len(balls))]
    for number, (ball, target_m) in enumerate(zip(balls, targets, strict=True), 1):
        factor = ball.pop("of_target", None)
        if factor is not None:
            ball["value_m"] = factor * target_m
        SkillBall.objects.create(test=test, number=number, target_m=target_m, **ball)
    return test


def test_a_putt_is_one_key_and_goes_to_the_target_that_was_shown(as_coach, begin):
    test = begin("putt_make")
    shown = as_coach.get(f"/tests/{test.code}/").content.decode()
    target = target_at(design=DESIGNS["putt_make"], seed=test.seed, number=1)
    assert f"To {target.amount:g} ft" in shown
    assert type_ball(as_coach, test, 1, done="yes").status_code == 302
    ball = test.balls.get()
    assert (ball.done, ball.target_m) == (True, pytest.approx(target.amount * FOOT_M))


def test_distances_are_typed_in_the_readers_units(as_coach, begin, academy):
    test = begin("wedge_fifty")
    type_ball(as_coach, test, 1, value="47,5")
    assert test.balls.get().value_m == pytest.approx(47.5 * YARD_M)
    academy.units = "metres"
    academy.save()
    type_ball(as_coach, test, 2, value="44")
    assert test.balls.last().value_m == 44


def test_a_short_putt_is_a_minus(as_coach, begin):
    test = begin("putt_thirty")
    type_ball(as_coach, test, 1, value="−3")
    assert test.balls.get().value_m == pytest.approx(-3 * FOOT_M)
    assert "short" in as_coach.get(f"/tests/{test.code}/").content.decode()


@pytest.mark.parametrize(("design", "values", "said"), [
    ("putt_make", {}, "Say what came of this ball"),
    ("wedge_fifty", {"value": ""}, "Say what came of this ball"),
    ("wedge_fifty", {"value": "far"}, "“far” was found"),
    ("wedge_fifty", {"value": "400"}, "400 yd was found; expected 0 to 175 yd."),
    ("putt_gate", {"side": "2"}, "not one of the available choices"),
])
def test_a_ball_without_a_result_is_refused_with_what_was_expected(as_coach, begin, design, values, said):
    test = begin(design)
    response = type_ball(as_coach, test, 1, **values)
    assert response.status_code == 422 and said in response.content.decode()
    assert not test.balls.exists()


def test_a_ball_sent_twice_is_one_ball(coach, student):
    test, key = begin_test(by=coach, student=student, design="putt_five"), uuid.uuid4()
    assert [add_ball(by=coach, test=test, key=key, number=1, done=True)[1] for _ in range(2)] == [True, False]
    assert test.balls.count() == 1


def test_a_page_that_is_behind_stores_nothing_and_says_so(coach, student):
    test = begin_test(by=coach, student=student, design="putt_five")
    add_ball(by=coach, test=test, key=uuid.uuid4(), number=1, done=True)
    with pytest.raises(ValidationError, match="showed ball 1, ball 2 is next"):
        add_ball(by=coach, test=test, key=uuid.uuid4(), number=1, done=False)


def test_the_last_ball_is_taken_back_and_its_target_comes_again(as_coach, begin):
    test = begin("putt_make")
    type_ball(as_coach, test, 1, done="yes")
    as_coach.post(f"/tests/{test.code}/undo/")
    assert "Ball 1 of 28" in as_coach.get(f"/tests/{test.code}/").content.decode()
    assert test.balls.count() == 1 and test.balls.get().removed_at is not None


def test_five_feet_stand_beside_the_tour_with_the_mark_of_the_figure(as_coach, student):
    test = run(student, "putt_five", *[{"done": i < 5} for i in range(10)])
    page = as_coach.get(f"/tests/{test.code}/").content.decode()
    assert "50 % (5 of 10)" in page
    assert "tour professionals 77 % (second-hand" in page
    assert "24 % to 76 %" in page


def test_four_balls_are_counted_and_not_turned_into_a_rate(as_coach, student):
    test = run(student, "putt_five", *[{"done": True}] * 4)
    page = as_coach.get(f"/tests/{test.code}/").content.decode()
    assert "4 of 4" in page and "100 %" not in page


def pattern_of(student, design, *balls):
    found = findings_of(run_of(run(student, design, *balls)))
    return [(finding.pattern, finding.state) for finding in found.findings]


def test_wedges_fifteen_percent_off_show_the_distance_pattern(student):
    balls = [{"of_target": 1 + sign * 0.2} for sign in (1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 1)]
    assert pattern_of(student, "wedge", *balls) == [("wedge_distance", "supported")]
    assert pattern_of(student, "wedge", *[{"of_target": 1 + e} for e in (0.02, -0.02) * 8]) == []


def test_fat_chips_show_the_contact_pattern(student):
    balls = [{"value_m": 2.0, "contact": "fat" if i % 2 else "clean"} for i in range(12)]
    assert pattern_of(student, "chip_left", *balls)[0][0] == "chip_contact"


def test_six_of_ten_left_in_the_sand_show_the_sand_pattern(student):
    assert pattern_of(student, "sand", *[{"done": i < 4} for i in range(10)]) == [("bunker", "supported")]
    assert pattern_of(student, "sand", *[{"done": True} for _ in range(10)]) == []


@pytest.mark.parametrize("hand", ["right", "left"])
def test_a_gate_missed_on_one_side_shows_the_start_line_for_both_hands(student, hand):
    student.hand = hand
    student.save()
    assert pattern_of(student, "putt_gate", *[{"side": 1 if i < 9 else 0} for i in range(10)])[0][0] \
        == "putt_start_bias"


def test_a_wild_leave_shows_the_pace_pattern(student):
    balls = [{"of_target": 0.3 * (-1) ** i} for i in range(21)]
    assert pattern_of(student, "putt_pace", *balls) == [("putt_scatter_speed", "supported")]


def test_a_left_handers_gate_buttons_say_the_same_side_of_the_room(as_coach, begin, student):
    student.hand = "left"
    student.save()
    page = as_coach.get(f"/tests/{begin('putt_gate').code}/").content.decode()
    assert page.index('name="side" value="1"') < page.index('name="side" value="-1"'), "left first: slice side"


def test_open_pain_shows_the_health_text_and_no_pattern(as_coach, student):
    HealthFlag.objects.create(student=student, area="shoulder", severity=6, reported_at=timezone.now())
    test = run(student, "sand", *[{"done": False} for _ in range(10)])
    page = as_coach.get(f"/tests/{test.code}/").content.decode()
    assert "Health first" in page and "Retest" not in page


def test_an_own_threshold_of_the_student_counts_here_too(student, coach):
    balls = [{"done": i < 6} for i in range(10)]
    assert pattern_of(student, "sand", *[dict(ball) for ball in balls])
    override_threshold(by=coach, target="threshold/bunker/calls/result", watch=0.8, strong=0.9,
                       reason="wet sand here", student=student)
    assert pattern_of(student, "sand", *balls) == []


def test_the_list_compares_a_run_with_the_one_before_and_claims_no_gain(as_coach, student):
    first = run(student, "putt_make", *[{"done": i < 6} for i in range(28)])
    first.begun_at = timezone.now() - timedelta(days=60)
    first.save()
    run(student, "putt_make", *[{"done": i < 22} for i in range(28)])
    page = as_coach.get(f"/students/{student.code}/short-game/").content.decode()
    assert "better than last time" in page and "becomes a gain only when the next run says so too" in page
    assert "improve" not in page


def test_a_run_is_taken_out_and_put_back(as_coach, student):
    test = run(student, "putt_five", {"done": True})
    assert "out of view" in as_coach.post(f"/tests/{test.code}/out/").content.decode()
    as_coach.post(f"/tests/{test.code}/out/", {"back": "1"})
    test.refresh_from_db()
    assert test.removed_at is None
