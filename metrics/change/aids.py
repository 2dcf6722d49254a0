"""Aid dependency: is the swing nearer its window only while something lies on the ground?"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from metrics.change.model import change_between, components, same_day
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.visits import Visit
from metrics.change.words import Sentences, counted, shown
from metrics.distributions import normal_cdf

AidCode = Literal["leans", "perhaps", "free", "too_few"]


@dataclass(frozen=True, kw_only=True)
class AidDependency:
    """How much nearer the window the balls with aids were: ``d`` in the stored unit, positive = needs the aids.

    ``p`` is the chance that the balls without aids are truly on the far side; NaN with too few balls.
    """

    code: AidCode
    d: float
    p: float
    balls_with: int
    balls_without: int
    aid_first: bool
    coach: Sentences
    student: Sentences


def aid_dependency(*, question: Question, with_aids: Visit, without: Visit, aid_first: bool,
                   history: Sequence[Sequence[Visit]] = ()) -> AidDependency:
    """Return D = distance of the no-aid mean from the window - distance of the with-aid mean, same visit.

    Without a window D is how much more the aids gained the wanted way. "leans" from one smallest worthwhile change
    with 9 chances in 10, "perhaps" from one without them, "free" below; "too_few" under 8 balls a side.
    Raises ValueError for two different days.
    """
    if with_aids.day != without.day:
        raise ValueError("aid dependency compares two blocks of one visit")
    needed = int(setting("balls_for_aids"))
    if min(with_aids.n, without.n) < needed:
        return _too_few(question, with_aids, without, aid_first, needed)
    parts = same_day(components(phases=((without,), (with_aids,), *history), k=question.k,
                                sd_prior=question.sd_prior))
    change = change_between(before=[without], after=[with_aids], parts=parts)
    d = question.goal.progress(without.mean, with_aids.mean)
    gain = change.delta * question.goal.direction(without.mean)
    p = normal_cdf(z=gain / change.se) if change.se > 0 else float(gain > 0)
    code: AidCode = "free"
    if d >= question.swc - 1e-9:
        code = "leans" if p >= setting("p_likely") else "perhaps"
    coach, student = _sentences(code, question, with_aids, without, d, aid_first)
    return AidDependency(code=code, d=d, p=p, balls_with=with_aids.n, balls_without=without.n,
                         aid_first=aid_first, coach=coach, student=student)


def _sentences(code: AidCode, question: Question, with_aids: Visit, without: Visit, d: float,
               aid_first: bool) -> tuple[Sentences, Sentences]:
    seen = (f"With aids {shown(with_aids.mean, question=question, signed=True)} (n {with_aids.n}), without "
            f"{shown(without.mean, question=question, signed=True)} (n {without.n}) in the same visit.")
    order = " The balls with aids came first, so some of their effect may still have been there." if aid_first else ""
    window = question.goal.window
    both_in = window is not None and window.contains(with_aids.mean) and window.contains(without.mean)
    if d <= -question.swc:
        return _better_without(seen + order, -d, question)
    gain = f"{shown(abs(d), question=question)} {_better(question)}"
    verdict, reason, following = {
        "leans": ("Needs the aids",
                  f"The aids bring it {gain}.",
                  "Fade them: five balls with, five without, and guess before looking."),
        "perhaps": ("May need the aids",
                    f"The aids seem to bring it {gain}, but so few balls could do that by luck.",
                    "Repeat with and without, ten balls each."),
        "free": ("In the window both ways" if both_in else "No clear difference with and without aids",
                 f"The difference counts {shown(d, question=question)}, less than the "
                  f"{shown(question.swc, question=question)} that "
                 "matters.",
                 "Plan a first ten for the next visit: no aids, no advice."),
    }[code]
    coach = Sentences(verdict=verdict, reason=f"{seen} {reason}{order}", next_step=following)
    student = {
        "leans": Sentences(verdict="The swing can do it; the aim isn’t yours yet",
                           reason="It works while the sticks are down and not yet without them.",
                           next_step="Five balls with, five without. Guess first, then look."),
        "perhaps": Sentences(verdict="Not clear yet", reason="With and without help it was a little different.",
                             next_step="Try ten with and ten without next time."),
        # Praise only what was reached: with a window, both means have to lie in it.
        "free": Sentences(verdict="You did it without help too" if both_in or window is None
                          else "About the same with and without help",
                          reason="There was no clear difference with and without the sticks today.",
                          next_step="Begin your next visit with ten balls, nothing on the ground."),
    }[code]
    return coach, student


def _better(question: Question) -> str:
    """Which way is better, in words: a carry has no window to come nearer to."""
    if question.goal.window is not None:
        return "nearer to the window"
    return "further up" if question.goal.upward == 1 else "further down"


def _better_without(seen: str, d: float, question: Question) -> tuple[Sentences, Sentences]:
    following = "Leave the aids away and plan a first ten for the next visit: no aids, no advice."
    has_window = question.goal.window is not None
    coach = Sentences(verdict="Nearer the window without the aids" if has_window else "Better without the aids",
                      next_step=following,
                      reason=f"{seen} Without them it was {shown(d, question=question)} {_better(question)} today.")
    student = Sentences(verdict="Nearer without help today" if has_window else "Better without help today",
                        reason="It went better with nothing on the ground than with the sticks.",
                        next_step="Begin your next visit with ten balls, nothing on the ground.")
    return coach, student


def _too_few(question: Question, with_aids: Visit, without: Visit, aid_first: bool, needed: int) -> AidDependency:
    reason = (f"{counted(with_aids.n, noun='ball')} with aids and {without.n} without: not enough balls yet, "
              f"{needed} each are needed.")
    words = Sentences(verdict="Can’t tell yet", reason=reason,
                      next_step=f"Hit {needed} with and {needed} without in one visit.")
    return AidDependency(code="too_few", d=float("nan"), p=float("nan"), balls_with=with_aids.n,
                         balls_without=without.n, aid_first=aid_first, coach=words, student=words)


def gives_back(*, ratio: float) -> bool:
    """True where a next first ten gave back half or more of the gain made with aids (retention 0.5 or less)."""
    return ratio <= 0.5
