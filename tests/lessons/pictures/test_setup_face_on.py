"""The view from the front: tilts, handle, weight and tee at their true sizes, for either hand."""

import math
from dataclasses import replace

import pytest

from lessons.pictures.setup_face_on import SCALE, WIDTH, FaceOn, draw, joints
from tests.lessons.pictures.reading import by_id, description, number_of, parse, words

SETUP = FaceOn(stance_width_cm=44, ball_cm=3, shoulder_tilt_deg=11, trunk_tilt_deg=7, handle_cm=4,
               lead_weight_pct=55, tee_mm=50, windows={"shoulder_tilt_deg": (8, 14)})


def test_the_shoulder_line_tilts_by_its_number_with_the_trail_shoulder_lower() -> None:
    line = by_id(parse(draw(SETUP)), "face-on-shoulders")
    lead, trail = ((number_of(line, f"x{i}"), number_of(line, f"y{i}")) for i in (1, 2))
    assert trail[1] > lead[1], "y grows downward"
    assert lead[0] > trail[0], "facing a right-hander, the lead side is to the right"
    assert math.degrees(math.atan2(trail[1] - lead[1], lead[0] - trail[0])) == pytest.approx(11, abs=0.1)


def test_the_trunk_leans_away_from_the_target_by_its_number() -> None:
    place = joints(SETUP)
    lean = math.degrees(math.atan2(place.neck[0] - place.hips[0], place.neck[1] - place.hips[1]))
    assert lean == pytest.approx(7)


def test_the_handle_is_ahead_of_the_ball_toward_the_target() -> None:
    place = joints(SETUP)
    assert place.ball[0] - place.hands[0] == pytest.approx(4)


def test_the_ball_sits_on_its_tee() -> None:
    assert joints(SETUP).ball[1] - joints(replace(SETUP, tee_mm=0)).ball[1] == pytest.approx(5.0)


def test_the_weight_bars_share_one_length_by_the_percentages() -> None:
    root = parse(draw(SETUP))
    lead, trail = (number_of(by_id(root, f"face-on-weight-{side}"), "width") for side in ("lead", "trail"))
    assert lead / (lead + trail) == pytest.approx(0.55, abs=0.001)
    assert "55 %" in words(root) and "45 %" in words(root)


def test_a_left_hander_sees_the_mirror_image() -> None:
    right, left = parse(draw(SETUP)), parse(draw(replace(SETUP, left_handed=True)))
    assert number_of(by_id(left, "face-on-ball"), "cx") == pytest.approx(
        WIDTH - number_of(by_id(right, "face-on-ball"), "cx"), abs=0.02)
    for end in ("x1", "x2"):
        assert number_of(by_id(left, "face-on-shoulders"), end) == pytest.approx(
            WIDTH - number_of(by_id(right, "face-on-shoulders"), end), abs=0.02)
    assert "target is to the left" in description(left) and "target is to the right" in description(right)


def test_what_was_not_looked_at_has_no_number() -> None:
    root = parse(draw(FaceOn(lead_weight_pct=50)))
    assert "°" not in words(root) and "mm" not in words(root) and "cm" not in words(root)
    assert by_id(root, "face-on-shoulders").get("stroke-dasharray")


def test_the_figure_is_drawn_to_one_scale() -> None:
    root = parse(draw(replace(SETUP, shoulder_tilt_deg=0, shoulder_width_cm=40)))
    line = by_id(root, "face-on-shoulders")
    assert abs(number_of(line, "x1") - number_of(line, "x2")) / SCALE == pytest.approx(40, abs=0.02)


def test_before_and_target_lie_under_the_figure_at_its_scale_with_words() -> None:
    root = parse(draw(replace(SETUP, before=replace(SETUP, trunk_tilt_deg=2.0), goal=replace(SETUP, handle_cm=0.0))))
    trunks = [by_id(root, f"face-on-{kind}").findall(".//{*}polyline")[1].get("points") for kind in ("before", "goal")]
    (bx, _), (nx, _) = (map(float, point.split(",")) for point in trunks[0].split())
    (gx, _), (mx, _) = (map(float, point.split(",")) for point in trunks[1].split())
    assert bx == gx, "both stand on the same spot"
    assert bx - nx == pytest.approx(50 * math.sin(math.radians(2)) * SCALE, abs=0.1)
    assert gx - mx == pytest.approx(50 * math.sin(math.radians(7)) * SCALE, abs=0.1)
    assert "now before aim for" in words(root)


def test_the_balance_point_stands_between_the_feet_by_the_weight() -> None:
    def balance(share: float) -> float:
        drawn = by_id(parse(draw(replace(SETUP, lead_weight_pct=share))), "face-on-balance")
        return float(drawn.get("d")[1:].split(",")[0])

    assert balance(100) - balance(0) == pytest.approx(2 * (balance(50) - balance(0)))
    assert balance(100) > balance(0), "facing a right-hander, the lead side is to the right"


def test_a_tee_that_was_not_looked_at_shows_only_where_it_belongs() -> None:
    root = parse(draw(replace(SETUP, tee_mm=None, windows={"tee_height_mm": (33.0, 45.0)})))
    assert "tee" in words(root) and "mm" not in words(root)
