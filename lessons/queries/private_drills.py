"""The drills as the private page shows them, and which of them may be practised today."""

from collections import Counter
from datetime import date, timedelta
from typing import Any

from django.utils import timezone

from academy.models import Student

from .age_bands import Band
from .pain_rule import PainRule, known_drill
from .shown import CARD, only, read
from .student_words import sentence

_SENTENCES = ("why", "setup", "pass_mark", "caution", "harder", "easier")


def drills_of(
    *, student: Student, practice: list[dict[str, Any]], today: date, rule: PainRule, band: Band
) -> list[dict[str, Any]]:
    """Return the drills of today, newest first, with how often each was practised in the last seven days.

    ``open`` says whether it may be practised; those that may come first. One query, and one a drill where pain
    or age closes any.
    """
    week = timezone.now() - timedelta(days=7)
    done = Counter(entry["assignment__code"] for entry in practice if entry["practised_at"] >= week)
    rows = read("drill", student.assignments.filter(removed_at__isnull=True, starts_on__lte=today))
    newest: dict[str, dict[str, Any]] = {}
    for row in rows:  # a drill given again is shown once, as it was given last
        if row["ends_on"] is None or row["ends_on"] >= today:
            done[row["code"]] += done[newest[row["drill"]]["code"]] if row["drill"] in newest else 0
            newest[row["drill"]] = row
    lines = [_drill(row, done[row["code"]], rule, band) for row in reversed(newest.values())]
    return sorted(lines, key=lambda line: not line["open"])


def _drill(row: dict[str, Any], done: int, rule: PainRule, band: Band) -> dict[str, Any]:
    card = row["card"] or {}
    shown = only(CARD, card)
    said = {key: sentence(shown[key]) if band.may_read(shown[key]) else "" for key in _SENTENCES if key in shown}
    closes = rule.long_game_off or rule.areas
    return {
        **shown, **said, "steps": [sentence(step) for step in shown.get("steps", []) if band.may_read(step)],
        "code": row["code"], "name": card.get("name", row["drill"]), "done": done,
        "dose": row["dose"] or card.get("dose", ""), "minutes_week": row["minutes_week"],
        "open": rule.allows(known_drill(row["drill"])) if closes else True,
    }
