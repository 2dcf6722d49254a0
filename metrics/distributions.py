"""Normal, Student t and chi-square: probabilities and quantiles, with nothing but arithmetic.

The incomplete beta and gamma functions are evaluated by their textbook continued fraction and power
series (Abramowitz and Stegun 26.5.8, 6.5.29 and 6.5.31, from memory), the quantiles by Newton steps
that a bracket keeps honest. Tests hold all of them to scipy within 1e-10.
"""

import math
from collections.abc import Callable
from functools import lru_cache
from statistics import NormalDist

_TINY = 1e-300
_EPS = 1e-16
_TERMS = range(1, 10_000)
_HALVINGS = range(400)
_STANDARD = NormalDist()


def normal_cdf(*, z: float) -> float:
    """Return P(Z <= z) for a standard normal Z. Any float; NaN gives NaN."""
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def normal_quantile(*, p: float) -> float:
    """Return the z with P(Z <= z) = p. Raises ValueError outside 0 < p < 1."""
    _require_probability(p)
    return _STANDARD.inv_cdf(p)


def student_t_cdf(*, t: float, df: float) -> float:
    """Return P(T <= t) for Student's t with ``df`` > 0 degrees of freedom (need not be whole).

    Infinite ``df`` is the normal. Raises ValueError for df <= 0.
    """
    _require_df(df)
    if math.isinf(df):
        return normal_cdf(z=t)
    tail = _t_upper_tail(abs(t), df)
    return 1.0 - tail if t > 0 else tail


@lru_cache(maxsize=4096)
def student_t_quantile(*, p: float, df: float) -> float:
    """Return the t with P(T <= t) = p. Raises ValueError outside 0 < p < 1 or for df <= 0."""
    _require_probability(p)
    _require_df(df)
    if math.isinf(df):
        return normal_quantile(p=p)
    if p == 0.5:
        return 0.0
    tail = min(p, 1.0 - p)
    log_norm = (math.lgamma((df + 1) / 2) - math.lgamma(df / 2) - 0.5 * math.log(df * math.pi))

    def slope(t: float) -> float:
        return -math.exp(log_norm - (df + 1) / 2 * math.log1p(t * t / df))

    size = _root(lambda t: _t_upper_tail(t, df) - tail, slope, start=abs(normal_quantile(p=tail)))
    return size if p > 0.5 else -size


def chi_square_cdf(*, x: float, df: float) -> float:
    """Return P(X <= x) for chi-square with ``df`` > 0; 0 for x <= 0. Raises ValueError for df <= 0."""
    _require_df(df)
    return _gamma_tails(df / 2, x / 2)[0] if x > 0 else 0.0


@lru_cache(maxsize=4096)
def chi_square_quantile(*, p: float, df: float) -> float:
    """Return the x with P(X <= x) = p. Raises ValueError outside 0 < p < 1 or for df <= 0."""
    _require_probability(p)
    _require_df(df)
    half = df / 2

    def density(x: float) -> float:
        if x <= 0:
            return 0.0
        return math.exp((half - 1) * math.log(x / 2) - x / 2 - math.lgamma(half)) / 2

    # Wilson and Hilferty's cube gives a start within a few per cent for all but tiny df.
    cube = 1 - 2 / (9 * df) + normal_quantile(p=p) * math.sqrt(2 / (9 * df))
    start = df * cube**3 if cube > 0.05 else df * 1e-4
    # The smaller tail is compared, so that no digits are lost to 1 - nearly one.
    if p <= 0.5:
        return _root(lambda x: p - _gamma_tails(half, x / 2)[0], lambda x: -density(x), start=start)
    return _root(lambda x: _gamma_tails(half, x / 2)[1] - (1 - p), lambda x: -density(x), start=start)


def _t_upper_tail(t: float, df: float) -> float:
    """P(T > t) for t >= 0."""
    if math.isinf(t):
        return 0.0
    square = t * t
    if square < df:
        return 0.5 - 0.5 * _beta_regularised(0.5, df / 2, square / (df + square))
    return 0.5 * _beta_regularised(df / 2, 0.5, df / (df + square))


def _beta_regularised(a: float, b: float, x: float) -> float:
    """I_x(a, b) by the continued fraction, on the side of the mean where it converges fast."""
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x))
    if x < (a + 1) / (a + b + 2):
        return front * _beta_fraction(a, b, x) / a
    return 1.0 - front * _beta_fraction(b, a, 1.0 - x) / b


def _beta_fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of the incomplete beta function, by Lentz's forward recurrence."""
    c, d = 1.0, 1.0 / _away_from_zero(1 - (a + b) * x / (a + 1))
    value = d
    for m in _TERMS:
        for term in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            d = 1.0 / _away_from_zero(1 + term * d)
            c = _away_from_zero(1 + term / c)
            value *= c * d
        if abs(c * d - 1) < _EPS * 4:
            return value
    raise ArithmeticError(f"incomplete beta did not settle for a={a}, b={b}, x={x}")


def _gamma_tails(a: float, x: float) -> tuple[float, float]:
    """The regularised lower and upper incomplete gamma P(a, x), Q(a, x) for x >= 0."""
    if x <= 0:
        return 0.0, 1.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1:
        lower = front * _gamma_series(a, x)
        return lower, 1 - lower
    upper = front * _gamma_fraction(a, x)
    return 1 - upper, upper


def _gamma_series(a: float, x: float) -> float:
    term = total = 1 / a
    step = a
    while abs(term) > abs(total) * _EPS:
        step += 1
        term *= x / step
        total += term
    return total


def _gamma_fraction(a: float, x: float) -> float:
    b = x + 1 - a
    c = 1 / _TINY
    d = 1 / b
    value = d
    for i in _TERMS:
        term = -i * (i - a)
        b += 2
        d = 1 / _away_from_zero(term * d + b)
        c = _away_from_zero(b + term / c)
        value *= c * d
        if abs(c * d - 1) < _EPS * 4:
            return value
    raise ArithmeticError(f"incomplete gamma did not settle for a={a}, x={x}")


def _away_from_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def _root(gap: Callable[[float], float], slope: Callable[[float], float], *, start: float) -> float:
    """The positive root of a falling function: Newton, or a halved bracket where Newton would leave it."""
    low, high = 0.0, max(start, 1e-8)
    while gap(high) > 0:
        low, high = high, high * 2
    x = start if low < start < high else 0.5 * (low + high)
    for _ in _HALVINGS:
        miss = gap(x)
        if miss > 0:
            low = x
        else:
            high = x
        steep = slope(x)
        step = x - miss / steep if steep else low
        following = step if low < step < high else 0.5 * (low + high)
        if abs(following - x) <= 4e-16 * abs(x) or miss == 0:
            return following if miss else x
        x = following
    return x


def _require_probability(p: float) -> None:
    if not 0 < p < 1:
        raise ValueError(f"a probability strictly between 0 and 1 is needed, got {p}")


def _require_df(df: float) -> None:
    if not df > 0:
        raise ValueError(f"degrees of freedom must be above 0, got {df}")
