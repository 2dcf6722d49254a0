"""One score: what counts on a hole, its differential, and the strokes a course gives. Rules 3.1, 5.1 and 6.1.

Every rounding is exact: typed decimals are read as written, so that 10.55 is never 10.549999.
"""

from fractions import Fraction

MAXIMUM_INDEX = 54.0
"""Rule 5.3."""
SLOPES = (55, 155)
PCC = (-1, 3)
"""The playing conditions calculation, in strokes. Rule 5.6."""


def exact(value: float) -> Fraction:
    """Return the decimal as it is written, without the binary tail of a float."""
    return Fraction(str(value))


def to_tenth(value: Fraction) -> float:
    """Return the value to one decimal, a half going up, so that a negative one goes toward 0 (rule 5.1).

    >>> to_tenth(exact(-1.54)), to_tenth(exact(-1.55)), to_tenth(exact(10.55))
    (-1.5, -1.5, 10.6)
    """
    return (value * 10 + Fraction(1, 2)).__floor__() / 10


def differential(*, adjusted_gross: int, course_rating: float, slope: int, pcc: int = 0) -> float:
    """Return the score differential of 18 holes, to one decimal. Rule 5.1a.

    113 / slope × (adjusted gross − course rating − PCC). ``slope`` 55 to 155, ``pcc`` −1 to +3 strokes; raises
    ValueError outside. Nine-hole rounds are not computed: the expected score they need is not published.
    """
    if not SLOPES[0] <= slope <= SLOPES[1]:
        raise ValueError(f"a slope of {slope} was found; expected {SLOPES[0]} to {SLOPES[1]}")
    if not PCC[0] <= pcc <= PCC[1]:
        raise ValueError(f"a playing conditions calculation of {pcc} was found; expected {PCC[0]} to {PCC[1]}")
    return to_tenth(Fraction(113, slope) * (adjusted_gross - exact(course_rating) - pcc))


def hole_maximum(*, par: int, strokes_received: int | None) -> int:
    """Return the most that counts on a hole: par + 2 + strokes received (rule 3.1b, net double bogey).

    None for strokes means a player without an index yet: par + 5 (rule 3.1a). Raises ValueError for a par
    that is not 3 to 6.
    """
    if not 3 <= par <= 6:
        raise ValueError(f"a par of {par} was found; expected 3 to 6")
    return par + 5 if strokes_received is None else par + 2 + strokes_received


def strokes_received(*, course_handicap: int, stroke_index: int) -> int:
    """Return the strokes a player gets on the hole with this stroke index, 1 to 18; a plus player gives them.

    One stroke a hole from index 1 on; beyond 18 a second round of strokes begins; a plus player gives strokes
    from index 18 on. Raises ValueError outside 1..18. Source: rule 6.2 and appendix E, from memory.
    """
    if not 1 <= stroke_index <= 18:
        raise ValueError(f"a stroke index of {stroke_index} was found; expected 1 to 18")
    return (course_handicap - stroke_index) // 18 + 1


def course_handicap(*, index: float, slope: int, course_rating: float, par: int) -> int:
    """Return index × slope / 113 + (course rating − par), rounded, a half up. Rule 6.1a, from memory."""
    exactly = exact(index) * slope / 113 + exact(course_rating) - par
    return (exactly + Fraction(1, 2)).__floor__()
