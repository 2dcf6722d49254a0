"""The progress of one number with one kind of club: the verdict first, then every visit that it rests on."""

from dataclasses import dataclass, field, replace
from datetime import date, datetime

from django.utils import timezone

from academy.models import Student
from lessons.frames import shots_of
from lessons.models import Lesson, Prescription
from lessons.pictures.progress_data import Panel
from lessons.queries.carry import Comparable, comparable, judged
from lessons.queries.held import InWork, in_work, question_of, sides
from lessons.queries.visits import BlockVisit, block_visits, quantities_of
from metrics.change.question import Question
from metrics.change.settle import Design, design
from metrics.change.verdict import Verdict
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.units import System, display_unit

from .beside import Beside, beside
from .landing import LandingView, landing_views
from .luck import spreads_of
from .nothing import Nothing, why_nothing
from .panels import panels_of
from .rows import VisitRow, rows_of
from .shares import Sides

PLANS = ((1, 1), (1, 2), (2, 2), (3, 3))
"""Visits before and after that are laid out for who plans to see a small change."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What the reader looks at: a number, a kind of club, a period, and from which change it is counted."""

    quantity: str
    category: str
    since: date | None = None
    until: date | None = None
    counted_from: str = ""


@dataclass(frozen=True, kw_only=True)
class Progress:
    """Everything on the progress page. ``verdict`` is None where ``nothing`` says why there is none."""

    choice: Choice
    choices: list[tuple[str, str, int]]
    changes: tuple[Prescription, ...]
    question: Question | None
    verdict: Verdict | None
    nothing: Nothing | None
    beside: Beside
    rows: list[VisitRow]
    panels: list[Panel]
    landings: list[LandingView]
    plans: list[Design]
    last_visit: datetime | None
    days_since: int | None
    unit: str
    label: str
    told: Comparable = field(repr=False)

    @property
    def has_reference(self) -> bool:
        """Whether the number is one that the air changes and that can be stated at the reference condition."""
        return any(row.carry is not None for row in self.rows)


def progress_of(*, student: Student, wanted: dict[str, str], system: System) -> Progress | None:
    """Return the progress page's data, None where the student has no number yet. About thirteen queries."""
    choices = quantities_of(student=student)
    work = in_work(student=student)
    choice = _choose(wanted, choices, work)
    if choice is None:
        return None
    every = block_visits(student=student, quantity=choice.quantity, category=choice.category)
    visits = [visit for visit in every if _inside(visit, choice)]
    looked_at = _looked_at(work, choice, visits)
    told = comparable(visits=visits, quantity=choice.quantity)
    question = question_of(student=student, work=looked_at, visits=told.visits, system=system) if told.visits else None
    before, after = sides(looks=[visit for visit in told.visits if visit.is_first_look], work=looked_at)
    rows = rows_of(student=student, visits=visits, quantity=choice.quantity, system=system)
    verdict = judged(quantity=choice.quantity, question=question, before=before, after=after, told=told)
    shots = shots_of([visit.block for visit in visits])
    first, second = sides(looks=[visit for visit in visits if visit.is_first_look], work=looked_at)
    still = Sides(before=first, after=second, shots=shots)
    last = Lesson.objects.done().filter(student=student).values_list("starts_at", flat=True).first()
    return Progress(
        choice=choice, choices=choices, changes=looked_at.changes, question=question, rows=rows, told=told,
        verdict=verdict, last_visit=last, days_since=_days_since(last),
        nothing=None if verdict else why_nothing(question=question, quantity=choice.quantity, before=before,
                                                 after=after, work=looked_at),
        beside=beside(question=question, visits=visits, told=told, before=before, after=after, sides=still,
                      work=looked_at, verdict=verdict),
        panels=panels_of(rows=rows, question=question, verdict=verdict, quantity=choice.quantity, system=system,
                         turn=timezone.localdate(looked_at.since.lesson.starts_at) if looked_at.since else None),
        landings=landing_views(still, category=choice.category, left_handed=student.left_handed, system=system),
        plans=_plans(question, before, after),
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
    return Choice(quantity=pair[0], category=pair[1], since=_day(wanted.get("from")), until=_day(wanted.get("to")),
                  counted_from=wanted.get("since", ""))


def _looked_at(work: InWork | None, choice: Choice, visits: list[BlockVisit]) -> InWork:
    """Return the work as the reader asked for it: counted from another change, or of another number."""
    if work is not None and (work.quantity, work.category) == (choice.quantity, choice.category):
        since = next((change for change in work.changes if str(change.code) == choice.counted_from), work.since)
        return replace(work, since=since)
    return InWork(
        quantity=choice.quantity, category=choice.category, since=work.since if work else None,
        intent=visits[-1].block.intent if visits else "straight", changes=work.changes if work else (),
    )


def _day(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        return None


def _inside(visit: BlockVisit, choice: Choice) -> bool:
    day = date.fromordinal(visit.visit.day)
    return (choice.since is None or day >= choice.since) and (choice.until is None or day <= choice.until)


def _days_since(last: datetime | None) -> int | None:
    return (timezone.localdate() - timezone.localdate(last)).days if last else None


def _plans(question: Question | None, before: list[BlockVisit], after: list[BlockVisit]) -> list[Design]:
    """Return what one, two and three visits each side could show, by this player's own spread."""
    if question is None or not before:
        return []
    parts = spreads_of(question, before, after)
    if not parts.s_w > 0:
        return []
    return [design(s_w=parts.s_w, k=parts.k, wanted=question.swc, visits_before=j, visits_after=f) for j, f in PLANS]


def category_label(category: str) -> str:
    """Return what a kind of club is called."""
    return CATEGORIES[category]
