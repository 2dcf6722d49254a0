"""The verdict words, decided in one place: better today, can't tell yet, likely, established, slipped, overshot.

Chances come from the normal distribution with the standard error of the visit model, one-sided because the wanted
direction was stated beforehand; a change the other way is tested separately as slipped. With the SD estimated
from two visits of 12 balls, "likely" is wrong 10.7 times in 100 instead of 10 (Student's t, 22 df).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from metrics.change import words
from metrics.change.comparable import ALTERNATE, Difference, differences, keep_alike, one_a_day
from metrics.change.model import (
    Change,
    Components,
    change_between,
    components,
    minimum_detectable,
    same_day,
)
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.settle import Basis, Settle, to_settle
from metrics.change.visits import Visit
from metrics.change.words import Code, Numbers, Sentences
from metrics.distributions import normal_cdf

_SLACK = 1e-9
"""Means are sums of floats: 5.0 - 4.0 must count as the 1.0 that matters."""


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """One honest answer: the word, the sentences for coach and student, and everything they rest on.

    ``numbers`` and ``settle`` are None where no claim could be computed; ``differences`` names what was not alike
    (blocking or not); ``days_since`` counts the days from the latest visit before to the latest after.
    """

    code: Code
    word: str
    quantity: str
    coach: Sentences
    student: Sentences
    numbers: Numbers | None
    settle: Settle | None
    differences: tuple[Difference, ...]
    notes: tuple[str, ...]
    days_since: int | None


def judge_change(*, question: Question, before: Sequence[Visit], after: Sequence[Visit],
                 history: Sequence[Sequence[Visit]] = ()) -> Verdict:
    """Return what the visits after a change say against the visits before it, like with like only.

    before, after: visits without aids, all ``after`` days later than all ``before`` days (ValueError otherwise; for
    one day use ``judge_today``). Visits unlike the latest one after, or with too few balls, are left out and
    named. history: further groups of alike visits that inform the spreads only.
    """
    if not before or not after:
        raise ValueError("a change needs at least one visit before and one after")
    if max(v.day for v in before) >= min(v.day for v in after):
        raise ValueError("the visits after a change must be on later days; judge one day with judge_today")
    reference = max(after, key=lambda visit: visit.day).conditions
    if reference.aids:
        aids = ", ".join(sorted(reference.aids))
        return _refused(question, (), (f"The latest visit was hit with aids ({aids}): only balls without aids "
                                       "show what held.",))
    kept_before, named_before = keep_alike(visits=before, reference=reference, quantity=question.quantity)
    kept_after, named_after = keep_alike(visits=after, reference=reference, quantity=question.quantity,
                                         same_side=True)
    named = tuple(dict.fromkeys((*named_before, *named_after)))
    if not kept_before or not kept_after:
        return _refused(question, named, tuple(d.sentence for d in named if d.blocks))
    first, second = (one_a_day(visits=kept, reference=reference) for kept in (kept_before, kept_after))
    older = tuple(one_a_day(reference=reference, visits=keep_alike(
        visits=group, reference=reference, quantity=question.quantity)[0]) for group in history)
    parts = _components(question, (first, second, *older))
    return _judged(question, first, second, parts, named)


def judge_today(*, question: Question, before: Visit, after: Visit,
                history: Sequence[Sequence[Visit]] = ()) -> Verdict:
    """Return what two blocks of one visit say: "better today" at best, never that something was learned.

    The day's effect is common to both and cancels. Aids may differ and are named; anything else unlike refuses.
    Raises ValueError for two different days.
    """
    if before.day != after.day:
        raise ValueError("two blocks of one day are needed; judge different days with judge_change")
    named = differences(before=before.conditions, after=after.conditions, quantity=question.quantity)
    blocking = tuple(d.sentence for d in named if d.blocks and d.factor not in ("aids", "feedback_shown"))
    if blocking:
        return _refused(question, named, blocking)
    parts = _components(question, ((before,), (after,), *history))
    return _judged(question, (before,), (after,), same_day(parts), named, today=True)


def _components(question: Question, phases: Sequence[Sequence[Visit]]) -> Components:
    return components(phases=phases, k=question.k, sd_prior=question.sd_prior, fixed_k=question.fixed_k)


def _judged(question: Question, before: Sequence[Visit], after: Sequence[Visit], parts: Components,
            named: tuple[Difference, ...], *, today: bool = False) -> Verdict:
    """The verdict on visits that may be compared, once each side has enough balls."""
    enough_before = [visit for visit in before if visit.n >= question.balls_needed]
    enough_after = [visit for visit in after if visit.n >= question.balls_needed]
    if not enough_before or not enough_after:
        short = before if not enough_before else after
        balls = max(visit.n for visit in short)
        coach, student = words.too_few(balls=balls, needed=question.balls_needed, question=question)
        return _verdict("cannot_tell", question, coach, student, named=named)
    # Within one day the model error is common to both sides and cancels.
    change = change_between(before=enough_before, after=enough_after, parts=parts,
                            model_error=0.0 if today else question.model_error)
    numbers = _numbers(question, change, enough_before, enough_after, parts)
    code = classify(question=question, numbers=numbers,
                    after_means=[visit.mean for visit in enough_after], today=today)
    settle = None if today else _settle(code, question, numbers, parts)
    notes = tuple(d.sentence for d in named) + _left_out(question, before, after)
    coach = words.coach_sentences(code=code, numbers=numbers, question=question, settle=settle)
    return _verdict(code, question, coach,
                    words.student_sentences(code=code, question=question), named=named, numbers=numbers, settle=settle,
                    notes=notes, days_since=max(v.day for v in after) - max(v.day for v in before))


def classify(*, question: Question, numbers: Numbers, after_means: Sequence[float],
             today: bool = False) -> Code:
    """Return the verdict word for computed numbers; ``after_means`` are the means of the later visits.

    Inside or within one smallest worthwhile change (SWC) of the window before and after: in_window. Otherwise a
    gain counts toward the window up to its near edge and is lost again past the far one: overshot from one SWC
    beyond it. Gains, and slips, need an SWC and the stated chance; "established" also two later visits on the
    gaining side.
    """
    goal, swc = question.goal, question.swc - _SLACK
    starts_out = goal.outside(numbers.before) >= swc
    if not starts_out and goal.outside(numbers.after) < swc:
        return "in_window"
    likely = numbers.p_toward >= setting("p_likely")
    if starts_out and likely and goal.past_far_edge(numbers.before, numbers.after) >= swc:
        return "overshot"
    if starts_out and likely and numbers.progress >= swc:
        if today:
            return "better_today"
        gaining = sum((mean - numbers.before) * numbers.direction > 0 for mean in after_means)
        sure = numbers.p_toward >= setting("p_established") and gaining >= 2
        return "established" if sure else "likely"
    # What happens within a visit after new advice is adaptation, so only another day can show a slip.
    slipped = -numbers.progress >= swc and 1 - numbers.p_toward >= setting("p_likely")
    return "slipped" if slipped and not today else "cannot_tell"


def _numbers(question: Question, change: Change, before: Sequence[Visit], after: Sequence[Visit],
             parts: Components) -> Numbers:
    goal = question.goal
    direction = goal.direction(change.before) if goal.outside(change.before) >= question.swc - _SLACK else 0
    if direction == 0:
        # Starting in the window, the only thing to find out is whether it was left, on whichever side.
        direction = -1 if change.delta > 0 else 1
    gain = change.delta * direction
    return Numbers(
        before=change.before, after=change.after,
        balls_before=tuple(v.n for v in before), balls_after=tuple(v.n for v in after),
        change=change.delta, lo=change.lo, hi=change.hi,
        progress=goal.progress(change.before, change.after), direction=direction, se=change.se,
        p_toward=_chance(gain, change.se), p_worthwhile=_chance(gain - question.swc, change.se),
        swc=question.swc, mdc=minimum_detectable(se=change.se), s_w=parts.s_w, k=parts.k)


def _chance(gain: float, se: float) -> float:
    """P(true gain > 0). Balls without any spread leave no doubt about a difference, and none about a tie."""
    if se > 0:
        return normal_cdf(z=gain / se)
    return 0.5 if gain == 0 else float(gain > 0)


def _settle(code: Code, question: Question, numbers: Numbers, parts: Components) -> Settle | None:
    """What would settle the change as seen; or, where too little was seen, the change that is wanted."""
    starts_in = question.goal.outside(numbers.before) < question.swc - _SLACK
    if code not in ("cannot_tell", "likely") or starts_in or not parts.s_w > 0:
        return None
    basis: Basis = "seen"
    seen = assumed = numbers.change * numbers.direction
    if numbers.progress < question.swc - _SLACK:
        gap = question.goal.outside(numbers.before)
        basis = "window" if question.swc <= gap < math.inf else "smallest"
        assumed = gap if basis == "window" else question.swc
    return to_settle(
        parts=parts, before=numbers.balls_before, after=numbers.balls_after, seen=seen, assumed=assumed,
        basis=basis, target="likely" if code == "cannot_tell" else "established", swc=question.swc,
        model_error=question.model_error)


def _left_out(question: Question, *sides: Sequence[Visit]) -> tuple[str, ...]:
    return tuple(
        f"A visit with {words.counted(visit.n, noun='ball')} was left out: {question.balls_needed} are needed."
        for side in sides for visit in side if visit.n < question.balls_needed)


def _refused(question: Question, named: tuple[Difference, ...], reasons: tuple[str, ...]) -> Verdict:
    other_club = any(d.blocks and d.factor in ("club", "spec") for d in named)
    coach, student = words.not_alike(reasons, next_step=ALTERNATE if other_club else "")
    return _verdict("cannot_tell", question, coach, student, named=named)


def _verdict(code: Code, question: Question, coach: Sentences, student: Sentences, *,
             named: tuple[Difference, ...], numbers: Numbers | None = None, settle: Settle | None = None,
             notes: tuple[str, ...] = (), days_since: int | None = None) -> Verdict:
    return Verdict(code=code, word=words.WORDS[code], quantity=question.quantity, coach=coach, student=student,
                   numbers=numbers, settle=settle, differences=named, notes=notes, days_since=days_since)
