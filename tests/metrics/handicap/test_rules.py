"""Handicap arithmetic against the worked examples of the Rules of Handicapping (the governing bodies' pages)."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from metrics.handicap.index import capped_index, exceptional_reduction, lowest_counted, uncapped_index
from metrics.handicap.record import Score, mirror
from metrics.handicap.scores import course_handicap, differential, hole_maximum, strokes_received, to_tenth
from metrics.handicap.scores import exact as decimal


@pytest.mark.parametrize(("rule", "gross", "rating", "slope", "pcc", "expected"), [
    ("5.1a, worked by hand: 18.8 × 113 / 128 = 16.597", 90, 71.2, 128, 0, 16.6),
    ("5.1a with the conditions one stroke harder: 15.714", 90, 71.2, 128, 1, 15.7),
    ("5.1a, worked by hand: 6.003", 78, 71.2, 128, 0, 6.0),
    ("5.1a below the rating: −1.942, toward 0", 69, 71.2, 128, 0, -1.9),
    ("5.1a, conditions one stroke easier: 17.480", 90, 71.2, 128, -1, 17.5),
])
def test_a_differential_follows_rule_5_1(rule, gross, rating, slope, pcc, expected):
    assert differential(adjusted_gross=gross, course_rating=rating, slope=slope, pcc=pcc) == expected, rule


@pytest.mark.parametrize(("value", "rounded"), [(-1.54, -1.5), (-1.55, -1.5), (-1.56, -1.6), (1.55, 1.6), (1.54, 1.5)])
def test_a_half_tenth_goes_up_and_a_negative_one_toward_nought_rule_5_1(value, rounded):
    assert to_tenth(decimal(value)) == rounded


@pytest.mark.parametrize(("values", "said"), [
    ({"slope": 54}, "slope of 54"), ({"slope": 156}, "slope of 156"), ({"pcc": 4}, "calculation of 4"),
    ({"pcc": -2}, "calculation of -2"),
])
def test_a_course_that_cannot_be_is_refused_with_what_was_expected(values, said):
    with pytest.raises(ValueError, match=said):
        differential(**{"adjusted_gross": 90, "course_rating": 71.2, "slope": 128, **values})


def test_course_handicap_15_gets_a_7_at_most_on_a_par_4_of_index_10_rule_3_1():
    strokes = strokes_received(course_handicap=15, stroke_index=10)
    assert (strokes, hole_maximum(par=4, strokes_received=strokes)) == (1, 7)


def test_before_there_is_an_index_par_and_five_counts_rule_3_1a():
    assert hole_maximum(par=4, strokes_received=None) == 9


@pytest.mark.parametrize(("handicap", "total"), [(0, 0), (15, 15), (18, 18), (23, 23), (-2, -2), (54, 54)])
def test_strokes_received_add_up_to_the_course_handicap(handicap, total):
    assert sum(strokes_received(course_handicap=handicap, stroke_index=i) for i in range(1, 19)) == total


def test_a_plus_player_gives_strokes_on_the_easiest_holes():
    assert [strokes_received(course_handicap=-2, stroke_index=i) for i in (1, 16, 17, 18)] == [0, 0, -1, -1]


def test_course_handicap_of_16_6_on_128_and_71_2_par_72_is_18():
    assert course_handicap(index=16.6, slope=128, course_rating=71.2, par=72) == 18


@pytest.mark.parametrize(("differentials", "expected"), [
    ([15.3, 15.2, 16.6], 13.2),
    ([40.7, 42.4, 36.1], 34.1),
    ([40.7, 42.4, 36.1, 45.9, 43.6, 45.0], 37.4),
])
def test_the_examples_of_rule_5_2a(differentials, expected):
    assert uncapped_index(differentials=differentials) == expected


@pytest.mark.parametrize(("scores", "lowest", "adjustment"), [
    (1, 0, 0), (2, 0, 0), (3, 1, -2), (4, 1, -1), (5, 1, 0), (6, 2, -1), (7, 2, 0), (8, 2, 0), (9, 3, 0), (10, 3, 0),
    (11, 3, 0), (12, 4, 0), (13, 4, 0), (14, 4, 0), (15, 5, 0), (16, 5, 0), (17, 6, 0), (18, 6, 0), (19, 7, 0),
    (20, 8, 0), (45, 8, 0),
])
def test_the_table_of_rule_5_2a_row_by_row(scores, lowest, adjustment):
    assert lowest_counted(scores=scores) == (lowest, adjustment)


def test_two_scores_make_no_index_rule_5_2a():
    assert uncapped_index(differentials=[12.0, 13.0]) is None


def test_only_the_latest_twenty_are_looked_at_rule_5_2b():
    assert uncapped_index(differentials=[0.0] * 8 + [20.0] * 20) == 20.0


def test_nobody_has_more_than_54_rule_5_3():
    assert uncapped_index(differentials=[70.0] * 5) == 54.0


@pytest.mark.parametrize(("low", "calculated", "held", "cap"), [
    (10.0, 13.4, 13.2, "soft"),
    (6.5, 11.6, 10.6, "soft"),
    (10.2, 18.2, 15.2, "hard"),
    (10.0, 13.0, 13.0, ""),
    (10.0, 17.0, 15.0, "soft"),
    (None, 30.0, 30.0, ""),
])
def test_the_caps_of_rule_5_8(low, calculated, held, cap):
    assert capped_index(calculated=calculated, low_index=low) == (held, cap)


@pytest.mark.parametrize(("below", "reduction"), [(6.9, 0), (7.0, -1), (9.9, -1), (10.0, -2), (15.0, -2)])
def test_an_exceptional_score_by_how_far_it_lies_below_the_index_rule_5_9(below, reduction):
    assert exceptional_reduction(differential=round(20.0 - below, 1), index=20.0) == reduction


def scores(*differentials: float, first: date = date(2025, 1, 1), step: int = 7) -> list[Score]:
    return [Score(played_on=first + timedelta(days=step * i), differential=d) for i, d in enumerate(differentials)]


def test_an_exceptional_score_takes_a_stroke_off_every_score_there_is_rule_5_9():
    found = mirror(scores(20.0, 20.0, 20.0, 20.0, 20.0, 10.0))
    assert found.lines[-1].reduction == -2, "ten below an index of 20.0"
    assert found.adjusted == (18.0, 18.0, 18.0, 18.0, 18.0, 8.0)
    assert found.index == 12.0, "mean of 8.0 and 18.0, less 1.0"


def test_exceptional_scores_add_up_rule_5_9():
    found = mirror(scores(*[20.0] * 20, 12.0, 11.0))
    assert [line.reduction for line in found.lines[-2:]] == [-1, -1]
    assert found.adjusted[-1] == 10.0
    assert found.adjusted[5] == 18.0, "both reductions reach it"
    assert found.adjusted[0] == 20.0, "older than the latest twenty"


def test_the_official_index_of_the_day_decides_what_is_exceptional():
    first = scores(20.0, 20.0, 20.0)
    last = Score(played_on=date(2025, 6, 1), differential=10.0, official_index=16.0)
    assert mirror([*first, last]).lines[-1].reduction == 0
    last = Score(played_on=date(2025, 6, 1), differential=10.0, official_index=20.0)
    assert mirror([*first, last]).lines[-1].reduction == -2


def test_a_poor_run_is_held_by_the_caps_once_there_are_twenty_scores_rule_5_8():
    found = mirror(scores(*[10.0] * 20, *[25.0] * 20, step=7))
    assert [line.cap for line in found.lines[:20]] == [""] * 20
    assert found.lines[-1].cap == "hard"
    assert found.index == 15.0, "the low index of 10.0 and five"


def test_a_low_index_of_more_than_a_year_ago_holds_nothing_rule_5_7():
    # Weeks apart the low index of the first twenty is 20 weeks old at the end; months apart it is long gone.
    assert mirror(scores(*[10.0] * 20, *[25.0] * 20, step=60)).lines[-1].low_index > 10.0


def test_the_counted_differentials_are_the_lowest_of_the_latest_twenty():
    found = mirror(scores(*[float(x) for x in range(30, 10, -1)]))
    assert sorted(found.adjusted[place] for place in found.counted) == [11, 12, 13, 14, 15, 16, 17, 18]


def test_scores_out_of_order_are_refused():
    with pytest.raises(ValueError, match="expected the oldest first"):
        mirror(list(reversed(scores(20.0, 20.0))))


@given(st.lists(st.integers(-50, 600), min_size=3, max_size=45))
def test_an_index_never_exceeds_54_and_never_the_worst_score_counted(tenths):
    values = [x / 10 for x in tenths]
    index = uncapped_index(differentials=values)
    assert index <= min(54.0, max(values[-20:]))
