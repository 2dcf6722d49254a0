"""What ± means: held to thousands of drawn clicks, and to the promise for views that are not warned of."""

import itertools

import numpy as np
import pytest

from metrics.photo.propagate import half_widths
from metrics.photo.reading import read_photo
from metrics.photo.types import Clicks, Picture, Rectangle

from .camera import Camera, corners, player

TRUE = {"feet_deg": 3.0, "stance_width_cm": 46.0, "ball_position_cm": 8.0, "lead_flare_deg": 20.0}
HEIGHTS, AWAY, ROUND, FOCALS = (120, 160, 200), (80, 130, 180), (0, 40, 180), (0.7, 1.0, 1.4)
LENSES = (-0.008, -0.004, 0.0, 0.004, 0.008)


def read(camera, feet, mat, click_px=3.0):
    size = [camera.width_px, camera.height_px]
    return read_photo(
        picture=Picture(width_px=size[0], height_px=size[1], click_px=click_px),
        ground=Rectangle(along_cm=150, across_cm=120),
        clicks=Clicks(corners=np.clip(mat, 0, size), feet=np.clip(feet, 0, size)),
    )


def test_a_straight_sum_gives_the_textbook_s_root_of_squares():
    found = half_widths(numbers=lambda x: x @ np.array([[3.0], [4.0]]), at=np.zeros(2), sd=np.ones(2))
    assert found == pytest.approx([1.959964 * 5], rel=1e-6)


@pytest.mark.simulation
@pytest.mark.parametrize("click_px", [1, 2, 3, 4])
@pytest.mark.parametrize("camera", [Camera(), Camera(height_cm=130, away_cm=180, round_deg=40, focal=0.7)])
def test_the_spread_of_drawn_clicks_is_the_spread_that_was_computed(camera, click_px):
    # Only clicks vary here, so lens and shoe are taken out of the comparison by their known shares: both are
    # small beside 3 px, and the bound below allows for them.
    rng = np.random.default_rng(click_px)
    feet, mat = camera.see(player()), camera.see(corners())
    said = read(camera, feet, mat, click_px).numbers
    still = read(camera, feet, mat, 1e-6).numbers
    drawn = [read(camera, feet + rng.normal(0, click_px, feet.shape), mat + rng.normal(0, click_px, mat.shape),
                  click_px).numbers for _ in range(400)]
    for key in ("feet_deg", "stance_width_cm", "ball_position_cm", "ball_distance_cm"):
        clicks_only = np.sqrt(said[key].half_width**2 - still[key].half_width**2) / 1.96
        assert np.std([numbers[key].value for numbers in drawn], ddof=1) == pytest.approx(clicks_only, rel=0.13)


def views():
    for height, away, turn, focal in itertools.product(HEIGHTS, AWAY, ROUND, FOCALS):
        camera = Camera(height_cm=height, away_cm=away, round_deg=turn, focal=focal, roll_deg=3)
        if camera.inside(np.vstack([corners(), player()])):
            yield camera


@pytest.mark.simulation
def test_views_that_are_not_warned_of_keep_the_promise_in_95_of_100_and_intervals_hold_the_truth():
    rng = np.random.default_rng(11)
    kept, held = [], []
    for camera, lens in itertools.product(views(), LENSES):
        feet, mat = camera.bent(lens).see(player()), camera.bent(lens).see(corners())
        for _ in range(3):
            found = read(camera, feet + rng.normal(0, 3, feet.shape), mat + rng.normal(0, 3, mat.shape))
            off = {key: abs(found.numbers[key].value - value) for key, value in TRUE.items()}
            held.append([off[key] <= found.numbers[key].half_width for key in TRUE])
            if not found.flagged:
                kept.append((off["feet_deg"] <= 1.0, off["stance_width_cm"] <= 1.0))
    # A warning that most views get is not read: half of them must pass, and the promise must still hold.
    assert len(kept) >= 0.5 * len(held)
    assert min(np.mean(kept, axis=0)) >= 0.95
    # The shoe here has exactly the width assumed, so the flare's interval may hold more than 95 in 100.
    assert min(np.mean(held, axis=0)) >= 0.93 and max(np.mean(held, axis=0)[:3]) <= 0.975
