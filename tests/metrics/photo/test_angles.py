"""Angles in the plane of a photo: given back from a drawn player, alike for both hands, never better than ±3°."""

import math

import numpy as np
import pytest

from metrics.photo.angles import picture_angles
from metrics.photo.types import Picture

PICTURE = Picture(width_px=3000, height_px=4000)
TILT, TRUNK, LEAN, BEND, FLEX = 11.0, 7.0, 4.0, 36.0, 20.0


def at(start, length, degrees):
    """A point ``length`` from ``start``, ``degrees`` right of straight up, in a picture with y down."""
    turn = math.radians(degrees)
    return np.array(start) + length * np.array([math.sin(turn), -math.cos(turn)])


def face_on(*, left_handed=False, roll=0.0):
    """Facing a right-hander the target is right, so the trail side is left in the picture."""
    trail = 1 if left_handed else -1
    hips, head = (1500.0, 2400.0), (1500.0, 3600.0)
    neck = at(hips, 800, trail * TRUNK)
    lead, trailing = (neck + side * trail * 280 * np.array([math.cos(math.radians(TILT)), 0]) for side in (-1, 1))
    drop = 280 * math.sin(math.radians(TILT))
    points = {"hips": np.array(hips), "neck": neck, "head": np.array(head), "hands": at(head, 1100, -trail * LEAN),
              "lead_shoulder": lead - [0, drop], "trail_shoulder": trailing + [0, drop],
              "upright_low": np.array([300.0, 3500.0]), "upright_high": np.array([300.0, 500.0])}
    return rolled(points, roll)


def down_line(side=1):
    hips = np.array([1500.0, 2000.0])
    knee = at(hips, 600, side * (180 - 12))
    return {"hips": hips, "neck": at(hips, 800, side * BEND), "knee": knee, "ankle": at(knee, 600, side * (180 + 8))}


def rolled(points, degrees):
    """The same points seen by a camera that is turned, about the picture's middle."""
    turn, middle = math.radians(degrees), np.array([1500.0, 2000.0])
    matrix = np.array([(math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn))])
    return {name: (point - middle) @ matrix.T + middle for name, point in points.items()}


@pytest.mark.parametrize("left_handed", [False, True])
@pytest.mark.parametrize("roll", [-9.0, 0.0, 6.0])
def test_a_drawn_player_s_angles_come_back_for_both_hands_and_a_tilted_phone(left_handed, roll):
    found = picture_angles(picture=PICTURE, angle="face_on", clicks=face_on(left_handed=left_handed, roll=roll))
    assert found["shoulder_tilt_deg"].value == pytest.approx(TILT, abs=1e-6)
    assert found["trunk_tilt_deg"].value == pytest.approx(TRUNK, abs=1e-6)
    assert found["shaft_lean_deg"].value == pytest.approx(LEAN, abs=1e-6)


@pytest.mark.parametrize("side", [1, -1])
def test_bend_and_knees_are_read_from_behind_whichever_way_the_player_faces(side):
    found = picture_angles(picture=PICTURE, angle="down_line", clicks=down_line(side))
    assert found["forward_bend_deg"].value == pytest.approx(BEND)
    assert found["knee_flex_deg"].value == pytest.approx(FLEX)


def test_nothing_is_known_better_than_three_degrees_and_a_phone_by_hand_less():
    level = face_on()
    plumb = picture_angles(picture=PICTURE, angle="face_on", clicks=level)
    by_hand = picture_angles(
        picture=PICTURE, angle="face_on", clicks={k: v for k, v in level.items() if not k.startswith("upright")})
    for key, number in plumb.items():
        assert 3.0 < number.half_width < by_hand[key].half_width < 4.0


def test_the_half_width_beyond_the_camera_s_place_is_the_spread_of_drawn_clicks():
    rng = np.random.default_rng(5)
    coarse = Picture(width_px=3000, height_px=4000, click_px=20)
    said = picture_angles(picture=coarse, angle="face_on", clicks=face_on())["trunk_tilt_deg"].half_width
    drawn = [picture_angles(picture=coarse, angle="face_on", clicks={
        name: point + rng.normal(0, 20, 2) for name, point in face_on().items()})["trunk_tilt_deg"].value
        for _ in range(2000)]
    assert math.sqrt(said**2 - 9) == pytest.approx(1.96 * np.std(drawn, ddof=1), rel=0.06)


def test_only_what_was_clicked_is_told():
    clicks = face_on()
    assert set(picture_angles(picture=PICTURE, angle="face_on", clicks={
        k: clicks[k] for k in ("lead_shoulder", "trail_shoulder")})) == {"shoulder_tilt_deg"}
    assert picture_angles(picture=PICTURE, angle="face_on", clicks={k: clicks[k] for k in ("hips", "neck")}) == {}


@pytest.mark.parametrize(("angle", "changed", "words"), [
    ("above", {}, "only from a photo taken face-on or down the line"),
    ("face_on", {"neck": np.array([1500.0, 2410.0])}, "upper end of a line lies below"),
    ("face_on", {"neck": np.array([1500.0, 2390.0])}, "close together"),
    ("face_on", {"upright_high": np.array([3000.0, 3000.0])}, "expected something plumb"),
])
def test_what_cannot_be_read_is_refused_in_a_sentence(angle, changed, words):
    with pytest.raises(ValueError, match=words):
        picture_angles(picture=PICTURE, angle=angle, clicks={**face_on(), **changed})
