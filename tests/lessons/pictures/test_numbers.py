"""Dots against a window, the roster's sparkline, and the progress panel."""

import datetime
import re

import pytest

from lessons.pictures import axes, progress, sparkline, window_dots
from tests.lessons.pictures.reading import description, having_class, number_of, parse, words

DOTS = {"label": "Club path", "unit": "°", "values": (1.0, 2.0, 2.0, 2.1, 5.0), "window": (2, 4),
        "mean": 2.4, "interval": (0.6, 4.2), "minus_word": "out-to-in", "plus_word": "in-to-out"}


def draw_dots(**changes) -> object:
    return parse(window_dots.draw(window_dots.WindowDots(**(DOTS | changes))))


def test_every_ball_is_its_own_dot_even_where_values_repeat() -> None:
    places = {(dot.get("cx"), dot.get("cy")) for dot in having_class(draw_dots(), "ball-dot")}
    assert len(places) == 5


def test_the_mean_and_its_interval_stand_over_the_axis_at_their_values() -> None:
    root = draw_dots()
    band = having_class(root, "window")[0]
    per_degree = number_of(band, "width") / 2
    whisker = [line for line in having_class(root, "ink") if line.get("stroke-width") == "3"][0]
    assert number_of(whisker, "x1") == pytest.approx(number_of(band, "x") - 1.4 * per_degree, abs=0.05)
    assert number_of(whisker, "x2") == pytest.approx(number_of(band, "x") + 2.2 * per_degree, abs=0.05)


def test_without_a_mean_the_dots_stand_alone() -> None:
    root = draw_dots(mean=None, interval=None)
    assert having_class(root, "mean") == [] and "mean" not in description(root)


def test_for_a_left_hander_the_line_is_turned_round_and_so_are_its_words() -> None:
    right, left = draw_dots(), draw_dots(mirrored=True)
    for one, other in zip(having_class(right, "ball-dot"), having_class(left, "ball-dot"), strict=True):
        assert number_of(other, "cx") == pytest.approx(window_dots.WIDTH - number_of(one, "cx"), abs=0.02)
    assert "← out-to-in" in words(right) and "← in-to-out" in words(left)


def test_mishits_are_crosses_and_are_counted_apart() -> None:
    root = draw_dots(mishits=(9.0, -3.0))
    assert len(having_class(root, "mishit-dot")) == 2 and len(having_class(root, "ball-dot")) == 5
    assert "2 mishits" in description(root)


def test_the_words_count_the_balls_inside_the_window() -> None:
    assert "window +2.0 to +4.0, 3 of 5 inside" in description(draw_dots())


def test_no_ball_at_all_is_still_a_picture() -> None:
    assert "0 balls" in description(draw_dots(values=(), mean=None, interval=None))


def test_a_sparkline_leaves_a_gap_where_there_was_no_first_ten() -> None:
    root = parse(sparkline.draw(sparkline.Sparkline(means=(5.0, None, 3.0), window=(2, 4), unit="°")))
    dots = having_class(root, "fill")
    assert [number_of(dot, "cx") for dot in dots] == pytest.approx([6, 114])
    assert number_of(dots[1], "cy") > number_of(dots[0], "cy")
    assert description(root) == "Means oldest first, °: +5.0, +3.0. Window +2.0 to +4.0."


def test_a_sparkline_without_visits_says_so() -> None:
    assert description(parse(sparkline.draw(sparkline.Sparkline(means=())))) == "No first-ten yet."


def visit(day: int, mean: float | None, **more) -> progress.Visit:
    more = {"n": 10, "interval": None if mean is None else (mean - 1, mean + 1)} | more
    return progress.Visit(day=datetime.date(2026, 3, day), mean=mean, **more)


def draw_panel(*visits: progress.Visit, **more) -> object:
    return parse(progress.draw(progress.Panel(label="Club path", unit="°", visits=visits, **more)))


def test_visits_stand_at_their_real_dates() -> None:
    root = draw_panel(visit(1, 5), visit(3, 5), visit(13, 5))
    x = [number_of(dot, "cx") for dot in having_class(root, "solid")]
    assert (x[2] - x[0]) / (x[1] - x[0]) == pytest.approx(6, abs=0.01)


def test_a_visit_with_aids_is_hollow_and_the_key_says_so() -> None:
    root = draw_panel(visit(1, 5), visit(8, 3, aided=True))
    assert len(having_class(root, "solid")) == 1
    assert len([dot for dot in having_class(root, "hollow") if dot.get("r") == "6.5"]) == 1
    assert "with aids" in words(root)


def test_n_is_printed_on_every_dot_and_too_few_balls_give_no_dot() -> None:
    root = draw_panel(visit(1, 5, n=12), visit(8, None, n=4))
    assert "n 12" in words(root) and "4 balls" in words(root)
    assert len(having_class(root, "solid")) == 1
    assert "not enough balls yet" in description(root)


def test_an_axis_that_starts_in_the_middle_says_so() -> None:
    assert "axis does not start at 0" in words(draw_panel(visit(1, 5), visit(8, 6)))
    assert "axis" not in words(draw_panel(visit(1, 5), visit(8, 6), from_zero=True))


def test_visits_are_not_joined_by_a_line() -> None:
    root = draw_panel(visit(1, 5), visit(8, 6))
    assert not [e for e in root.iter() if e.tag.endswith("polyline")]
    strokes = " ".join(e.get("d") for e in root.iter() if e.tag.endswith("path"))
    assert set(re.sub(r"[-\d. ]", "", strokes)) <= set("MVvmh"), "upright whiskers, their caps and ticks; no slope"
    assert {float(across) for across in re.findall(r"h([\d.]+)", strokes)} <= {10.0}


def test_the_table_says_the_same_as_the_picture() -> None:
    panel = progress.Panel(label="Path", unit="°", visits=(visit(1, 5, change="new driver"), visit(8, None, n=3)))
    assert progress.table(panel) == [
        {"day": "1 Mar 2026", "value": "+5.0°", "interval": "+4.0 to +6.0", "n": "10", "aids": "no aids",
         "change": "new driver"},
        {"day": "8 Mar 2026", "value": "not enough balls yet", "interval": "", "n": "3", "aids": "no aids",
         "change": ""},
    ]


@pytest.mark.parametrize(("low", "high", "expected"), [
    (0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1.0]), (-3, 7, [-2, 0, 2, 4, 6]), (12, 13, [12, 12.2, 12.4, 12.6, 12.8, 13]),
])
def test_ticks_are_round_numbers_inside_the_axis(low: float, high: float, expected: list[float]) -> None:
    assert axes.ticks(low, high) == pytest.approx(expected)


def test_an_axis_upside_down_is_refused() -> None:
    with pytest.raises(ValueError, match="high above low"):
        axes.ticks(2, 2)
