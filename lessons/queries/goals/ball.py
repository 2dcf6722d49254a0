"""A goal read from the ball: the first tens before and after it, judged as “Did it hold?” judges everything."""

from django.utils import timezone

from academy.models import Club, Goal, Intent, Student
from lessons.queries.held import Held, InWork, held_of
from metrics.change.question import Question
from metrics.change.words import counted, shown, wanted
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.units import System
from metrics.windows import Window

from .said import Said


def ball_goal(
    goal: Goal, *, student: Student, work: InWork | None, intents: list[Intent], system: System
) -> Said:
    """Return the verdict on a goal of the ball. Two queries, three for carry.

    Where a change was made for this number, the looks before it are what later ones are compared with; else the looks
    up to the day on which the goal was set.
    """
    field, club = FIELDS.get(goal.quantity), goal.club
    if field is None:
        return Said(measure=goal.quantity, reason="This number is not known any more.")
    held = held_of(work=_asked(goal, work, intents), student=student, system=system)
    measure = f"{field.label}, {_with(goal, club)}"
    if held.question is None:
        return Said(measure=measure, **_missing(goal, held))
    window = held.question.goal.window
    found = Said(
        measure=measure, now=_now(held, held.question),
        wanted=wanted(window=window, question=held.question) if window else "more",
    )
    return _with_verdict(found, held)


def _asked(goal: Goal, work: InWork | None, intents: list[Intent]) -> InWork:
    """Return the goal as a number in work."""
    same = work is not None and (work.quantity, work.category) == (goal.quantity, goal.category)
    shape = next((one.shape for one in intents if one.category == goal.category), Intent.Shape.STRAIGHT)
    since = work.since if same and work.changes else None
    return InWork(
        quantity=goal.quantity, category=goal.category, intent=goal.intent or shape, since=since,
        window=window_of(goal), turn=goal.created_at, club=goal.club_id,
    )


def window_of(goal: Goal) -> Window | None:
    """Return a goal's limits as a window; an end that is not given lies where nothing can be beyond it."""
    if goal.lower is None and goal.upper is None:
        return None
    field = FIELDS[goal.quantity]
    ends = (field.lower if goal.lower is None else goal.lower, field.upper if goal.upper is None else goal.upper)
    return Window(lo=min(ends), hi=max(ends))


def _with(goal: Goal, club: Club | None) -> str:
    return club.name if club else CATEGORIES.get(goal.category, "any club").lower()


def _missing(goal: Goal, held: Held) -> dict[str, str]:
    """Return why there is no question yet, and what would change that."""
    if held.looks:
        return {"reason": "Nobody has said which way is better: no window is kept for this number.",
                "next_step": "Set the goal anew with at least or at most."}
    return {"reason": "No ball with this number was hit in a first look yet.",
            "next_step": "Begin a visit with ten balls with this club, without aids."}


def _now(held: Held, question: Question) -> str:
    last = held.looks[-1]
    mean = shown(last.visit.mean, question=question, signed=True)
    return f"{mean}, {counted(last.visit.n, noun='ball')} on {timezone.localtime(last.lesson.starts_at):%-d %b %Y}"


def _with_verdict(found: Said, held: Held) -> Said:
    verdict = held.verdict
    if verdict is None:
        reason = "One side only so far: nothing was hit in a first ten after the goal was set."
        return Said(measure=found.measure, wanted=found.wanted, now=found.now, reason=reason,
                    next_step="Begin the next visit with ten balls, no aids, no advice.")
    return Said(
        measure=found.measure, wanted=found.wanted, now=found.now, code=verdict.code, reason=verdict.coach.reason,
        next_step=verdict.coach.next_step, student=verdict.student,
    )
