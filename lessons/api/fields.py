"""One member of a shot at a time: a number, a call, a club, a time. Each raises ``Wrong`` with a sentence."""

import math
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from lessons.imports.labels import club_category
from metrics.fields import FIELDS
from metrics.units import UnitError, to_si

OLDEST = datetime(2000, 1, 1, tzinfo=UTC)
CONTACTS = ("clean", "fat", "thin", "top", "sky", "heel", "toe", "shank")


class Wrong(ValueError):
    """Something that cannot be taken; the message says what was expected."""


@dataclass(frozen=True, kw_only=True)
class Call:
    """Something seen by eye: the column that keeps it and the values there are."""

    column: str
    values: tuple[Any, ...]


CALLS: dict[str, Call] = {
    "start": Call(column="called_start", values=(-1, 0, 1)),
    "curve": Call(column="called_curve", values=(-2, -1, 0, 1, 2)),
    "height": Call(column="called_height", values=(-1, 0, 1)),
    "contact": Call(column="contact", values=CONTACTS),
}


def read_number(name: str, value: Any) -> float:
    """Return a number in the field's unit. ``value`` is a number, or ``{"value": 90, "unit": "mph"}``."""
    spec = FIELDS.get(name)
    if spec is None:
        raise Wrong(f"This is no quantity of a ball; expected one of {', '.join(FIELDS)}.")
    unit = None
    if isinstance(value, dict):
        if set(value) != {"value", "unit"} or not isinstance(value["unit"], str):
            raise Wrong("A number is expected, or an object with value and unit.")
        value, unit = value["value"], value["unit"]
    number = _finite(value)
    if unit is not None:
        try:
            number = to_si(value=number, unit=unit[:40], dimension=spec.dimension)
        except UnitError as error:
            raise Wrong(str(error)) from error
    if not spec.lower <= number <= spec.upper:
        raise Wrong(f"{number:g} {spec.unit}".rstrip() + " was found; expected "
                    + f"{spec.lower:g} to {spec.upper:g} {spec.unit}".rstrip() + ".")
    return number


def read_call(name: str, value: Any) -> Any:
    """Return a call as its column keeps it."""
    call = CALLS.get(name)
    if call is None:
        raise Wrong(f"This is nothing to call; expected one of {', '.join(CALLS)}.")
    # 1 and True are equal in Python, and 1.0 is a whole number in JSON.
    if isinstance(value, (bool, list, dict)) or value not in call.values:
        raise Wrong(f"Expected one of {', '.join(map(str, call.values))}.")
    return value if isinstance(value, str) else int(value)


def read_club(value: Any, names: Mapping[str, str]) -> tuple[str, str]:
    """Return a club's name and category, both empty where none was sent; the category also for an unknown one."""
    if value is None:
        return "", ""
    if not isinstance(value, str):
        raise Wrong("A name is expected, such as “7 iron”.")
    name = value.strip()
    if not name or len(name) > 40:
        raise Wrong("A name of 1 to 40 signs is expected, such as “7 iron”.")
    if any(unicodedata.category(sign) in {"Cc", "Cs"} for sign in name):
        raise Wrong("The name holds a sign that cannot be printed.")
    return name, club_category(name, names=names) or ""


def read_moment(value: Any, now: datetime) -> datetime | None:
    """Return when the ball was hit; None where it was not sent."""
    if value is None:
        return None
    if not isinstance(value, str) or len(value) > 40:
        raise Wrong("A time is expected, such as 2026-05-04T10:31:07+02:00.")
    try:
        moment = datetime.fromisoformat(value)
        if moment.tzinfo is None:
            raise Wrong("The time says no offset; expected one such as 2026-05-04T10:31:07+02:00 or …07Z.")
        moment = moment.astimezone(UTC)
    except Wrong:
        raise
    except (ValueError, OverflowError) as error:
        raise Wrong("A time is expected, such as 2026-05-04T10:31:07+02:00.") from error
    if not OLDEST <= moment <= now + timedelta(days=1):
        raise Wrong("The time is not one at which this ball can have been hit; is the sender's clock right?")
    return moment


def _finite(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise Wrong("A number is expected.")
    try:
        number = float(value)
    except OverflowError as error:
        raise Wrong("The number is too big to be one.") from error
    if not math.isfinite(number):
        raise Wrong("The number is not finite.")
    return number
