"""Ten setups without a ball: the table to fill in, and what it says so far."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lessons.library import current_library
from lessons.models import Block, Lesson, SetupLook, SetupObservation, SetupSeries
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import board_of
from lessons.repeated import looks_of, values_of
from metrics.address import PASS_MARKS, SETUPS, SHOULDERS_TO_FEET, AddressCheck, address_check
from metrics.checkpoints import CHECKPOINTS
from metrics.rules.quantities import info
from metrics.rules.words import amount, directed, number, unit_suffix

COLUMNS = ("feet_deg", "shoulders_deg", "ball_position_cm")
MORE = ("hips_deg", "face_aim_deg", "stance_width_ratio")


@dataclass(frozen=True, kw_only=True)
class Box:
    """One number of one setup, as it stands in its box."""

    name: str
    label: str
    text: str
    method: str


@dataclass(frozen=True, kw_only=True)
class Result:
    """What the setups say of one checkpoint."""

    label: str
    verdict: str
    why: str
    mark: str
    next_step: str


def page(*, lesson: Lesson, block: Block, series: SetupSeries | None, wide: bool,
         typed: Mapping[str, str] | None = None) -> dict[str, Any]:
    """Return what the page shows. About five queries, however many setups there are."""
    looks = looks_of(series) if series else []
    keys = (*COLUMNS, *MORE) if wide or any(look.checkpoint in MORE for look in looks) else COLUMNS
    count = max([SETUPS, *(look.number for look in looks)])
    return {
        "lesson": lesson, "student": lesson.student, "series": series, "here": block, "wide": wide,
        "columns": [CHECKPOINTS[key] for key in keys],
        "rows": [(n, [_box(n, key, looks, typed or {}) for key in keys]) for n in range(1, count + 1)],
        "results": results(lesson=lesson, block=block, looks=looks), "done": len({look.number for look in looks}),
        "wanted_count": SETUPS, "methods": SetupObservation.Method.choices,
        "others": list(lesson.setup_series.filter(removed_at__isnull=True)),
        "clubs": list({each.category: each for each in blocks_of(lesson)}.values()),
    }


def results(*, lesson: Lesson, block: Block, looks: list[SetupLook]) -> list[Result]:
    """Return a result for each checkpoint that was looked at and has a pass mark. Two queries, none without looks."""
    values = {key: found for key, found in values_of(looks).items() if key in PASS_MARKS}
    if not values:
        return []
    wanted = wanted_values(lesson=lesson, block=block)
    return [
        _result(address_check(checkpoint=key, values=values[key], wanted=wanted.get(key, 0.0),
                              measured_within=_measured_within(key, looks)), lesson.student.hand)
        for key in PASS_MARKS if key in values
    ]


def wanted_values(*, lesson: Lesson, block: Block) -> dict[str, float]:
    """Return what each checkpoint should be: what was agreed in this lesson, else the middle of the window."""
    board = board_of(lesson=lesson, block=block, library=current_library(lesson.student))
    wanted = {key: sum(row.window) / 2 for key, row in board.rows.items() if row.window}
    agreed = lesson.prescriptions.filter(removed_at__isnull=True, value_to__isnull=False).last()
    if agreed is not None and agreed.checkpoint in PASS_MARKS:
        wanted[agreed.checkpoint] = agreed.value_to
    return wanted


def _measured_within(key: str, looks: list[SetupLook]) -> float:
    """How far off one look may be: its own ± from a photo, the usual one by eye, nothing to speak of by tape."""
    parts = ("shoulders_deg", "feet_deg") if key == SHOULDERS_TO_FEET else (key,)
    errors = [look.uncertainty if look.uncertainty is not None else CHECKPOINTS[look.checkpoint].photo_error or 0.0
              for look in looks if look.checkpoint in parts and look.method != SetupObservation.Method.TAPE]
    return max(errors, default=0.0)


def _box(n: int, key: str, looks: list[SetupLook], typed: Mapping[str, str]) -> Box:
    name = f"look-{n}-{key}"
    look = next((one for one in looks if (one.number, one.checkpoint) == (n, key)), None)
    stored = (look.entered or f"{look.value:g}") if look else ""
    return Box(name=name, label=f"Setup {n}, {CHECKPOINTS[key].label}", text=typed.get(name, stored),
               method=look.get_method_display() if look else "")


def _result(check: AddressCheck, hand: str) -> Result:
    if check.passed is None:
        verdict = f"Not enough setups yet: {check.n} of {SETUPS}"
        after = f"{SETUPS - check.n} more, stepping out each time."
    elif check.passed:
        verdict, after = "Passed", "Now ten balls: does it stay when the club moves?"
    else:
        verdict, after = "Not passed yet", "Practise it without a ball, then build ten anew."
    if check.within_error:
        after += (" The mark is finer than this way of looking can tell: measure with a tape, or from a photo taken "
                  "close by.")
    label = info(check.checkpoint).label
    return Result(label=label, verdict=verdict, why=_why(check, hand), mark=_mark(check), next_step=after)


def _why(check: AddressCheck, hand: str) -> str:
    key, mean = check.checkpoint, check.wanted + check.bias
    said = [f"Average {directed(key, value=mean, hand=hand)}, wanted {directed(key, value=check.wanted, hand=hand)}"]
    if check.n > 1:
        low, high = (number(check.wanted + edge, digits=1) for edge in (check.bias_lo, check.bias_hi))
        unit, digits = unit_suffix(info(key).unit), max(1, info(key).digits)
        spread = [number(edge, digits=digits) for edge in (check.sd, check.sd_lo, check.sd_hi)]
        said.append(f"the true average lies between {low} and {high}{unit}")
        said.append(f"SD {spread[0]}{unit} ({spread[1]} to {spread[2]})")
    said.append(f"{check.inside} of {check.n} within {amount(key, value=check.mark.tolerance)}")
    return "; ".join(said) + "."


def _mark(check: AddressCheck) -> str:
    key, mark = check.checkpoint, check.mark
    if mark.mean_error is not None and mark.sd is not None:
        return (f"Passed with an average error of {amount(key, value=mark.mean_error)} or less and an SD of "
                f"{amount(key, value=mark.sd)} or less, over {SETUPS} setups.")
    needed = f"{mark.share * SETUPS:.0f} of {SETUPS}" if mark.share < 1 else f"all {SETUPS}"
    return f"Passed with {needed} within {amount(key, value=mark.tolerance)} of what is wanted."
