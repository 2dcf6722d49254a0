"""What is learned: a club's lie from start lines, a drill's record at the academy; and the Method rows."""

import importlib
import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from metrics.rules.club_fit import lie_from_starts
from metrics.rules.drill_learning import DrillCase, drill_effects
from metrics.rules.methods import METHODS
from metrics.rules.types import BlockEvidence, ClubStart


def clubs(lie: float, noise: float = 0.0) -> BlockEvidence:
    rng = np.random.default_rng(1)
    starts = {loft: lie * math.tan(math.radians(loft)) + rng.normal(0, 1 + noise, 10) for loft in (25, 35, 46)}
    rows = tuple(ClubStart(loft_deg=loft, mean_deg=seen.mean(), sd_deg=seen.std(ddof=1), n=seen.size)
                 for loft, seen in starts.items())
    return BlockEvidence(club_category="mid_iron", club_starts=rows)


def test_a_start_bias_that_grows_with_loft_gives_the_lie_error_back():
    found = lie_from_starts(clubs(3.0))
    assert found.lo < 3.0 < found.hi and found.value == pytest.approx(3.0, abs=0.8)


def test_the_fit_is_the_weighted_least_squares_line_through_zero():
    """Outside check: numpy's lstsq on rows scaled by the square root of their weights."""
    block = clubs(2.0)
    tangent = np.array([math.tan(math.radians(c.loft_deg)) for c in block.club_starts])
    mean = np.array([c.mean_deg for c in block.club_starts])
    scale = np.array([math.sqrt(c.n) / c.sd_deg for c in block.club_starts])
    slope = np.linalg.lstsq((tangent * scale)[:, None], mean * scale, rcond=None)[0][0]
    assert lie_from_starts(block).value == pytest.approx(slope)


def test_two_clubs_or_starts_on_both_sides_say_nothing_about_the_lie():
    block = clubs(3.0)
    assert lie_from_starts(BlockEvidence(club_category="mid_iron", club_starts=block.club_starts[:2])) is None
    turned = (*block.club_starts[:2], replace(block.club_starts[2], mean_deg=-block.club_starts[2].mean_deg))
    assert lie_from_starts(BlockEvidence(club_category="mid_iron", club_starts=turned)) is None


def cases(n: int, mean: float, sd: float = 1.0) -> list[DrillCase]:
    z = stats.norm.ppf((np.arange(n) + 0.5) / n)
    z = (z - z.mean()) / z.std(ddof=1)
    return [DrillCase(student=f"s{i}", pattern="slice", drill="grip-build", quantity="club_path_deg",
                      change=mean + sd * float(v)) for i, v in enumerate(z)]


def test_nineteen_students_are_counted_and_not_shown():
    effect, = drill_effects(cases=cases(19, 2.0), worthwhile=1.0)
    assert (effect.n, effect.mean, effect.shrunken) == (19, None, None) and "not shown yet" in effect.sentence


def test_from_twenty_students_the_mean_is_shrunken_toward_none():
    """Derived: w = 1/(1 + s²/n) with s = 1, n = 20 and a worthwhile change of 1, so w = 20/21."""
    effect, = drill_effects(cases=cases(20, 2.0), worthwhile=1.0)
    assert effect.shrunken == pytest.approx(2.0 * 20 / 21)
    assert 0 < effect.lo < effect.shrunken < effect.hi and "a gain followed" in effect.sentence


def test_the_interval_without_shrinking_is_students_t():
    effect, = drill_effects(cases=cases(20, 2.0), worthwhile=1e6)
    assert effect.hi - effect.lo == pytest.approx(2 * stats.t.ppf(0.9, 19) / math.sqrt(20), rel=1e-6)


def test_many_visits_of_one_student_are_still_one_student():
    one = [DrillCase(student="s", pattern="slice", drill="grip-build", quantity="club_path_deg", change=1.0)] * 50
    assert drill_effects(cases=one, worthwhile=1.0)[0].n == 1


@pytest.mark.parametrize("change, worthwhile, said", [(math.nan, 1.0, "expected a finite number"),
                                                      (1.0, 0.0, "expected more than 0")])
def test_impossible_records_are_refused_with_a_sentence(change, worthwhile, said):
    case = DrillCase(student="s", pattern="p", drill="d", quantity="q", change=change)
    with pytest.raises(ValueError, match=said):
        drill_effects(cases=[case], worthwhile=worthwhile)


@pytest.mark.parametrize("method", METHODS, ids=lambda m: m.key)
def test_every_method_row_leads_to_a_function_with_a_docstring(method):
    module, name = method.function.rsplit(".", 1)
    assert getattr(importlib.import_module(module), name).__doc__
