"""Where the yards came from: exact sums, one cause at a time, order-free, and honest refusals."""

from itertools import permutations

import numpy as np
import pytest

from metrics.flight.air import air_at
from metrics.flight.reasons import REFUSALS, WARNINGS
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Launch
from metrics.flight.yards import MOST_BALLS, Block, where_the_yards_came_from

CALM = air_at(temperature_c=20, pressure_hpa=1013.25)
COLD = air_at(temperature_c=5, pressure_hpa=1013.25)
HOT = air_at(temperature_c=30, pressure_hpa=1013.25)


def _block(
    *, n=12, speed=41.0, smash=1.44, angle=12.0, spin=2900.0, air=CALM, noise=0.0, seed=3, offset=0.0, **change
):
    rng = np.random.default_rng(seed)
    club = rng.normal(speed, 0.8, n)
    ball = club * rng.normal(smash, 0.02, n)
    launch, spins = rng.normal(angle, 1.2, n), rng.normal(spin, 250, n)
    flown = fly(launch=Launch(ball_speed_mps=ball, launch_angle_deg=launch, spin_rpm=spins), air=air or CALM)
    return Block(**{
        "club_speed_mps": club, "ball_speed_mps": ball, "launch_angle_deg": launch, "spin_rpm": spins,
        "carry_m": flown.carry_m + rng.normal(0, 1, n) * noise + offset, "air": air, **change,
    })


def _split(first, second, category="driver", **change):
    return where_the_yards_came_from(first=first, second=second, category=category, **change)


def _parts(yards):
    return {part.key: part.change_m for part in yards.parts}


def test_the_parts_add_up_exactly_and_the_rest_is_what_is_not_explained():
    yards = _split(_block(noise=2.0, air=COLD), _block(n=15, speed=42.5, smash=1.47, angle=14, spin=2600, air=HOT,
                                                       noise=2.0, seed=4, offset=3.0))
    assert sum(_parts(yards).values()) == pytest.approx(yards.modelled_m, abs=1e-9)
    assert yards.modelled_m + yards.rest.change_m == pytest.approx(yards.measured_m, abs=1e-9)
    assert [part.key for part in yards.parts] == ["speed", "strike", "launch_spin", "air"]
    assert yards.rest.change_m == pytest.approx(3.0, abs=2.5)


def test_the_modelled_change_is_the_change_of_the_mean_modelled_carry():
    first, second = _block(), _block(speed=43.0, seed=5, air=HOT)
    yards = _split(first, second)
    assert yards.modelled_m == pytest.approx(second.carry_m.mean() - first.carry_m.mean(), abs=1e-9)
    assert yards.rest.change_m == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("change", "cause"), [
    ({"speed": 43.0}, "speed"), ({"smash": 1.49}, "strike"), ({"angle": 15.0, "spin": 2300.0}, "launch_spin"),
    ({"air": HOT}, "air"),
])
def test_one_cause_alone_gets_all_the_yards(change, cause):
    parts = _parts(_split(_block(), _block(**change)))
    total = sum(parts.values())
    assert total > 1
    assert parts.pop(cause) == pytest.approx(total, abs=0.25)
    np.testing.assert_allclose(list(parts.values()), 0, atol=0.25)


def test_no_change_gives_no_yards_to_any_cause():
    np.testing.assert_allclose(list(_parts(_split(_block(), _block())).values()), 0, atol=1e-9)


def test_turning_the_two_blocks_round_turns_every_part_round():
    first, second = _block(air=COLD), _block(speed=43.0, smash=1.47, angle=14.0, air=HOT, seed=5)
    there, back = _parts(_split(first, second)), _parts(_split(second, first))
    for cause, yards in there.items():
        assert yards == pytest.approx(-back[cause], abs=1e-9)


def test_the_parts_are_the_average_over_all_orders_of_switching():
    """Every order written out for one ball a side, repeated so that the block is large enough."""
    speeds, smashes, angles, spins, airs = (40.0, 43.0), (1.40, 1.47), (10.0, 14.0), (3300.0, 2600.0), (COLD, HOT)
    blocks = [
        Block(
            club_speed_mps=np.full(8, speeds[i]), ball_speed_mps=np.full(8, speeds[i] * smashes[i]),
            launch_angle_deg=np.full(8, angles[i]), spin_rpm=np.full(8, spins[i]), carry_m=np.full(8, 200.0),
            air=airs[i],
        )
        for i in (0, 1)
    ]

    def carry(speed, strike, launch, air):
        flown = Launch(ball_speed_mps=speeds[speed] * smashes[strike], launch_angle_deg=angles[launch],
                       spin_rpm=spins[launch])
        return fly(launch=flown, air=airs[air]).carry_m

    expected = np.zeros(4)
    for order in permutations(range(4)):
        state = [0, 0, 0, 0]
        for cause in order:
            before = carry(*state)
            state[cause] = 1
            expected[cause] += (carry(*state) - before) / 24
    np.testing.assert_allclose(list(_parts(_split(*blocks)).values()), expected, atol=1e-9)


