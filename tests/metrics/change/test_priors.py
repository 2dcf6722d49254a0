"""Assumed values: each with its mark, in stored units, ordered as levels are."""

import pint
import pytest

from metrics.change.priors import (
    SETTINGS,
    balls_to_judge,
    k_prior,
    sd_prior,
    smallest_worthwhile,
)
from metrics.levels import LEVELS

QUANTITIES = ("club_path_deg", "face_angle_deg", "face_to_path_deg", "attack_angle_deg", "club_speed_mps",
              "strike_heel_toe_mm")


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_the_better_the_level_the_smaller_the_usual_spread(quantity):
    spreads = [sd_prior(quantity=quantity, level=level).value for level in LEVELS]
    assert spreads == sorted(spreads)
    assert all(sd_prior(quantity=quantity, level=level).mark == "memory" for level in LEVELS)


def test_the_usual_spread_of_club_speed_is_the_one_tabled_in_miles_per_hour():
    registry = pint.UnitRegistry()
    expected = (1.4 * registry.mile / registry.hour).to("m/s").magnitude
    assert sd_prior(quantity="club_speed_mps", level="index_6_12").value == pytest.approx(expected)


def test_carry_varies_in_proportion_and_without_a_typical_carry_nothing_is_assumed():
    assert sd_prior(quantity="carry_m", level="index_6_12", category="driver", typical=200).value == pytest.approx(13)
    prior = sd_prior(quantity="carry_m", level="index_6_12", category="mid_iron", typical=140)
    assert prior.value == pytest.approx(9.8)
    assert sd_prior(quantity="carry_m", level="index_6_12") is None
    assert sd_prior(quantity="spin_axis_deg", level="scratch") is None


def test_days_differ_more_in_speed_and_distance_than_in_directions():
    assert k_prior(quantity="carry_m") == k_prior(quantity="club_speed_mps") == 0.7
    assert k_prior(quantity="club_path_deg") == k_prior(quantity="attack_angle_deg") == 0.4


def test_the_smallest_change_is_a_share_for_speed_and_distance():
    assert smallest_worthwhile(quantity="club_path_deg").value == 1.0
    assert smallest_worthwhile(quantity="carry_m", baseline=200).value == pytest.approx(6)
    assert smallest_worthwhile(quantity="launch_direction_deg", category="putter").value == 0.3
    with pytest.raises(ValueError, match="give the baseline"):
        smallest_worthwhile(quantity="carry_m")
    with pytest.raises(ValueError, match="no smallest worthwhile change is kept for apex_m"):
        smallest_worthwhile(quantity="apex_m")


def test_the_driver_needs_fewer_balls_than_an_iron_and_the_putter_more():
    assert [balls_to_judge(category=c) for c in ("driver", "mid_iron", "putter")] == [8, 10, 20]


def test_every_setting_says_what_it_is_and_how_well_it_is_supported():
    for key, setting in SETTINGS.items():
        assert setting.key == key and setting.label and setting.mark
