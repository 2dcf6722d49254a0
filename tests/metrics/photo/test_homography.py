"""The ground seen in a photo, against a camera that is known, OpenCV on the same points, and closed forms."""

import cv2
import numpy as np
import pytest

from metrics.photo.homography import apply, homography, local_scales

from .camera import Camera, corners

RNG = np.random.default_rng(7)


def same(one, other):
    one, other = (m / m[2, 2] for m in (one, other))
    return np.allclose(one, other, rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("camera", [
    Camera(), Camera(height_cm=120, away_cm=300), Camera(height_cm=220, away_cm=60, round_deg=180),
    Camera(round_deg=90, roll_deg=25, focal=2.0, away_cm=500),
])
def test_four_corners_give_back_the_camera_that_saw_them(camera):
    assert same(homography(ground=corners(), picture=camera.see(corners())), camera.matrix())


def test_a_shift_and_a_scale_are_what_they_are_by_hand():
    found = homography(ground=corners(), picture=corners() * 4 + [100, 50])
    assert same(found, np.array([[4.0, 0, 100], [0, 4.0, 50], [0, 0, 1]]))


def test_the_vanishing_point_of_a_side_lies_where_the_textbook_puts_it():
    # A camera at height h tilted down by t sees the horizon f·tan t above its middle.
    camera = Camera(height_cm=150, away_cm=200)
    horizon = camera.middle[1] - camera.focal * camera.width_px * 150 / 200
    found = homography(ground=corners(), picture=camera.see(corners()))
    far = found @ np.array([0.0, 1.0, 0.0])
    assert far[1] / far[2] == pytest.approx(horizon)


@pytest.mark.parametrize("seed", range(8))
def test_many_noisy_points_are_fitted_as_opencv_fits_them(seed):
    rng = np.random.default_rng(seed)
    camera = Camera(height_cm=rng.uniform(120, 220), away_cm=rng.uniform(100, 300), round_deg=rng.uniform(0, 360))
    ground = rng.uniform([0, 0], [150, 120], size=(12, 2))
    picture = camera.see(ground) + rng.normal(0, 3, (12, 2))
    theirs, _ = cv2.findHomography(ground, picture, 0)
    ours = homography(ground=ground, picture=picture)

    def miss(matrix):
        return float(((apply(matrix=matrix, points=ground) - picture) ** 2).sum())

    assert miss(ours) <= miss(theirs) * (1 + 1e-6)
    assert np.allclose(apply(matrix=ours, points=corners()), apply(matrix=theirs, points=corners()), atol=0.05)


def test_four_points_agree_with_opencv_to_the_last_digits():
    picture = Camera(round_deg=30).see(corners()) + RNG.normal(0, 4, (4, 2))
    theirs = cv2.getPerspectiveTransform(corners().astype(np.float32), picture.astype(np.float32))
    found = apply(matrix=homography(ground=corners(), picture=picture), points=corners() * 0.7 + 5)
    assert np.allclose(found, apply(matrix=theirs, points=corners() * 0.7 + 5), atol=0.01)


def test_a_stack_of_problems_is_solved_as_each_one_alone():
    seen = np.stack([Camera(round_deg=angle).see(corners()) for angle in (0, 50, 180)])
    together = homography(ground=np.broadcast_to(corners(), seen.shape), picture=seen)
    for matrix, picture in zip(together, seen, strict=True):
        assert same(matrix, homography(ground=corners(), picture=picture))


def test_the_flatness_of_a_view_is_the_angle_at_which_the_camera_looks_down():
    camera = Camera(height_cm=150, away_cm=200)
    large, small = local_scales(matrix=camera.matrix(), point=np.array([75.0, 60.0]))
    assert small / large == pytest.approx(150 / 250)
    assert large == pytest.approx(0.8 * 3000 / 250)


@pytest.mark.parametrize(("ground", "words"), [
    (corners()[:3], "4 or more"), (np.array([(0, 0), (1, 1), (2, 2), (5, 0.0)]), "one line"),
    (np.zeros((4, 2)), "one spot"),
])
def test_points_that_hold_no_plane_are_refused(ground, words):
    with pytest.raises(ValueError, match=words):
        homography(ground=ground, picture=Camera().see(corners())[:len(ground)])
