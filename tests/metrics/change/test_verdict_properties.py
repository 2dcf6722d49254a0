"""What must not move a verdict: order, hand, units, a second import; and what may only strengthen it."""

import math
from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from metrics.change import Goal, Visit, judge_change
from metrics.change.model import lag1
from metrics.windows import Window
from tests.metrics.change.blocks import path_question

STRENGTH = {"cannot_tell": 0, "likely": 1, "slipped": 1, "overshot": 1, "established": 2, "in_window": 0}
BALL = st.floats(-12, 12).map(lambda x: round(x, 2))
BALLS = st.lists(BALL, min_size=8, max_size=14).filter(lambda values: len(set(values)) > 2)
SIDE = st.lists(BALLS, min_size=1, max_size=3)
WINDOWS = st.tuples(st.floats(-5, 5), st.floats(0.5, 4)).map(
    lambda t: Window(lo=round(t[0], 1), hi=round(t[0] + t[1], 1)))


def visits(side, start):
    return [Visit(day=start + i, values=tuple(values)) for i, values in enumerate(side)]


def judged(question, before, after):
    return judge_change(question=question, before=visits(before, 1), after=visits(after, 100))


def near_a_limit(verdict):
    """Float noise may tip a chance that lies on the limit itself; such knife edges are left out."""
    numbers, slack = verdict.numbers, 1e-7
    return (any(abs(numbers.p_toward - p) < slack for p in (0.05, 0.1, 0.9, 0.95))
            or abs(abs(numbers.progress) - numbers.swc) < slack)


@given(before=SIDE, after=SIDE, window=WINDOWS, data=st.data())
@settings(deadline=None)
def test_shuffling_balls_inside_a_visit_changes_nothing_unless_balls_followed_each_other(before, after, window, data):
    mixed = [data.draw(st.permutations(values)) for values in after]
    for side in ((*before, *after), (*before, *mixed)):
        assume(not lag1(visits=visits(side, 1)) > 0.3)
    question = path_question(goal=Goal(window=window))
    assert judged(question, before, after) == judged(question, before, mixed)


@given(before=SIDE, after=SIDE, window=WINDOWS)
@settings(deadline=None)
def test_a_left_handers_mirror_image_gets_the_same_verdict(before, after, window):
    right = judged(path_question(goal=Goal(window=window)), before, after)
    left = judged(path_question(goal=Goal(window=window.mirrored())),
                  *([[-x for x in values] for values in side] for side in (before, after)))
    assert (right.code, right.numbers.p_toward, right.student) == (left.code, left.numbers.p_toward, left.student)
    assert right.numbers.change == -left.numbers.change


@given(before=SIDE, after=SIDE, window=WINDOWS, factor=st.sampled_from((0.9144, 0.44704, 1000.0)))
@settings(deadline=None)
def test_a_change_of_units_changes_nothing(before, after, window, factor):
    plain = judged(path_question(goal=Goal(window=window), sd_prior=2.0), before, after)
    scaled_window = Window(lo=window.lo * factor, hi=window.hi * factor)
    scaled = judged(path_question(goal=Goal(window=scaled_window), swc=factor, sd_prior=2.0 * factor),
                    *([[x * factor for x in values] for values in side] for side in (before, after)))
    assume(not near_a_limit(plain))
    assert abs(plain.numbers.p_toward - scaled.numbers.p_toward) < 1e-6
    assert plain.code == scaled.code


@given(before=SIDE, after=SIDE, window=WINDOWS)
@settings(deadline=None)
def test_a_second_import_of_the_same_balls_changes_nothing(before, after, window):
    def once_and_twice(side, start):
        once = [replace(v, ids=tuple((v.day, i) for i, _ in enumerate(v.values))) for v in visits(side, start)]
        return once, [*once, *once]

    (b1, b2), (a1, a2) = once_and_twice(before, 1), once_and_twice(after, 100)
    question = path_question(goal=Goal(window=window))
    assert judge_change(question=question, before=b1, after=a1) == judge_change(question=question, before=b2, after=a2)


@given(before=SIDE, after=SIDE, window=WINDOWS, more=st.integers(1, 12), data=st.data())
@settings(deadline=None)
def test_balls_that_confirm_a_visit_never_weaken_the_verdict(before, after, window, more, data):
    which = data.draw(st.integers(0, len(after) - 1))
    question = path_question(goal=Goal(window=window))
    first = judged(question, before, after)
    assume(not near_a_limit(first))
    assume(not lag1(visits=visits((*before, *after), 1)) > 0.25)
    mean = math.fsum(after[which]) / len(after[which])
    confirmed = [[*values, *[mean] * more] if i == which else values for i, values in enumerate(after)]
    second = judged(question, before, confirmed)
    assume(not near_a_limit(second))
    assert STRENGTH[second.code] >= STRENGTH[first.code]
    if first.code in ("slipped", "overshot", "in_window"):
        assert second.code == first.code
    if first.code in ("likely", "established"):
        assert second.code in ("likely", "established")


@given(before=SIDE, after=SIDE, window=WINDOWS)
@settings(deadline=None)
def test_a_claim_always_rests_on_a_change_that_matters_and_its_chance(before, after, window):
    verdict = judged(path_question(goal=Goal(window=window)), before, after)
    numbers = verdict.numbers
    if verdict.code in ("likely", "established"):
        assert numbers.progress >= numbers.swc - 1e-9 and numbers.p_toward >= 0.9
        assert window.distance(numbers.after) <= window.distance(numbers.before) - numbers.swc + 1e-9
    if verdict.code == "established":
        assert len(after) >= 2 and numbers.p_toward >= 0.95
    if verdict.code == "slipped":
        assert window.distance(numbers.after) >= window.distance(numbers.before) + numbers.swc - 1e-9
