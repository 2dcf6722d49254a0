"""Drag and lift of the model ball against measured means and other balls."""

import numpy as np
import pytest

from metrics.flight.coefficients import drag_and_lift

from .outside import rows


def _both(s, reynolds):
    drag, lift = drag_and_lift(spin_ratio=np.array([s], dtype=float), reynolds=np.array([reynolds], dtype=float))
    return float(drag[0]), float(lift[0])


@pytest.mark.parametrize("row", rows("drag_lift_means.csv"), ids=lambda r: f"Re {r['reynolds']} S {r['spin_ratio']}")
def test_the_seven_measured_means_of_us_patent_6186002(row):
    drag, lift = _both(row["spin_ratio"], row["reynolds"])
    assert drag == pytest.approx(float(row["drag"]), abs=0.006)
    assert lift == pytest.approx(float(row["lift"]), abs=0.006)


@pytest.mark.parametrize("row", rows("drag_lift_other_balls.csv"), ids=lambda r: f"{r['source']} {r['spin_ratio']}")
def test_other_published_balls_lie_near_the_model_ball(row):
    drag, lift = _both(row["spin_ratio"], row["reynolds"])
    tolerance = float(row["tolerance"])
    if row["drag"]:
        assert drag == pytest.approx(float(row["drag"]), abs=tolerance)
    assert lift == pytest.approx(float(row["lift"]), abs=tolerance)


def test_claimed_lift_of_a_ball_of_about_2000_is_exceeded():
    """WO 2001/019464, claim 1: lift above 0.18 at Re 70,000 and 2000 rpm, a one-sided bound."""
    assert _both(0.18, 70_000)[1] > 0.18


def test_claimed_drag_of_a_ball_of_about_2000_is_nearly_met():
    """WO 2001/019464, claim 1: drag below 0.232 at Re 180,000 and 3000 rpm; ours may be 0.015 above."""
    assert _both(0.106, 180_000)[0] < 0.232 + 0.015


def test_measured_and_older_data_meet_without_a_step():
    for reynolds in (0.8e5, 1.4e5, 2.0e5):
        np.testing.assert_allclose(_both(0.22 - 1e-9, reynolds), _both(0.22 + 1e-9, reynolds), atol=1e-8)


@pytest.mark.parametrize("reynolds", [0.8e5, 1.0e5, 1.2e5])
def test_the_independent_table_of_bearman_and_harvey_1976_is_met_at_the_joint(reynolds):
    """Least squares over their table: drag 0.310 and lift 0.283 at spin ratio 0.22, where most of its nodes lie."""
    drag, lift = _both(0.22, reynolds)
    assert drag == pytest.approx(0.310, abs=0.01)
    assert lift == pytest.approx(0.283, abs=0.01)


def test_beyond_the_measurements_drag_and_lift_grow_with_the_older_slopes():
    near, far = _both(0.30, 1.5e5), _both(0.40, 1.5e5)
    assert far[0] - near[0] == pytest.approx(0.039, abs=1e-12)
    assert far[1] - near[1] == pytest.approx(0.038, abs=1e-12)


def test_the_caps_hold_for_a_ball_that_spins_on_the_spot():
    assert _both(5.0, 1.5e5) == (0.55, 0.46)


def test_reynolds_number_is_held_at_its_limits():
    assert _both(0.1, 1e4) == _both(0.1, 0.8e5)
    assert _both(0.1, 9e5) == _both(0.1, 2.0e5)
    assert _both(0.1, 0.9e5) != _both(0.1, 0.8e5)


def test_a_ball_without_spin_has_no_lift_and_lift_tapers_to_it():
    assert _both(0.0, 1.5e5)[1] == 0.0
    assert _both(0.02, 1.5e5)[1] == pytest.approx(_both(0.04, 1.5e5)[1] / 2, rel=1e-12)


def test_what_is_missing_stays_missing():
    assert np.isnan(_both(np.nan, 1e5)).all()
