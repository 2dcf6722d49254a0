"""The academy's own rules for its diary and office, with what is assumed until somebody sets them.

Every figure here is common practice without a source; ``Academy.house_rules`` overrides it by the same name.
"""

from dataclasses import dataclass, fields
from typing import Any

from academy.models import Academy


@dataclass(frozen=True, kw_only=True)
class House:
    """Rules as numbers. ``travel_minutes`` is the way between two venues."""

    travel_minutes: float = 20
    late_cancel_hours: float = 24
    children_per_adult: int = 8
    """For students under twelve."""
    students_per_adult: int = 10
    silent_days: int = 21
    clubs_checked_months: int = 24
    first_hour: int = 8
    last_hour: int = 20
    students_shared: bool = False
    """Whether every coach finds every student; academy.models.student reads the same name."""
    second_step_for_all: bool = False
    """Whether nobody gets on without a second step of signing in; academy.middleware reads the same name."""


def house(academy: Academy | None = None) -> House:
    """Return the rules, from an academy already read or by one query. A value of the wrong kind is passed over."""
    academy = academy or Academy.objects.only("house_rules").first()
    own: dict[str, Any] = academy.house_rules if academy else {}
    usual = House()
    taken = {}
    for field in fields(House):
        value = own.get(field.name)
        kind = type(getattr(usual, field.name))
        if kind is bool:
            taken[field.name] = value is True
        elif isinstance(value, (int, float)) and not isinstance(value, bool) and value > 0:
            taken[field.name] = kind(value)
    return House(**taken)
