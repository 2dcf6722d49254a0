"""The progress of one number with one kind of club: the verdict first, then every visit that it rests on."""

from dataclasses import dataclass, replace
from datetime import date
from statistics import NormalDist
from typing import Any

import numpy as np

from academy.models import HealthFlag, Student
from lessons.pictures.progress import Panel
from lessons.pictures.progress import Visit as Dot
from metrics.change.aids import AidDependency, aid_dependency
from metrics.change.question import Question
from metrics.change.retention import Retention, retention
from metrics.change.verdict import Verdict, judge_change
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.intervals import mean_estimate, sd_interval
from metrics.spread import Rate, SpreadChange, rate, spread_change
from metrics.units import System, display, display_digits, display_unit

from .held import InWork, in_work, question_of, sides
from .visits import BlockVisit, block_visits, quantities_of

FEWEST_FOR_A_MEAN = 5
MOST_VISITS_ON_A_PHONE = 30


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What the reader looks at: a number, a kind of club, a period."""

    quantity: str
    category: str
    since: date | None = None
    until: date | None = None


@dataclass(frozen=True, kw_only=True)
class VisitRow:
    """One block of one visit as the table shows it, in the reader's units."""

    look: BlockVisit
    mean: float | None
    lo: float | None
    hi: float | None
    sd: float | None
    sd_lo: float | None
    sd_hi: float | None
    mishits: Rate
    change: str


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
    question = question_of(student=student, work=looked_at, visits=visits, system=system) if visits else None
    looks = [visit for visit in visits if visit.is_first_look]
    before, after = sides(looks=looks, work=looked_at)
    rows = _rows(student, visits, choice.quantity, system)
    return Progress(
        choice=choice, choices=choices, question=question, rows=rows,
        verdict=_verdict(question, before, after),
        panels=_panels(rows, question, choice.quantity, system), spread=_spread(before, after),
        aids=_aids(question, visits), retention=_retention(question, visits),
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


def _verdict(question: Question | None, before: list[BlockVisit], after: list[BlockVisit]) -> Verdict | None:
    if question is None or not before or not after:
        return None
    return judge_change(
        question=question, before=[look.visit for look in before], after=[look.visit for look in after]
    )


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
    """Follow the gain of the last but one visit to the first ten of the last one."""
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


def _rows(student: Student, visits: list[BlockVisit], quantity: str, system: System) -> list[VisitRow]:
    injuries = list(HealthFlag.objects.filter(student=student).values_list("reported_at", "area"))
    rows, earlier = [], None
    for visit in visits:
        estimate = mean_estimate(values=np.array(visit.visit.balls))
        shown = estimate.n >= FEWEST_FOR_A_MEAN
        low, high = sd_interval(sd=estimate.sd, n=estimate.n) if shown else (None, None)
        values = (estimate.mean, estimate.lo, estimate.hi, estimate.sd, low, high) if shown else (None,) * 6
        mean, lo, hi, sd, sd_lo, sd_hi = (_in(value, quantity, system) for value in values)
        everything = visit.with_mishits.n
        rows.append(VisitRow(
            look=visit, mean=mean, lo=lo, hi=hi, sd=sd, sd_lo=sd_lo, sd_hi=sd_hi,
            mishits=rate(successes=everything - visit.visit.n, trials=everything),
            change=_what_changed(earlier, visit, injuries),
        ))
        earlier = visit
    return rows


def _what_changed(earlier: BlockVisit | None, visit: BlockVisit, injuries: list[tuple[Any, str]]) -> str:
    """Return what else was new since the block before: club, place, device, a pain report."""
    if earlier is None or earlier.lesson.pk == visit.lesson.pk:
        return ""
    first, second = earlier.visit.conditions, visit.visit.conditions
    words = []
    if (first.club, first.spec) != (second.club, second.spec):
        words.append("club")
    if first.venue_type != second.venue_type:
        words.append("place")
    if first.device != second.device:
        words.append("device")
    if any(earlier.lesson.starts_at < at <= visit.lesson.starts_at for at, _ in injuries):
        words.append("pain")
    return "new " + ", ".join(words) if words else ""


def _panels(rows: list[VisitRow], question: Question | None, quantity: str, system: System) -> list[Panel]:
    """Return three pictures: the number itself, its spread, and the mishits. First looks and aided blocks only."""
    chosen = [row for row in rows if row.look.is_first_look or row.look.block.aids][-MOST_VISITS_ON_A_PHONE:]
    if not chosen:
        return []
    spec, unit = FIELDS[quantity], display_unit(field_key=quantity, system=system)
    digits = display_digits(field_key=quantity, system=system)
    plain = [row for row in chosen if not row.look.block.aids]
    number = Panel(
        label=spec.label, unit=unit, digits=digits, with_sign=bool(spec.plus_means), key="progress-number",
        visits=tuple(_dot(row, row.mean, (row.lo, row.hi)) for row in chosen),
        window=_window(question, quantity, system), noise=_noise(question, plain, quantity, system),
    )
    spread = replace(
        number, label=f"Spread of {spec.label.lower()} (SD)", with_sign=False, from_zero=True, window=None, noise=None,
        key="progress-spread", visits=tuple(_dot(row, row.sd, (row.sd_lo, row.sd_hi)) for row in plain),
    )
    mishits = replace(
        spread, label="Mishits", unit="%", digits=0, key="progress-mishits",
        visits=tuple(_rate_dot(row) for row in plain),
    )
    return [number, spread, mishits]


def _dot(row: VisitRow, value: float | None, interval: tuple[float | None, float | None]) -> Dot:
    low, high = interval
    return Dot(
        day=date.fromordinal(row.look.visit.day), n=row.look.visit.n, mean=value, aided=bool(row.look.block.aids),
        interval=(low, high) if low is not None and high is not None else None, change=row.change,
    )


def _rate_dot(row: VisitRow) -> Dot:
    n = row.look.with_mishits.n
    known = n >= FEWEST_FOR_A_MEAN
    return Dot(
        day=date.fromordinal(row.look.visit.day), n=n, mean=100 * row.mishits.share if known else None,
        interval=(100 * row.mishits.lo, 100 * row.mishits.hi) if known else None, change=row.change,
    )


def _window(question: Question | None, quantity: str, system: System) -> tuple[float, float] | None:
    if question is None or question.goal.window is None:
        return None
    window = question.goal.window
    return _in(window.lo, quantity, system), _in(window.hi, quantity, system)


def _noise(question: Question | None, plain: list[VisitRow], quantity: str, system: System) -> float | None:
    """Return the change between two single visits that luck alone could make, by the player's own spread."""
    sized = [row for row in plain if row.look.visit.n >= FEWEST_FOR_A_MEAN]
    if question is None or len(sized) < 2:
        return None
    balls = sum(row.look.visit.n - 1 for row in sized)
    within = (sum(row.look.visit.squares for row in sized) / balls) ** 0.5
    n = sum(row.look.visit.n for row in sized) / len(sized)
    detectable = NormalDist().inv_cdf(0.975) * within * (2 * (question.k**2 + 1 / n)) ** 0.5
    return _in(detectable, quantity, system)


def _in(value: float | None, quantity: str, system: System) -> float | None:
    if value is None or value != value:
        return None
    return float(display(field_key=quantity, value=float(value), system=system)[0])


def category_label(category: str) -> str:
    """Return what a kind of club is called."""
    return CATEGORIES[category]
