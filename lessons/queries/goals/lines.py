"""Every open goal of a student with its verdict: process first, then performance, then outcome."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from academy.models import Goal, Student
from lessons.queries.age_bands import Band, to_a_child
from lessons.queries.held import InWork, in_work
from lessons.queries.skills.runs import runs_of
from metrics.units import System

from .ball import ball_goal
from .rounds import rounds_goal
from .runs import runs_goal
from .said import Said


@dataclass(frozen=True, kw_only=True)
class GoalLine:
    """One goal; ``said`` is None for a goal of words alone. ``days`` to its date, negative once that has passed."""

    goal: Goal
    said: Said | None
    days: int | None

    @property
    def when(self) -> str:
        """The date in words; empty without one."""
        if self.days is None:
            return ""
        day = f"by {self.goal.by_date:%-d %B %Y}"
        if self.days < 0:
            return f"{day}: that day has passed. Read it together, then close it or set it anew"
        return f"{day}, today" if self.days == 0 else f"{day}, {self.days} day{'' if self.days == 1 else 's'} left"


def goal_lines(*, student: Student, system: System, today: date, work: InWork | None = None) -> list[GoalLine]:
    """Return the open goals with their verdicts. ``work`` is the number in work, where the caller has it already.

    One query; with goals of the ball five more and two or three a goal, with goals of tests two more, with goals of
    rounds one more. Independent of the number of visits.
    """
    goals = list(student.goals.filter(ended_on__isnull=True).select_related("club"))
    told = _readers(student, goals, system, work)
    return [
        GoalLine(goal=goal, said=told[_kind(goal)](goal) if goal.read_from else None,
                 days=(goal.by_date - today).days if goal.by_date else None)
        for goal in goals
    ]


def _kind(goal: Goal) -> str:
    return goal.read_from if goal.read_from in (Goal.FIRST_TEN, Goal.ROUNDS) else "runs"


def _readers(student: Student, goals: list[Goal], system: System, work: InWork | None) -> dict[str, Any]:
    """Return how each kind of goal is read, its rows fetched once and only where a goal needs them."""
    needed = {_kind(goal) for goal in goals if goal.read_from}
    readers: dict[str, Any] = {}
    if Goal.FIRST_TEN in needed:
        work, intents = work or in_work(student=student), list(student.intents.all())
        readers[Goal.FIRST_TEN] = lambda goal: ball_goal(
            goal, student=student, work=work, intents=intents, system=system)
    if "runs" in needed:
        runs = runs_of(student=student)
        readers["runs"] = lambda goal: runs_goal(goal, runs=runs, system=system)
    if Goal.ROUNDS in needed:
        rounds = list(student.rounds.filter(removed_at__isnull=True))
        readers[Goal.ROUNDS] = lambda goal: rounds_goal(goal, rounds=rounds)
    return readers


def student_goals(*, lines: list[GoalLine], band: Band) -> list[dict[str, str]]:
    """Return the goals as the student reads them: words for the age, no signs, no statistics."""
    found = []
    for line in lines:
        if not band.may_read(line.goal.text):
            continue
        said = line.said
        words = {"text": line.goal.text, "kind": line.goal.kind, "when": "", "word": "", "sentence": ""}
        if line.days is not None and line.days >= 0:
            words["when"] = f"by {line.goal.by_date:%-d %B %Y}"
        if said and said.code and not band.numbers:
            words["sentence"] = to_a_child(said.code)
        elif said and said.student:
            words |= {"word": said.student.verdict, "sentence": said.student.reason}
        elif said:
            words["sentence"] = "Not measured since it was set. Your next visits will show it."
        found.append(words)
    return found
