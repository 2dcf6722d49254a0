"""A table and its matched columns into balls: arrays in SI with player-relative signs, the raw row beside.

Good rows survive bad ones: a row with a cell that cannot be read is set aside whole, with a problem for
each such cell, and can be corrected with ``with_corrections`` and parsed again. Nothing is derived: only
what a column holds is filled in.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS

from .cells import Signs, read_field
from .labels import read_clubs, read_players
from .lines import Lines
from .moments import read_moments
from .table import Table
from .types import CLUB, DATE, PLAYER, TIME, WHEN, AmbiguousFile, Columns, Problem, Question


@dataclass(frozen=True, kw_only=True)
class Parsed:
    """The balls of one file for one player.

    Every array and list of ``shots``, ``lines``, ``raw``, ``clubs``, ``categories`` and ``when`` has one
    entry for each good ball, in the order of the file. ``shots`` maps field key to values in the field's
    unit, + = slice side, NaN where the ball has none. ``when`` (datetime64[ms], the file's own clock, NaT
    where none) is None without a date column. ``rows`` counts the rows of the file that are balls or
    should be; ``broken`` keeps the text of those set aside, by file line; ``others`` counts the balls of
    other players. ``questions`` are left where a date order is open; the dates are then not read.
    """

    shots: dict[str, NDArray[np.float64]]
    lines: NDArray[np.int64]
    raw: Sequence[str]
    clubs: Sequence[str]
    categories: Sequence[str]
    when: NDArray[np.datetime64] | None
    rows: int
    problems: tuple[Problem, ...]
    broken: dict[int, str]
    others: dict[str, int]
    questions: tuple[Question, ...] = ()

    @property
    def balls(self) -> int:
        """How many balls could be read."""
        return len(self.lines)


def parse(table: Table, *, columns: Columns, hand: str, file_sign: str = "right", club: str | None = None,
          player: str | None = None, club_names: Mapping[str, str] | None = None,
          date_order: str | None = None) -> Parsed:
    """Return the balls of a table.

    ``hand`` is the player's, "right" or "left"; ``file_sign`` says what + means ("right" of the target, or
    the "player"'s slice side). ``club`` (a name or category) is for balls whose file names none; ``player``
    chooses one of several. ``club_names`` maps clubs of the file to categories, before ``metrics.clubs`` is
    asked. ``date_order`` ("dmy", "mdy", "ymd") answers an open order of day and month.

    Raises ``AmbiguousFile`` where the player or the club is open, ``KeyError`` for a heading that the
    table does not have, ``ValueError`` for an unknown field, hand or convention.
    """
    _check(columns, hand=hand, file_sign=file_sign)
    chosen, others = read_players(table, columns.get(PLAYER), player)
    problems: dict[int, list[Problem]] = {}
    labels = read_clubs(table, columns.get(CLUB), default=club, names=club_names or {})
    _add(problems, labels.bad)
    moments = read_moments(table, when=columns.get(WHEN), date=columns.get(DATE), time=columns.get(TIME),
                           order=date_order)
    _add(problems, moments.bad)
    shots = {}
    signs = Signs.of(hand=hand, file_sign=file_sign)
    for key in FIELDS:
        if key in columns:
            read = read_field(table, key, columns[key], signs=signs)
            shots[key] = read.values
            _add(problems, read.bad)
    kept = np.ones(len(table.lines), dtype=bool) if chosen is None else chosen.copy()
    wrong = [index for index in sorted(problems) if kept[index]]
    kept[wrong] = False
    set_aside = {int(table.lines[index]): table.raw[index] for index in wrong}
    return Parsed(
        # Never changed, so that the table's own columns may stand here where no row is left out.
        shots=shots if kept.all() else {key: values[kept] for key, values in shots.items()},
        lines=table.lines[kept], raw=_pick(table.raw, kept), clubs=_pick(labels.names, kept),
        categories=_pick(labels.categories, kept),
        when=None if moments.values is None else moments.values[kept],
        rows=table.rows - sum(others.values()),
        problems=tuple(sorted((*table.problems, *(p for index in wrong for p in problems[index])),
                              key=lambda problem: problem.row)),
        broken=dict(sorted((set_aside | dict(table.broken)).items())), others=others, questions=moments.questions)


def _check(columns: Columns, *, hand: str, file_sign: str) -> None:
    if hand not in ("right", "left"):
        raise ValueError(f"The hand is “{hand}”; expected right or left.")
    if file_sign not in ("right", "player"):
        raise ValueError(f"The file's sign is “{file_sign}”; expected right or player.")
    unknown = [key for key in columns if key not in FIELDS and key not in (CLUB, PLAYER, WHEN, DATE, TIME)]
    if unknown:
        raise ValueError(f"“{unknown[0]}” is not a field; expected one of {', '.join(FIELDS)}.")
    if not any(key in FIELDS for key in columns):
        raise AmbiguousFile("No column holds a number of a ball that is known here; match at least one column.")


def _add(problems: dict[int, list[Problem]], bad: Mapping[int, Problem]) -> None:
    for index, problem in bad.items():
        problems.setdefault(index, []).append(problem)


def _pick(items: Sequence[str], kept: NDArray[np.bool_]) -> Sequence[str]:
    if isinstance(items, Lines):
        return items.picked(kept)
    return items if kept.all() else [item for item, keep in zip(items, kept.tolist(), strict=True) if keep]


