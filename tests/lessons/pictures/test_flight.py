"""Flights from above and from the side: right is right, angles are angles, computed is told from measured."""

import math
from dataclasses import replace

import pytest

from lessons.pictures import flight_side, flight_top
from lessons.pictures.flight_frame import Curve, Ellipse, Landing
from tests.lessons.pictures.reading import description, having_class, number_of, parse, words

ARC = Curve(points=[(0, 0, 0), (50, 18, 1), (100, 25, 4), (150, 15, 9), (180, 0, 15)], landing_angle_deg=40)
TOP = flight_top.TopView(landings=(Landing(downrange_m=180, side_m=15), Landing(downrange_m=170, side_m=-4)))


def middle_of(root) -> float:
    return number_of(having_class(root, "target-line")[0], "x1")


def test_a_ball_on_the_slice_side_lies_right_for_a_right_hander_and_left_for_a_left_hander() -> None:
    right, left = parse(flight_top.draw(TOP)), parse(flight_top.draw(replace(TOP, left_handed=True)))
    offsets = [[number_of(dot, "cx") - middle_of(root) for dot in having_class(root, "measured")]
               for root in (right, left)]
    assert offsets[0][0] > 0 > offsets[0][1]
    assert offsets[1] == pytest.approx([-x for x in offsets[0]], abs=0.02)
    assert "1 right of the line, 1 left" in description(right)


def test_sideways_is_stretched_by_the_whole_number_the_picture_states() -> None:
    root = parse(flight_top.draw(TOP))
    first, second = having_class(root, "measured")
    per_m_side = (number_of(first, "cx") - number_of(second, "cx")) / 19
    per_m_down = (number_of(second, "cy") - number_of(first, "cy")) / 10
    stretch = int(root.get("data-stretch"))
    assert per_m_side / per_m_down == pytest.approx(stretch, rel=0.01)
    assert f"sideways drawn {stretch}×" in words(root)


def test_a_very_wide_pattern_is_drawn_true_and_stays_inside() -> None:
    wide = replace(TOP, landings=(Landing(downrange_m=40, side_m=90), Landing(downrange_m=40, side_m=-90)))
    root = parse(flight_top.draw(wide))
    assert root.get("data-stretch") == "1"
    assert all(0 < number_of(dot, "cx") < flight_top.WIDTH for dot in having_class(root, "measured"))


def test_measured_and_computed_landings_differ_by_shape_and_by_word() -> None:
    view = replace(TOP, landings=(*TOP.landings, Landing(downrange_m=175, side_m=2, modelled=True)),
                   curves=(ARC,))
    root = parse(flight_top.draw(view))
    assert len(having_class(root, "measured")) == 2
    assert any("hollow" in e.get("class") for e in having_class(root, "modelled"))
    assert [e.get("stroke-dasharray") for e in having_class(root, "accent")] == ["7 5"]
    assert "● measured" in words(root) and "○ computed" in words(root)


def test_a_mishit_is_a_cross_and_is_not_counted() -> None:
    root = parse(flight_top.draw(replace(TOP, landings=(*TOP.landings,
                                                         Landing(downrange_m=90, side_m=30, mishit=True)))))
    assert len(having_class(root, "mishit-dot")) == 1
    assert "2 measured landings" in description(root)


def test_the_ellipse_turns_toward_the_slice_side() -> None:
    view = replace(TOP, ellipse=Ellipse(downrange_m=150, side_m=0, half_long_m=20, half_wide_m=5, turn_deg=30))
    root = parse(flight_top.draw(view))
    corners = [tuple(map(float, p.split(","))) for p in having_class(root, "window")[0].get("points").split()]
    far_end = corners[0]
    stretch = int(root.get("data-stretch"))
    near_end = corners[len(corners) // 2]
    turned = math.degrees(math.atan2((far_end[0] - near_end[0]) / stretch, near_end[1] - far_end[1]))
    assert turned == pytest.approx(30, abs=0.2)


def test_an_empty_view_from_above_is_still_a_picture() -> None:
    assert "straight up" in description(parse(flight_top.draw(flight_top.TopView())))


def test_distance_and_height_share_one_scale_so_that_angles_are_true() -> None:
    root = parse(flight_side.draw(flight_side.SideView(curves=(ARC,), unit="m")))
    path = [tuple(map(float, p.split(","))) for p in having_class(root, "modelled")[0].get("points").split()]
    (x0, y0), (x1, y1) = path[0], path[1]
    assert (y0 - y1) / (x1 - x0) == pytest.approx(18 / 50, abs=0.001)


def test_the_landing_angle_is_drawn_at_its_size_and_written() -> None:
    root = parse(flight_side.draw(flight_side.SideView(curves=(ARC,))))
    ray = having_class(having_class(root, "landing-angle")[0], "edge")[0]
    rise = number_of(ray, "y1") - number_of(ray, "y2")
    assert math.degrees(math.atan2(rise, number_of(ray, "x1") - number_of(ray, "x2"))) == pytest.approx(40, abs=0.1)
    assert "40°" in words(root)


def test_apex_and_carry_are_given_in_the_readers_unit() -> None:
    yards = description(parse(flight_side.draw(flight_side.SideView(curves=(ARC,), unit="yd"))))
    assert f"carries {180 / 0.9144:.0f} yd" in yards and f"apex {25 / 0.9144:.0f} yd" in yards
    metres = description(parse(flight_side.draw(flight_side.SideView(curves=(ARC,), unit="m"))))
    assert "carries 180 m" in metres and "apex 25 m" in metres


def test_a_side_view_of_nothing_is_refused_in_words() -> None:
    with pytest.raises(ValueError, match="at least one flight"):
        flight_side.draw(flight_side.SideView(curves=()))
