"""Hints that luck alone could have made are listed quietly; the others are shown and say that they are hints."""

import numpy as np
import pytest
from scipy import stats

from metrics.rules.doubt import CHANCE_LEVEL
from metrics.rules.types import BallCall, EarlierFinding

from .cases import assess, column, finding, shown, state_of

USUAL = 2.4
"""Face SD in degrees that is usual at index 6 to 12, from memory."""


def scattering(ratio: float, n: int = 12) -> dict[str, np.ndarray]:
    return {"club_path_deg": column(0.2, 1.5, n), "face_angle_deg": column(0, ratio * USUAL, n)}


def edge(n: int) -> float:
    """The ratio to the usual spread at which chance is left behind, by scipy's chi-square."""
    return float(np.sqrt(stats.chi2.ppf(0.5 + CHANCE_LEVEL / 2, n - 1) / (n - 1)))


@pytest.mark.parametrize("n", [12, 16])
def test_a_spread_is_a_finding_only_where_luck_seldom_makes_it(n):
    below, above = (assess(scattering(edge(n) + step, n), level="index_6_12") for step in (-0.02, 0.02))
    assert state_of(below, "face_scatter") == state_of(above, "face_scatter") == "hint"
    assert shown(below) == [] and shown(above) == ["face_scatter"]
    assert len(below.watching) == 1 and above.watching == ()


def test_what_is_only_watched_says_what_was_seen_that_it_may_be_luck_and_what_decides():
    line = assess(scattering(1.37), level="index_6_12").watching[0]
    assert "varied 1.4 times as much as is usual" in line
    assert "Luck alone brings this" in line and "8 balls more decide" in line


def test_the_list_of_everything_says_why_it_is_not_shown():
    answer = assess(scattering(1.35), level="index_6_12")
    reason = next(c.reason for c in answer.considered if c.pattern == "face_scatter")
    assert reason.startswith("luck alone could have made this")


def test_a_spread_met_on_an_earlier_visit_is_no_luck():
    again = assess(scattering(1.35), level="index_6_12", earlier=(EarlierFinding(pattern="face_scatter"),))
    assert shown(again) == ["face_scatter"] and again.watching == ()


def test_an_average_past_its_limit_is_shown_and_says_that_it_may_be_chance():
    found = finding(assess({"club_path_deg": column(-3.3, 2.4, 10), "face_to_path_deg": column(4, 1, 10)}), "slice")
    assert found.state == "hint"
    assert "still reaches the limit of −3.0°" in found.caveat and "may be chance" in found.caveat


def test_too_few_balls_are_named_as_the_reason_for_a_mere_hint():
    found = finding(assess({"club_path_deg": column(-6, 1, 6), "face_to_path_deg": column(5, 1, 6)}), "slice")
    assert found.caveat.startswith("Only a hint: 6 balls so far, and this is judged from 8 on")


def test_what_was_called_by_eye_says_so():
    calls = (BallCall(start=1, curve=-1),) * 7 + (BallCall(start=0, curve=0),) * 3
    assert "called by eye" in finding(assess(calls=calls), "over_draw").caveat


def test_a_supported_finding_has_no_caveat():
    sure = assess({"club_path_deg": column(-7, 1, 10), "face_to_path_deg": column(5, 1, 10)})
    assert finding(sure, "slice").state == "supported" and finding(sure, "slice").caveat == ""


def test_a_thin_ball_counts_as_a_rate_and_does_not_make_a_distance_scatter():
    carry = np.r_[column(140, 7, 11), 105.0]
    shots = {"carry_m": carry, "launch_direction_deg": column(0, 1, 12)}
    called = (BallCall(contact="clean"),) * 11 + (BallCall(contact="thin"),)
    known = {"club_category": "mid_iron", "level": "index_1_5"}
    assert state_of(assess(shots, **known), "carry_scatter") == "hint"
    assert state_of(assess(shots, calls=called, **known), "carry_scatter") == "silent"


def test_a_distance_scatter_is_withheld_only_where_the_direction_surely_scatters_too():
    carry = {"carry_m": column(140, 20, 20)}
    for spread, seen in ((1.0, "supported"), (3.0, "supported"), (6.0, "silent")):
        shots = {**carry, "face_angle_deg": column(0, spread, 20)}
        answer = assess(shots, club_category="mid_iron", level="index_6_12")
        assert state_of(answer, "carry_scatter") == seen


def test_a_setup_number_near_its_limit_is_doubted_as_one_look_and_not_as_few_balls():
    near = finding(assess(calls=(BallCall(contact="clean"),) * 6, setup={"feet_deg": 6}), "aims_slice_side")
    assert near.state == "hint"
    assert near.caveat.startswith("Only a hint: one look at the setup is good to about ±3°")
    assert "limit of 4°" in near.caveat and "balls" not in near.caveat
