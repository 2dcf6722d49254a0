"""Retention and transfer: how much of a visit's gain was there at the next first ten, or on mixed balls."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from metrics.change.comparable import differences
from metrics.change.model import Components, components, minimum_detectable, same_day, standard_error
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.visits import Visit
from metrics.change.words import Sentences, counted, not_alike, shown
from metrics.distributions import student_t_quantile

RetentionCode = Literal["held", "partly", "lost", "no_gain", "too_few", "not_alike"]


@dataclass(frozen=True, kw_only=True)
class Retention:
    """What part of the gain was still there: ``ratio`` 1 = all, 0 = none, with its 95 % interval.

    ratio, lo and hi are NaN without a gain to keep, with too few balls or unlike blocks; lo and hi infinite where
    the balls allow no bound. ``gain`` is what the earlier visit gained toward the goal, ``detectable`` what it had
    to exceed.
    """

    code: RetentionCode
    ratio: float
    lo: float
    hi: float
    gain: float
    detectable: float
    days_since: int
    coach: Sentences
    student: Sentences


def retention(*, question: Question, baseline: Visit, end: Visit, later: Visit,
              history: Sequence[Sequence[Visit]] = ()) -> Retention:
    """Return R = (later first ten - baseline) / (end of that visit - baseline).

    baseline and end: two blocks of one visit, later: the next first ten on a later day (ValueError otherwise). Only
    a gain toward the goal of at least the change detectable within a visit can be kept. R >= 0.7 held, 0.3 to 0.7
    partly, below lost (common practice). The interval is Fieller's with the visit model: usually wide, and said so.
    Within the visit aids and shown numbers may differ; anything else that blocks a comparison refuses ("not_alike").
    The question's model_error lies between the two days.
    """
    if baseline.day != end.day or later.day <= end.day:
        raise ValueError("retention needs a baseline and an end of one visit, and a later day")
    reasons = _unlike(question, baseline, end, later, may=())
    return _kept(question, (baseline, end, later), history, reasons, where="at the next first ten")


def transfer(*, question: Question, baseline: Visit, end: Visit, mixed: Visit,
             history: Sequence[Sequence[Visit]] = ()) -> Retention:
    """Return the same ratio for a block with mixed clubs or from the course, on the same or a later day.

    The mixed block may hide its numbers where the baseline showed them. Raises ValueError where baseline and end are
    not of one visit or the mixed block is earlier.
    """
    if baseline.day != end.day or mixed.day < end.day:
        raise ValueError("transfer needs a baseline and an end of one visit, and a block not before it")
    reasons = _unlike(question, baseline, end, mixed, may=("feedback_shown",))
    return _kept(question, (baseline, end, mixed), history, reasons, where="on mixed balls or the course")


def _unlike(question: Question, baseline: Visit, end: Visit, later: Visit, *, may: tuple[str, ...]) -> tuple[str, ...]:
    """What stands in the way of a fair ratio, as sentences; ``may`` names what may differ at the later block."""
    pairs = ((end, ("aids", "feedback_shown")), (later, may))
    return tuple(dict.fromkeys(
        found.sentence for visit, allowed in pairs
        for found in differences(before=baseline.conditions, after=visit.conditions, quantity=question.quantity)
        if found.blocks and found.factor not in allowed
    ))


def _kept(question: Question, blocks: tuple[Visit, Visit, Visit], history: Sequence[Sequence[Visit]],
          reasons: tuple[str, ...], *, where: str) -> Retention:
    baseline, end, later = blocks
    days = later.day - end.day
    if reasons:
        coach, student = not_alike(reasons)
        return Retention(code="not_alike", ratio=math.nan, lo=math.nan, hi=math.nan, gain=math.nan,
                         detectable=math.nan, days_since=days, coach=coach, student=student)
    short = min((baseline, end, later), key=lambda visit: visit.n)
    if short.n < question.balls_needed:
        return _without_ratio("too_few", question, days, math.nan, math.nan, short.n)
    parts = components(phases=((baseline,), (end,), (later,), *history), k=question.k,
                       sd_prior=question.sd_prior, fixed_k=question.fixed_k)
    if days == 0:
        parts = same_day(parts)
    within = standard_error(parts=same_day(parts), before=[baseline.n], after=[end.n])
    detectable = minimum_detectable(se=within)
    gain = (end.mean - baseline.mean) * question.goal.direction(baseline.mean)
    if gain < detectable or gain <= 0:
        return _without_ratio("no_gain", question, days, gain, detectable, short.n)
    ratio = (later.mean - baseline.mean) / (end.mean - baseline.mean)
    # Within one day what the air's correction may be wrong by is common to all blocks and cancels.
    lo, hi = _fieller(baseline, end, later, parts, model_error=question.model_error if days else 0.0)
    code: RetentionCode = ("held" if ratio >= setting("retention_held") else
                           "partly" if ratio >= setting("retention_lost") else "lost")
    coach, student = _sentences(code, question, (baseline, end, later), (ratio, lo, hi), days, where)
    return Retention(code=code, ratio=ratio, lo=lo, hi=hi, gain=gain, detectable=detectable, days_since=days,
                     coach=coach, student=student)


def _fieller(baseline: Visit, end: Visit, later: Visit, parts: Components, *,
             model_error: float) -> tuple[float, float]:
    """The 95 % interval of a ratio of two correlated differences that share the baseline."""
    top, bottom = later.mean - baseline.mean, end.mean - baseline.mean
    shot = parts.s_w**2
    var_top = 2 * parts.s_b**2 + shot * (1 / baseline.n + 1 / later.n) + model_error**2
    var_bottom = shot * (1 / baseline.n + 1 / end.n)
    shared = shot / baseline.n
    z2 = student_t_quantile(p=0.975, df=parts.df) ** 2
    a = bottom**2 - z2 * var_bottom
    if a <= 0:
        return -math.inf, math.inf
    b = top * bottom - z2 * shared
    root = math.sqrt(max(b * b - a * (top**2 - z2 * var_top), 0.0))
    return (b - root) / a, (b + root) / a


def _sentences(code: RetentionCode, question: Question, blocks: tuple[Visit, Visit, Visit],
               interval: tuple[float, float, float], days: int, where: str) -> tuple[Sentences, Sentences]:
    baseline, end, later = (shown(block.mean, question=question, signed=True) for block in blocks)
    ratio, lo, hi = interval
    part = f"about {max(round(ratio * 100), 0)} in 100 of the gain was there"
    sure = "the balls allow no bounds"
    if math.isfinite(lo):
        sure = f"could be {lo * 100:.0f} to {hi * 100:.0f}".replace("-", "−")
    away = f"{counted(days, noun='day')} between" if days else "same day"
    long_gap = " After more than three weeks away, less is expected to hold." if _long(days) else ""
    aids = " The gain was made with aids." if blocks[1].conditions.aids else ""
    reason = (f"From {baseline} to {end} in the visit, {later} {where} ({away}): {part} ({sure}).{aids}{long_gap}")
    coach_words = {
        "held": ("Held", "Take the next step; keep the first ten."),
        "partly": ("Partly held", "Repeat the same change with fewer aids before adding anything."),
        "lost": ("Not held", "Fade the aids and shorten the task; more visits, not more balls."),
    }
    student_words = {
        "held": ("It stayed", "Most of what you gained was still there.", "Keep your practice as it is."),
        "partly": ("Some of it stayed", "Part of what you gained was still there.",
                   "Same practice, with a little less help each time."),
        "lost": ("Not yours yet", "You can do it on the day; it has not stayed yet.",
                 "Shorter practice, more often, and guess before you look."),
    }
    verdict, following = coach_words[code]
    word, why, then = student_words[code]
    return (Sentences(verdict=verdict, reason=reason, next_step=following),
            Sentences(verdict=word, reason=why, next_step=then))


def _long(days: int) -> bool:
    return days > setting("long_gap_days")


def _without_ratio(code: RetentionCode, question: Question, days: int, gain: float, detectable: float,
                   balls: int) -> Retention:
    if code == "too_few":
        verdict = "Can’t tell yet"
        reason = f"Not enough balls yet: {balls} in the shortest block, {question.balls_needed} needed."
        student_reason = f"{counted(balls, noun='ball')} logged in the shortest set."
    else:
        verdict = "No gain to keep"
        reason = (f"The earlier visit gained {shown(gain, question=question)}, less than the "
                  f"{shown(detectable, question=question)} "
                  "that would stand out from luck.")
        student_reason = "Last time the numbers moved too little to say that something was gained."
    following = "Begin the next visit with a first ten, then compare again."
    return Retention(
        code=code, ratio=math.nan, lo=math.nan, hi=math.nan, gain=gain, detectable=detectable, days_since=days,
        coach=Sentences(verdict=verdict, reason=reason, next_step=following),
        student=Sentences(verdict=verdict, reason=student_reason, next_step=following))
