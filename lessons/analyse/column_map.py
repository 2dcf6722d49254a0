"""The file behind --columns: which heading is which field, as JSON."""

import json
from pathlib import Path

from lessons.imports import ROLES, AmbiguousFile, ColumnMatch, UnreadableFile
from metrics.fields import FIELDS
from metrics.units import UnitError, unit_named


def read_column_map(path: Path) -> dict[str, ColumnMatch]:
    """Return the matches in a JSON file: field -> heading, or field -> {"heading": …, "unit": …}.

    Raises ``UnreadableFile`` or ``AmbiguousFile`` with a sentence for anything else.
    """
    try:
        data = json.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        raise UnreadableFile(f"The column map {path} cannot be opened: {error.strerror}.") from None
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"The column map {path} is not JSON: {error}.") from None
    if not isinstance(data, dict) or not data:
        raise UnreadableFile(f'The column map {path} must be an object such as {{"carry_m": "Carry (yd)"}}.')
    matches = {key: _match(key, value) for key, value in data.items()}
    headings = [match.heading for match in matches.values()]
    twice = next((heading for heading in headings if headings.count(heading) > 1), None)
    if twice is not None:
        raise AmbiguousFile(f"The column map gives “{twice}” to two fields; one column holds one thing.")
    return matches


def _match(key: str, value: object) -> ColumnMatch:
    if key not in FIELDS and key not in ROLES:
        raise UnreadableFile(f"“{key}” in the column map is no field; expected one of "
                             f"{', '.join((*FIELDS, *ROLES))}.")
    if isinstance(value, str):
        return ColumnMatch(heading=value)
    if isinstance(value, dict) and isinstance(value.get("heading"), str) and set(value) <= {"heading", "unit"}:
        return ColumnMatch(heading=value["heading"], unit=_unit(key, value.get("unit")))
    raise UnreadableFile(f'“{key}” in the column map must be a heading, or {{"heading": …, "unit": …}}.')


def _unit(key: str, unit: object) -> str | None:
    if unit is None or key not in FIELDS:
        return None
    try:
        return unit_named(name=str(unit), dimension=FIELDS[key].dimension)
    except UnitError as error:
        raise UnreadableFile(f"The column map, {key}: {error}") from None
