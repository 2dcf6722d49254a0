"""Setup numbers from clicks: given back exactly, mirrored for the other hand, refused and warned of in sentences."""

import numpy as np
import pytest

from metrics.photo.reading import grid_lines, read_photo
from metrics.photo.stance import stance_numbers
from metrics.photo.types import Clicks, Picture, Rectangle, Sticks
from metrics.setup_geometry import foot_line_deg

from .camera import MAT, Camera, corners, player

NEAR = Camera(height_cm=200, away_cm=130, focal=1.2)
"""A view in which nothing is to be warned of."""
SAID = {"width": 46.0, "ball": 8.0, "feet": 3.0, "lead_flare": 20.0, "trail_flare": 8.0, "distance": 40.0}
KEYS = {"width": "stance_width_cm", "ball": "ball_position_cm", "feet": "feet_deg", "lead_flare": "lead_flare_deg",
        "trail_flare": "trail_flare_deg", "distance": "ball_distance_cm"}


def read(camera=NEAR, *, seen=None, ground=None, mat=None, left_handed=False, aim=None, size=MAT):
    clicks = Clicks(corners=camera.see(corners()) if mat is None else mat,
                    feet=camera.see(player()) if seen is None else seen, aim=aim)
    return read_photo(picture=Picture(width_px=camera.width_px, height_px=camera.height_px), clicks=clicks,
                      ground=ground or Rectangle(along_cm=size[0], across_cm=size[1]), left_handed=left_handed)


@pytest.mark.parametrize("values", [{}, {"feet": -8.0, "ball": -2.0}, {"width": 20.0, "lead_flare": 0.0},
                                    {"trail_flare": 25.0, "distance": 25.0}])
def test_what_stands_on_the_ground_is_read_back(values):
    numbers = read(seen=NEAR.see(player(**values))).numbers
    for name, value in {**SAID, **values}.items():
        assert numbers[KEYS[name]].value == pytest.approx(value, abs=1e-6)


def test_the_foot_line_is_the_one_the_rules_compute_with():
    feet = np.array([(0, 0), (0, 26), (40, -5), (40, 21), (10, 60.0)])
    found = stance_numbers(feet=feet, half_heel_cm=np.array(3.81))
    assert found[2] == pytest.approx(foot_line_deg(pulled_back_cm=5, heel_gap_cm=40))


def test_a_left_hander_s_mirror_image_reads_the_same_numbers():
    mirror = lambda points: np.array([NEAR.width_px, 0]) + points * [-1, 1]  # noqa: E731
    right = read().numbers
    left = read(seen=mirror(NEAR.see(player())), mat=mirror(NEAR.see(corners())), left_handed=True).numbers
    for key, number in right.items():
        assert left[key].value == pytest.approx(number.value, abs=1e-6)
        assert left[key].half_width == pytest.approx(number.half_width, rel=1e-6)


@pytest.mark.parametrize("order", [[2, 3, 0, 1], [1, 0, 3, 2], [3, 2, 1, 0]])
def test_it_does_not_matter_where_the_corners_begin_as_long_as_the_first_side_runs_along_the_target_line(order):
    numbers = read(mat=NEAR.see(corners())[order]).numbers
    assert numbers["feet_deg"].value == pytest.approx(3) and numbers["stance_width_cm"].value == pytest.approx(46)


def test_an_aim_stick_counts_where_the_mat_points_elsewhere():
    turn = np.radians(4)
    about = np.array([75.0, 60.0])
    whole = np.vstack([player(), [(20.0, 110.0), (120.0, 110.0)]]) - about
    whole = whole @ np.array([(np.cos(turn), -np.sin(turn)), (np.sin(turn), np.cos(turn))]) + about
    for stick in (whole[5:], whole[:4:-1]):
        numbers = read(seen=NEAR.see(whole[:5]), aim=NEAR.see(stick)).numbers
        for name, value in SAID.items():
            assert numbers[KEYS[name]].value == pytest.approx(value, abs=1e-6)
    assert abs(read(seen=NEAR.see(whole[:5])).numbers["feet_deg"].value - 3) > 3


@pytest.mark.parametrize("round_deg", [0, 180])
def test_an_l_of_sticks_and_the_focal_length_read_the_same(round_deg):
    camera = Camera(height_cm=200, away_cm=130, focal=1.0, round_deg=round_deg)
    numbers = read(camera, mat=camera.see(corners()[[0, 1, 3]]),
                   ground=Sticks(along_cm=150, across_cm=120, focal_px=3000)).numbers
    assert numbers["feet_deg"].value == pytest.approx(3, abs=1e-3)
    assert numbers["stance_width_cm"].value == pytest.approx(46, abs=1e-3)
    assert numbers["ball_position_cm"].half_width > 0


def test_swapped_feet_or_a_mirrored_picture_are_noticed():
    seen = NEAR.see(player())
    with pytest.raises(ValueError, match="do not lie as a right-hander's"):
        read(seen=seen[[2, 3, 0, 1, 4]])
    with pytest.raises(ValueError, match="do not lie as a left-hander's"):
        read(left_handed=True)
    with pytest.raises(ValueError, match="a toe lies behind its heel"):
        read(seen=seen[[1, 0, 3, 2, 4]])


def test_crossed_corners_a_turned_rectangle_and_clicks_outside_are_refused():
    mat = NEAR.see(corners())
    for wrong, words in ((mat[[0, 2, 1, 3]], "go round"), (mat[[1, 2, 3, 0]], "first side"), (mat[:3], "expected 4"),
                         (mat - 2000, "outside the picture")):
        with pytest.raises(ValueError, match=words):
            read(mat=wrong)
    with pytest.raises(ValueError, match="10 to 1000 cm"):
        read(size=(150, 0))


@pytest.mark.parametrize(("camera", "words"), [
    (Camera(height_cm=60, away_cm=200), "too flat"), (Camera(height_cm=500, away_cm=600), "too small"),
    (Camera(height_cm=170, away_cm=170), "foot line is known to ±1.6° only"),
])
def test_a_view_that_cannot_keep_the_promise_says_so_and_what_to_do(camera, words):
    found = read(camera)
    assert found.flagged and any(words in warning for warning in found.warnings)


def test_a_good_view_is_not_warned_of():
    assert read().warnings == () and read().looking_down_deg == pytest.approx(50, abs=3)


def test_side_lengths_the_wrong_way_round_are_noticed_where_the_mat_is_seen_askew():
    camera = Camera(height_cm=180, away_cm=160, round_deg=40)
    assert any("other way round" in warning for warning in read(camera, size=MAT[::-1]).warnings)
    assert not any("other way round" in warning for warning in read(camera).warnings)


def test_the_grid_lies_on_the_mat():
    found = read()
    lines = grid_lines(matrix=found.matrix, along_cm=150, across_cm=120)
    assert len(lines) == 7 + 6
    assert np.allclose(lines[0], NEAR.see(corners()[[0, 3]])) and np.allclose(lines[-1], NEAR.see(corners()[[3, 2]]))
