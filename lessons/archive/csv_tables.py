"""One student's tables as CSV: text that no spreadsheet runs, numbers that stay numbers, balls that go in again."""

import json
from typing import Any

from django.utils import timezone

from academy.models import Student
from lessons.imports.export import csv_bytes
from lessons.models import Shot
from metrics.fields import FIELDS

from .outward import write

CSV_TABLES = {
    "balls": "lessons.shot", "blocks": "lessons.block", "lessons": "lessons.lesson",
    "practice": "lessons.practiceentry", "drills": "lessons.drillassignment", "setups": "lessons.setupobservation",
    "findings": "lessons.finding", "changes": "lessons.prescription", "messages": "lessons.studentmessage",
    "health": "academy.healthflag", "consents": "academy.consent", "goals": "academy.goal", "clubs": "academy.club",
    "flights": "academy.intent",
}
"""Name in the address -> table."""
_UNITS = {"°": "deg", "": ""}
_CALLED = {
    "Called start": "called_start", "Called curve": "called_curve", "Called height": "called_height",
    "Contact": "contact",
}


def table_csv(*, student: Student, name: str, sharing: bool = False) -> bytes | None:
    """Return one table of a student, None where the sharing form leaves it out. Raises KeyError for no table.

    Everything but the balls comes as it stands in an archive, with the same names.
    """
    label = CSV_TABLES[name]
    if name == "balls":
        return balls_csv(student=student)
    tables = write(student=student, sharing=sharing, only=label)["tables"]
    if not tables:
        return None
    found = tables[0]
    cells = zip(*found["rows"], strict=True) if found["rows"] else [() for _ in found["fields"]]
    return csv_bytes({
        field: [_cell(value) for value in column] for field, column in zip(found["fields"], cells, strict=True)
    })


def balls_csv(*, student: Student) -> bytes:
    """Return the balls with the headings that the import knows; take them in with “+ is the player's slice side”.

    Times are the academy's own clock. Two queries, whatever the number of balls.
    """
    shots = list(
        Shot.objects.present().filter(block__lesson__student=student, block__removed_at=None)
        .select_related("block__lesson").order_by("block__lesson__starts_at", "block__position", "number", "pk")
    )
    columns: dict[str, list[Any]] = {
        "Date": [_clock(shot.hit_at) for shot in shots],
        "Club": [shot.block.club_name for shot in shots],
        "Block": [f"block {shot.block.position}: {shot.block.get_purpose_display()}" for shot in shots],
        "Aids": [", ".join(shot.block.aid_labels) for shot in shots],
    }
    for key in FIELDS:
        values = [getattr(shot, key) for shot in shots]
        if any(value is not None for value in values):
            columns[heading(key)] = values
    for name, column in _CALLED.items():
        columns[name] = [getattr(shot, column) for shot in shots]
    columns["Mishit"] = [shot.is_mishit for shot in shots]
    columns["Does not count because"] = [shot.excluded_reason for shot in shots]
    return csv_bytes(columns)


def heading(key: str) -> str:
    """Return what a column of numbers is called: its label and its unit."""
    unit = _UNITS.get(FIELDS[key].unit, FIELDS[key].unit)
    return f"{FIELDS[key].label} ({unit})" if unit else FIELDS[key].label


def _clock(moment: Any) -> str:
    return timezone.make_naive(moment).isoformat(sep=" ", timespec="milliseconds")


def _cell(value: Any) -> Any:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, (list, dict)) else value