@pytest.mark.simulation
def test_the_interval_covers_what_another_set_of_balls_would_have_given():
    """Over many pairs of blocks from the same two swings the 95 % interval of the speed part holds the truth."""
    truth = _parts(_split(_block(n=60, seed=900), _block(n=60, speed=42.0, seed=901)))["speed"]
    inside = 0
    seeds = range(40)
    for seed in seeds:
        part = _split(_block(seed=seed), _block(speed=42.0, seed=1000 + seed)).parts[0]
        inside += part.low_m <= truth <= part.high_m
    assert inside >= 33


def test_the_interval_is_the_same_for_the_same_balls():
    first, second = _block(), _block(speed=43.0, seed=5)
    assert _split(first, second) == _split(first, second)
    assert _split(first, second, seed=1).parts[0].low_m != _split(first, second, seed=2).parts[0].low_m


def test_the_airs_interval_holds_the_models_own_error():
    """Two 1-sd widths of 40 % of the correction, on blocks of identical balls that leave no other spread."""
    air = _split(_block(n=40, air=COLD), _block(n=40, air=HOT)).parts[3]
    assert (air.high_m - air.low_m) / 2 >= 1.8 * 0.40 * abs(air.change_m)


def test_balls_with_a_gap_are_left_out():
    first = _block(n=20)
    first.spin_rpm[:5] = np.nan
    assert _split(first, _block()).n == (15, 12)


def test_start_and_axis_are_used_where_they_are_known_and_straight_where_not():
    tilted = _block(spin_axis_deg=np.full(12, 20.0))
    assert _split(tilted, _block()).modelled_m > 1
    missing = _block(spin_axis_deg=np.full(12, np.nan), launch_direction_deg=np.nan)
    assert _split(missing, _block()).modelled_m == pytest.approx(0, abs=1e-9)


def test_more_balls_than_needed_are_thinned_evenly_and_that_is_said():
    yards = _split(_block(n=MOST_BALLS + 25), _block())
    assert yards.n == (MOST_BALLS, 12) and yards.warnings == ("thinned",)
    assert _split(_block(n=MOST_BALLS), _block()).warnings == ()


@pytest.mark.parametrize(("first", "second", "category", "code"), [
    ({"n": 7}, {}, "driver", "too_few_balls"), ({}, {"n": 7}, "driver", "too_few_balls"),
    ({"n": 0}, {}, "driver", "too_few_balls"),
    ({"provenance": "computed"}, {}, "driver", "mixed_provenance"),
    ({"provenance": ""}, {"provenance": ""}, "driver", "no_provenance"),
    ({}, {"air": Air(density_kg_m3=1.2, kinematic_viscosity_m2_s=1.5e-5, wind_along_mps=5.0)}, "driver", "windy"),
    ({}, {}, "putter", "not_a_full_flight"),
])
def test_what_cannot_be_split_is_refused_with_a_sentence(first, second, category, code):
    yards = _split(_block(**first), _block(**second), category)
    assert yards.refusal == code and yards.parts == () and yards.rest is None
    assert np.isnan(yards.measured_m) and np.isnan(yards.modelled_m)
    assert REFUSALS[code].endswith(".")


def test_eight_balls_a_side_are_enough():
    assert _split(_block(n=8), _block(n=8)).refusal == ""


@pytest.mark.parametrize("provenance", ["computed", "normalised"])
def test_where_the_device_worked_out_the_carry_the_air_has_no_part(provenance):
    yards = _split(_block(air=COLD, provenance=provenance), _block(air=HOT, provenance=provenance))
    assert _parts(yards)["air"] == 0 and yards.warnings == ("air_not_in_it",)
    assert WARNINGS["air_not_in_it"].endswith(".")


def test_where_the_air_of_a_day_is_unknown_it_has_no_part():
    yards = _split(_block(air=None), _block(air=HOT))
    assert _parts(yards)["air"] == 0 and yards.warnings == ("air_unknown",)
