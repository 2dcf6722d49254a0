"""The pictures of the progress page, as plain data: dots over real dates."""

from dataclasses import replace
from datetime import date
from statistics import NormalDist

from lessons.pictures.progress_data import Panel
from lessons.pictures.progress_data import Visit as Dot
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.verdict import Verdict
from metrics.fields import FIELDS
from metrics.units import System, display_digits, display_unit

from .rows import VisitRow, in_unit

MOST_VISITS = 60


def panels_of(
    *, rows: list[VisitRow], question: Question | None, verdict: Verdict | None, quantity: str, system: System,
    turn: date | None = None,
) -> list[Panel]:
    """Return the pictures: the number itself, its spread, and the mishits. First looks and aided blocks only.

    For carry the number at the reference condition comes first, with the change that verdict could detect. ``turn``
    is the day of the change that is judged.
    """
    chosen = _drawn(rows)
    if not chosen:
        return []
    spec, unit = FIELDS[quantity], display_unit(field_key=quantity, system=system)
    digits = display_digits(field_key=quantity, system=system)
    plain = [row for row in chosen if not row.look.block.aids]
    number = Panel(
        label=spec.label, unit=unit, digits=digits, with_sign=bool(spec.plus_means), key="progress-number",
        visits=tuple(_dot(row, row.mean, (row.lo, row.hi)) for row in chosen),
        window=_window(question, quantity, system), turns=(turn,) if turn else (),
        **_noise(question, verdict, plain, quantity, system),
    )
    spread = replace(
        number, label=f"Spread of {spec.label.lower()} (SD)", with_sign=False, from_zero=True, window=None, noise=None,
        noise_about=None,
        key="progress-spread", visits=tuple(_dot(row, row.sd, (row.sd_lo, row.sd_hi)) for row in plain),
    )
    mishits = replace(
        spread, label="Mishits", unit="%", digits=0, key="progress-mishits",
        visits=tuple(_rate_dot(row) for row in plain),
    )
    return [*_numbers(number, chosen, verdict, system), spread, mishits]


def _numbers(number: Panel, rows: list[VisitRow], verdict: Verdict | None, system: System) -> list[Panel]:
    """Return the number's panel; where carries could be corrected, the corrected ones first."""
    stated = [row for row in rows if row.carry and row.carry.mean is not None]
    if not stated:
        return [number]
    corrected = replace(
        number, label="Carry at reference", key="progress-reference",
        visits=tuple(_stated_dot(row) for row in stated),
    )
    return [corrected, replace(number, label="Carry as given", noise=None, noise_about=None)]


def _drawn(rows: list[VisitRow]) -> list[VisitRow]:
    """The rows that have a dot; what was new at one that has none is marked at the next that has."""
    drawn, pending = [], ""
    for row in rows:
        change = "; ".join(dict.fromkeys(word for word in (pending, row.change) if word))
        if row.look.is_first_look or row.look.block.aids:
            drawn.append(replace(row, change=change))
            pending = ""
        else:
            pending = change
    return drawn[-2 * MOST_VISITS:]


def _dot(row: VisitRow, value: float | None, interval: tuple[float | None, float | None]) -> Dot:
    low, high = interval
    return Dot(
        day=date.fromordinal(row.look.visit.day), n=row.look.visit.n, mean=value, aided=bool(row.look.block.aids),
        interval=(low, high) if low is not None and high is not None else None, change=row.change,
    )


def _stated_dot(row: VisitRow) -> Dot:
    """Balls whose launch is missing are in the measured mean and not in this one, so it has an n of its own."""
    carry = row.carry
    return replace(_dot(row, carry.mean, (carry.mean - carry.half, carry.mean + carry.half)), n=carry.n)


def _rate_dot(row: VisitRow) -> Dot:
    n = row.look.with_mishits.n
    known = n >= setting("balls_to_show")
    return Dot(
        day=date.fromordinal(row.look.visit.day), n=n, mean=100 * row.mishits.share if known else None,
        interval=(100 * row.mishits.lo, 100 * row.mishits.hi) if known else None, change=row.change,
    )


def _window(question: Question | None, quantity: str, system: System) -> tuple[float, float] | None:
    if question is None or question.goal.window is None:
        return None
    window = question.goal.window
    return in_unit(window.lo, quantity, system), in_unit(window.hi, quantity, system)


def _noise(question: Question | None, verdict: Verdict | None, plain: list[VisitRow], quantity: str,
           system: System) -> dict[str, float | None]:
    """Return the change that luck alone could make and the baseline around which it is drawn.

    The verdict's own where there is one; else what two single visits could differ by, around the first of them.
    """
    if verdict is not None and verdict.numbers is not None:
        known = verdict.numbers
        return {"noise": in_unit(known.mdc, quantity, system), "noise_about": in_unit(known.before, quantity, system)}
    sized = [row for row in plain if row.look.visit.n >= setting("balls_to_show")]
    if question is None or len(sized) < 2 or question.quantity == "carry_m":
        return {}
    balls = sum(row.look.visit.n - 1 for row in sized)
    within = (sum(row.look.visit.squares for row in sized) / balls) ** 0.5
    n = sum(row.look.visit.n for row in sized) / len(sized)
    detectable = NormalDist().inv_cdf(0.975) * within * (2 * (question.k**2 + 1 / n)) ** 0.5
    return {"noise": in_unit(detectable, quantity, system), "noise_about": sized[0].mean}
