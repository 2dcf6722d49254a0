"""The sentences of a verdict: with numbers for the coach, without jargon for the student.

Screens print these as they are. Verdict first, then the reason, then the next step; kind, never flattering.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from metrics.change.question import Question
from metrics.change.settle import Settle
from metrics.fields import FIELDS
from metrics.units import System, display, display_digits
from metrics.windows import Window

Code = Literal["better_today", "cannot_tell", "likely", "established", "slipped", "overshot", "in_window"]

WORDS: dict[Code, str] = {
    "better_today": "Better today",
    "cannot_tell": "Can’t tell yet",
    "likely": "Likely kept",
    "established": "Established",
    "slipped": "Slipped",
    "overshot": "Overshot",
    "in_window": "In your window",
}
"""What each verdict is called on a screen. "Better today" is never called an improvement."""


@dataclass(frozen=True, kw_only=True)
class Sentences:
    """A verdict in words; ``numbers`` is the small print, empty for the student."""

    verdict: str
    reason: str
    next_step: str
    numbers: str = ""


@dataclass(frozen=True, kw_only=True)
class Numbers:
    """Everything a verdict rests on, in the stored unit. ``progress`` is capped at the window.

    ``change`` is after minus before with its 95 % interval ``lo``..``hi``; ``p_toward`` the chance that it truly
    went the stated way, ``p_worthwhile`` that it did so by at least ``swc``; ``direction`` that way (+1, -1).
    """

    before: float
    after: float
    balls_before: tuple[int, ...]
    balls_after: tuple[int, ...]
    change: float
    lo: float
    hi: float
    progress: float
    direction: int
    se: float
    p_toward: float
    p_worthwhile: float
    swc: float
    mdc: float
    s_w: float
    k: float


def shown(value: float, *, question: Question, signed: bool = False) -> str:
    """Return a value of the question's quantity in the reader's unit, for example "+3.2°" or "151.0 yd"."""
    factor, unit, digits, has_sides = _scale(question.quantity, question.system)
    plain = f"{value * factor:{'+' if signed and has_sides else ''}.{digits}f}".replace("-", "−")
    if set(plain) <= set("+−0."):
        plain = plain.lstrip("+−")  # nothing is "−0.0"
    return f"{plain}°" if unit == "°" else f"{plain} {unit}".strip()


@cache
def _scale(quantity: str, system: System) -> tuple[float, str, int, bool]:
    """Factor, unit and decimals in the reader's system; every shot field is a plain multiple of its stored unit."""
    factor, unit = display(field_key=quantity, value=1.0, system=system)
    return factor, unit, display_digits(field_key=quantity, system=system), bool(FIELDS[quantity].plus_means)


def in_hundred(p: float) -> str:
    """Return a chance as people say it: "90 in 100"; never 0 or 100.

    >>> in_hundred(0.9), in_hundred(0.9999)
    ('90 in 100', 'more than 99 in 100')
    """
    whole = int(p * 100 + 1e-9)  # rounded down: 90 in 100 must never stand for 89.6
    if whole >= 99:
        return "more than 99 in 100"
    return f"{whole} in 100" if whole >= 1 else "less than 1 in 100"


def counted(n: int, *, noun: str) -> str:
    """Return "1 ball", "3 balls".

    >>> counted(1, noun="visit"), counted(2, noun="visit")
    ('1 visit', '2 visits')
    """
    return f"{n} {noun}" if n == 1 else f"{n} {noun}s"


def coach_sentences(*, code: Code, numbers: Numbers, question: Question, settle: Settle | None) -> Sentences:
    """Return the coach's sentences for a verdict that had enough balls."""
    seen = (f"{_label(question)} {shown(numbers.before, question=question, signed=True)} before, "
            f"{shown(numbers.after, question=question, signed=True)} after{_wanted(question)}.")
    chance = (f"The chance that it truly moved the right way is {in_hundred(numbers.p_toward)}, that it moved by "
              f"{shown(numbers.swc, question=question)} or more is {in_hundred(numbers.p_worthwhile)}.")
    luck = (f"It moved by {shown(abs(numbers.change), question=question)}; by luck alone two such sides differ by "
            "up to "
            f"{shown(numbers.mdc, question=question)}.")
    because = {
        "cannot_tell": luck,
        "in_window": "Nothing needs changing: it is in the window or within "
                     f"{shown(numbers.swc, question=question)} of it.",
        "slipped": f"The chance that it truly went the wrong way is {in_hundred(1 - numbers.p_toward)}.",
        "overshot": "It went through the window and out of the far side, so less would now be more.",
        "better_today": "Same visit only: today’s numbers do not show what stays.",
    }.get(code, chance)
    return Sentences(
        verdict=WORDS[code], reason=f"{seen} {because}", next_step=_coach_next(code, question, settle),
        numbers=small_print(numbers=numbers, question=question))


