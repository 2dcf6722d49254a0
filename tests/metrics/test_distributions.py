"""The hand-written distributions agree with scipy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from metrics.distributions import (
    chi_square_cdf,
    chi_square_quantile,
    normal_cdf,
    normal_quantile,
    student_t_cdf,
    student_t_quantile,
)

DFS = (0.7, 1, 2, 2.5, 3, 4, 7, 9, 11, 19.3, 29, 60, 199, 2000)
PROBABILITIES = (1e-6, 0.001, 0.01, 0.025, 0.1, 0.2, 0.5, 0.6, 0.9, 0.95, 0.975, 0.995, 0.9999)


@pytest.mark.parametrize("df", DFS)
def test_t_and_chi_square_quantiles_agree_with_scipy(df):
    for p in PROBABILITIES:
        assert student_t_quantile(p=p, df=df) == pytest.approx(stats.t.ppf(p, df), rel=1e-10, abs=1e-12)
        assert chi_square_quantile(p=p, df=df) == pytest.approx(stats.chi2.ppf(p, df), rel=1e-10)


@pytest.mark.parametrize("df", DFS)
def test_t_and_chi_square_probabilities_agree_with_scipy(df):
    for t in (-40, -3.2, -1, -0.01, 0, 1e-7, 0.4, 1.96, 8, 300):
        assert student_t_cdf(t=t, df=df) == pytest.approx(stats.t.cdf(t, df), abs=1e-12, rel=1e-9)
    for ratio in (1e-6, 0.01, 0.3, 0.9, 1, 1.1, 2, 5):
        x = ratio * df
        assert chi_square_cdf(x=x, df=df) == pytest.approx(stats.chi2.cdf(x, df), abs=1e-12)
    assert chi_square_cdf(x=-1, df=df) == 0


def test_normal_agrees_with_scipy_and_is_the_limit_of_t():
    for z in (-8, -1.96, 0, 0.3, 4):
        assert normal_cdf(z=z) == pytest.approx(stats.norm.cdf(z), rel=1e-12)
    for p in PROBABILITIES:
        assert normal_quantile(p=p) == pytest.approx(stats.norm.ppf(p), rel=1e-12, abs=1e-14)
        assert student_t_quantile(p=p, df=math.inf) == normal_quantile(p=p)


@given(p=st.floats(1e-4, 1 - 1e-4), df=st.floats(0.8, 500))
def test_a_quantile_undoes_its_probability(p, df):
    assert student_t_cdf(t=student_t_quantile(p=p, df=df), df=df) == pytest.approx(p, abs=1e-11)
    assert chi_square_cdf(x=chi_square_quantile(p=p, df=df), df=df) == pytest.approx(p, abs=1e-11)


@pytest.mark.parametrize("p", (0, 1, -0.1, math.nan))
def test_impossible_probabilities_are_refused(p):
    for refuse in (lambda: normal_quantile(p=p), lambda: student_t_quantile(p=p, df=3),
                   lambda: chi_square_quantile(p=p, df=3)):
        with pytest.raises(ValueError, match="strictly between 0 and 1"):
            refuse()


def test_no_degrees_of_freedom_are_refused():
    with pytest.raises(ValueError, match="above 0, got 0"):
        student_t_cdf(t=1, df=0)
