"""The ground from an L of two sticks, against cameras that are known."""

import itertools

import cv2
import numpy as np
import pytest

from metrics.photo.homography import apply
from metrics.photo.sticks import ground_from_sticks

from .camera import Camera

L = np.array([(40.0, 30.0), (160.0, 30.0), (40.0, 120.0)])
VIEWS = [Camera(height_cm=h, away_cm=a, round_deg=r, focal=f, roll_deg=2)
         for h, a, r, f in itertools.product((130, 200), (110, 200), (0, 30, 180, 200), (0.7, 1.1))]


def ground_of(camera, seen):
    return ground_from_sticks(corner=seen[0], along=seen[1], across=seen[2], along_cm=120, across_cm=90,
                              focal_px=camera.focal * camera.width_px, middle=camera.middle)


def test_the_level_camera_is_the_true_one_or_the_view_says_that_it_is_in_doubt():
    wrong, doubtful = 0, 0
    for camera in VIEWS:
        found = ground_of(camera, camera.see(L))
        points = np.array([(80.0, 90.0), (120.0, 60.0)])
        met = np.allclose(apply(matrix=found.matrix, points=points - L[0]), camera.see(points), atol=0.5)
        wrong += not met and not found.doubtful
        doubtful += found.doubtful
    assert wrong == 0
    assert doubtful <= len(VIEWS) / 4


def test_one_of_opencv_s_answers_to_the_three_points_is_ours():
    camera = Camera(height_cm=180, away_cm=150, round_deg=20)
    seen = camera.see(L)
    found = ground_of(camera, seen)
    lens = np.array([[2400, 0, 1500], [0, 2400, 1125], [0, 0, 1.0]])
    flat = np.column_stack([L - L[0], np.zeros(3)])
    _, turns, places = cv2.solveP3P(flat, seen, lens, None, flags=cv2.SOLVEPNP_P3P)
    answers = [lens @ np.column_stack([cv2.Rodrigues(t)[0][:, :2], p]) for t, p in zip(turns, places, strict=True)]
    points = np.array([(50.0, 60.0), (90.0, 20.0)])
    here = apply(matrix=found.matrix, points=points)
    assert min(np.abs(apply(matrix=m, points=points) - here).max() for m in answers) < 0.5


def test_sideways_tilt_is_told():
    camera = Camera(roll_deg=8)
    assert abs(ground_of(camera, camera.see(L)).roll_deg) == pytest.approx(8, abs=0.1)


def test_sticks_without_length_are_refused():
    with pytest.raises(ValueError, match="above 0"):
        ground_from_sticks(corner=L[0], along=L[1], across=L[2], along_cm=0, across_cm=90, focal_px=2400,
                           middle=Camera().middle)