def student_sentences(*, code: Code, question: Question) -> Sentences:
    """Return the student's sentences: what it means for them, without statistics."""
    label = _label(question).lower()
    reason, following = {
        "better_today": (f"Your {label} was nearer to your target today. The next visit shows whether it stays.",
                         "Begin your next visit with ten balls, nothing on the ground."),
        "cannot_tell": (f"Your {label} varies from day to day, and so far that could be all it is.",
                        "Keep the plan. Begin your next visit with ten balls, nothing on the ground."),
        "likely": (f"Your {label} came back nearer to your target on another day, without help.",
                   "Keep going. One more visit like this and it is yours."),
        "established": (f"Your {label} has stayed nearer to your target over several visits, without help.",
                        "Time to take it to the course."),
        "slipped": (f"Your {label} has moved away from your target again. That happens; we know the way back.",
                    "Go back to the last setup check that helped, and begin your next visit with ten balls."),
        "overshot": (f"You have done so much of a good thing that your {label} is past your target.",
                     "Do half as much of the change, and check with your coach."),
        "in_window": (f"Your {label} is where you want it.", "Nothing to change here."),
    }[code]
    return Sentences(verdict=WORDS[code], reason=reason, next_step=following)


def too_few(*, balls: int, needed: int, question: Question) -> tuple[Sentences, Sentences]:
    """Return the coach's and the student's sentences where a visit has too few balls to be judged."""
    more = counted(needed - balls, noun="more ball")
    coach = Sentences(
        verdict=WORDS["cannot_tell"],
        reason=f"Not enough balls yet: {balls} with {_label(question).lower()}, {needed} needed in one visit.",
        next_step=f"Hit {more} under the same conditions.")
    student = Sentences(verdict=WORDS["cannot_tell"], reason=f"{counted(balls, noun='ball')} logged.",
                        next_step=f"Hit {more} the same way, then we can say something.")
    return coach, student


def not_alike(reasons: Sequence[str], *, next_step: str = "") -> tuple[Sentences, Sentences]:
    """Return the coach's and the student's sentences where the visits cannot be compared."""
    usual = "Log a first ten under the same conditions as before, or start a new baseline with these."
    coach = Sentences(
        verdict=WORDS["cannot_tell"], reason=" ".join(reasons),
        next_step=next_step or usual)
    student = Sentences(
        verdict=WORDS["cannot_tell"], reason="These two visits were not alike enough to compare fairly.",
        next_step="Begin your next visit with ten balls, nothing on the ground.")
    return coach, student


def small_print(*, numbers: Numbers, question: Question) -> str:
    """Return what a verdict rests on, in one line: balls, visits, SE, smallest and detectable change."""
    sides = " against ".join(
        f"{counted(sum(side), noun='ball')} in {counted(len(side), noun='visit')}"
        for side in (numbers.balls_before, numbers.balls_after))
    return (f"{sides}; standard error {shown(numbers.se, question=question)}; smallest change that matters "
            f"{shown(numbers.swc, question=question)}; detectable change {shown(numbers.mdc, question=question)}.")


def settle_sentence(*, settle: Settle, question: Question) -> str:
    """Return what would settle it, or what three more visits would have to show."""
    word = WORDS[settle.target].lower()
    size = shown(settle.assumed, question=question)
    opening = {"seen": f"If the change stays at {size},",
               "window": f"If further visits come {size} nearer, into the window,",
               "smallest": f"If further visits gain {size}, the smallest that matters,"}[settle.basis]
    ways = []
    if settle.balls is not None:
        ways.append(f"{counted(settle.balls, noun='more ball')} in this visit")
    if settle.visits is not None:
        ways.append(f"{counted(settle.visits, noun='more visit')} of {settle.balls_each} balls")
    if ways:
        return f"{opening} {' or '.join(ways)} would settle it as “{word}”."
    return (f"{opening} twelve more visits could not tell it from luck with so few visits before. Three more visits "
            f"would have to average {shown(settle.three_visits, question=question)} of gain.")


def _coach_next(code: Code, question: Question, settle: Settle | None) -> str:
    fixed = {
        "better_today": "Plan a first ten for the next visit: no aids, no advice.",
        "established": "Take it to the course: mixed clubs, no aids.",
        "slipped": "Look at the setup checks again before anything new.",
        "overshot": "Ease the change back by about half and test ten without aids.",
        "in_window": "Leave it alone and look at the next number.",
    }
    if code in fixed:
        return fixed[code]
    return settle_sentence(settle=settle, question=question) if settle else "Log the next first ten."


def _label(question: Question) -> str:
    return FIELDS[question.quantity].label


def _wanted(question: Question) -> str:
    window = question.goal.window
    return f", wanted {wanted(window=window, question=question)}" if window else ""


def wanted(*, window: Window, question: Question) -> str:
    """Return a window in words; an end at the limit of what can be is left open: "at least 200.0 yd"."""
    field = FIELDS[question.quantity]
    lo, hi = (shown(edge, question=question, signed=True) for edge in (window.lo, window.hi))
    if window.hi >= field.upper:
        return f"at least {lo}"
    return f"at most {hi}" if window.lo <= field.lower else f"{lo} to {hi}"
