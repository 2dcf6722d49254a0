"""The progress of one number with one kind of club: the verdict first, then every visit that it rests on."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from academy.models import Student
from lessons.pictures.progress import Panel
from metrics.change.aids import AidDependency, aid_dependency
from metrics.change.question import Question
from metrics.change.retention import Retention, retention
from metrics.change.verdict import Verdict
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.spread import SpreadChange, spread_change
from metrics.units import System, display_unit

from .carry import Comparable, comparable, judged
from .held import InWork, in_work, question_of, sides
from .progress_panels import panels_of
from .progress_rows import VisitRow, rows_of
from .visits import BlockVisit, block_visits, quantities_of


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What the reader looks at: a number, a kind of club, a period."""

    quantity: str
    category: str
    since: date | None = None
    until: date | None = None


@dataclass(frozen=True, kw_only=True)
class Progress:
    """Everything on the progress page."""

    choice: Choice
    choices: list[tuple[str, str, int]]
    question: Question | None
    verdict: Verdict | None
    rows: list[VisitRow]
    panels: list[Panel]
    spread: SpreadChange | None
    aids: AidDependency | None
    retention: Retention | None
    unit: str
    label: str
    told: Comparable

    @property
    def has_reference(self) -> bool:
        """Whether the number is one that the air changes and that can be stated at the reference condition."""
        return any(row.carry is not None for row in self.rows)


def progress_of(*, student: Student, wanted: dict[str, str], system: System) -> Progress | None:
    """Return the progress page's data, None where the student has no number yet. About nine queries."""
    choices = quantities_of(student=student)
    work = in_work(student=student)
    choice = _choose(wanted, choices, work)
    if choice is None:
        return None
    visits = [
        visit for visit in block_visits(student=student, quantity=choice.quantity, category=choice.category)
        if _inside(visit, choice)
    ]
    same = work is not None and (work.quantity, work.category) == (choice.quantity, choice.category)
    looked_at = work if same else InWork(
        quantity=choice.quantity, category=choice.category, since=work.since if work else None,
        intent=visits[-1].block.intent if visits else "straight",
    )
    told = comparable(visits=visits, quantity=choice.quantity)
    question = question_of(student=student, work=looked_at, visits=told.visits, system=system) if told.visits else None
    before, after = sides(looks=[visit for visit in told.visits if visit.is_first_look], work=looked_at)
    rows = rows_of(student=student, visits=visits, quantity=choice.quantity, system=system)
    verdict = judged(quantity=choice.quantity, question=question, before=before, after=after, told=told)
    return Progress(
        choice=choice, choices=choices, question=question, rows=rows, told=told, verdict=verdict,
        panels=panels_of(rows=rows, question=question, verdict=verdict, quantity=choice.quantity, system=system),
        spread=_spread(before, after), aids=_aids(question, visits), retention=_retention(question, told.visits),
        unit=display_unit(field_key=choice.quantity, system=system), label=FIELDS[choice.quantity].label,
    )


def _choose(wanted: dict[str, str], choices: list[tuple[str, str, int]], work: InWork | None) -> Choice | None:
    """Return what the address asks for where it exists, else the number in work, else the fullest one."""
    have = [(quantity, category) for category, quantity, _ in choices]
    category, _, quantity = wanted.get("show", "").partition(":")
    asked = (quantity, category)
    pair = next(
        (pair for pair in (asked, (work.quantity, work.category) if work else None) if pair in have),
        have[0] if have else None,
    )
    if pair is None:
        return None
    return Choice(quantity=pair[0], category=pair[1], since=_day(wanted.get("from")), until=_day(wanted.get("to")))


def _day(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        return None


def _inside(visit: BlockVisit, choice: Choice) -> bool:
    day = date.fromordinal(visit.visit.day)
    return (choice.since is None or day >= choice.since) and (choice.until is None or day <= choice.until)


def _spread(before: list[BlockVisit], after: list[BlockVisit]) -> SpreadChange | None:
    if not before or not after:
        return None
    return spread_change(
        before=[np.array(look.visit.balls) for look in before], after=[np.array(look.visit.balls) for look in after]
    )


def _aids(question: Question | None, visits: list[BlockVisit]) -> AidDependency | None:
    """Compare the newest visit's blocks with and without aids."""
    for aided in reversed([visit for visit in visits if visit.block.aids]):
        plain = [
            visit for visit in visits
            if visit.lesson.pk == aided.lesson.pk and not visit.block.aids and not visit.is_first_look
        ]
        if plain and question is not None:
            return aid_dependency(
                question=question, with_aids=aided.visit, without=plain[-1].visit,
                aid_first=aided.block.position < plain[-1].block.position,
            )
    return None


def _retention(question: Question | None, visits: list[BlockVisit]) -> Retention | None:
    """Follow the gain of the last but one visit to the first ten of the last one.

    Not for carry: what the air's correction may be wrong by between two days is not in this ratio.
    """
    if question is not None and question.quantity == "carry_m":
        return None
    tens = [visit for visit in visits if visit.block.purpose == "first_ten"]
    if not tens or question is None:
        return None
    later = tens[-1]
    earlier = [visit for visit in visits if visit.visit.day < later.visit.day]
    if not earlier:
        return None
    that_day = [visit for visit in earlier if visit.visit.day == earlier[-1].visit.day]
    start = next((visit for visit in that_day if visit.is_first_look), None)
    end = next((visit for visit in reversed(that_day) if not visit.block.aids and visit is not start), None)
    if start is None or end is None:
        return None
    return retention(question=question, baseline=start.visit, end=end.visit, later=later.visit)


def category_label(category: str) -> str:
    """Return what a kind of club is called."""
    return CATEGORIES[category]
