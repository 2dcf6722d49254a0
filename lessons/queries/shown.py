"""The one list of what a private page may read. Its queries fetch these columns and no others.

Left out on purpose: the coach's own notes, health text, findings and their evidence, other students, row numbers.
Health reaches the page only as duty-of-care cards (academy.health), never as what was written.
"""

from collections.abc import Iterable, Mapping
from typing import Any

SHOWN: dict[str, tuple[str, ...]] = {
    "student": (
        "name", "hand", "shoulder_width_cm", "units", "language", "practice_minutes_week", "born_on",
        "coach__first_name", "coach__last_name",
    ),
    "lesson": ("starts_at", "minutes", "status", "kind", "goal", "student_note", "next_date", "next_measure"),
    "prescription": ("change", "cue", "stop_sign", "checkpoint", "expected", "value_to", "lesson__starts_at"),
    "drill": ("code", "drill", "card", "dose", "minutes_week", "starts_on", "ends_on"),
    "block": ("purpose", "club_name", "category", "intent", "aids", "summary", "lesson__starts_at"),
    "setup": ("category", "checkpoint", "phase", "value", "lesson__starts_at"),
    "practice": ("practised_at", "minutes", "balls", "hits", "note", "assignment__code"),
    "plan": ("body", "starts_on"),
    "goal": ("text", "kind", "by_date"),
    "message": ("kind", "text", "written_by", "sent_at", "answer", "answered_at"),
}

CARD = (
    "name", "why", "kit", "setup", "steps", "dose", "cue", "pass_mark", "caution", "minutes", "balls", "easier",
    "harder",
)
"""Which parts of a drill's card are shown."""


def read(kind: str, rows: Any) -> list[dict[str, Any]]:
    """Fetch only the listed columns of a queryset. One query."""
    return list(rows.values(*SHOWN[kind]))


def listed(kind: str, row: Any) -> dict[str, Any]:
    """Return only the listed columns of a row that was read already with all it points to. No query."""
    return {name: _follow(row, name.split("__")) for name in SHOWN[kind]}


def _follow(row: Any, names: list[str]) -> Any:
    return _follow(getattr(row, names[0]), names[1:]) if names else row


def only(keys: Iterable[str], mapping: Mapping[str, Any]) -> dict[str, Any]:
    """Return the listed parts of a mapping; what is missing is left out."""
    return {key: mapping[key] for key in keys if mapping.get(key) not in (None, "", [], ())}
