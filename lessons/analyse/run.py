"""One file through the whole reading: columns, balls, statistics, findings. No database, no Django."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from lessons.imports import (
    AmbiguousFile,
    Columns,
    Parsed,
    Proposal,
    Question,
    Table,
    UnreadableFile,
    club_category,
    club_key,
    parse,
    propose,
    read_table,
)
from metrics.fields import FIELDS
from metrics.intervals import MeanEstimate, mean_estimate
from metrics.rules.assessment import Assessment
from metrics.rules.engine import evaluate
from metrics.rules.records import Library
from metrics.rules.types import AidPair, BlockEvidence, SetupChange

from .beside import Beside


@dataclass(frozen=True, kw_only=True)
class Request:
    """What is known beside the file. ``level`` is a handicap index or "beginner"; see the command's help."""

    hand: str
    intent: str
    club: str | None = None
    aids: tuple[str, ...] = ()
    level: float | str | None = None
    file_sign: str = "right"
    columns: Columns = field(default_factory=dict)
    player: str | None = None
    only_club: bool = False
    decimal: str | None = None
    beside: Beside = field(default_factory=Beside)
    with_aids: "File | None" = None
    before: "File | None" = None


@dataclass(frozen=True, kw_only=True)
class File:
    """The bytes of a file and its name."""

    data: bytes
    name: str


@dataclass(frozen=True, kw_only=True)
class BlockReading:
    """The balls of one club. ``numbers`` by field; ``derived`` names those worked out from two others."""

    name: str
    category: str
    balls: int
    numbers: dict[str, MeanEstimate]
    derived: frozenset[str]
    assessment: Assessment


@dataclass(frozen=True, kw_only=True)
class Analysis:
    """Everything that was found out about one file."""

    request: Request
    balls: "Balls | None"
    blocks: tuple[BlockReading, ...]


@dataclass(frozen=True, kw_only=True)
class Balls:
    """One file as it was read: its table, which column is which, and the balls."""

    table: Table
    proposal: Proposal
    parsed: Parsed


def analyse(file: File | None, *, request: Request, library: Library) -> Analysis:
    """Return the reading of a file, one block a club in the order of the file; without a file, of what was called.

    Raises ``UnreadableFile`` or ``AmbiguousFile`` with a sentence where a person has to do or say something.
    """
    if file is None:
        return Analysis(request=request, balls=None, blocks=(_called(request, library),))
    balls = read_balls(file, request)
    clubs = _clubs(balls.parsed, request)
    if request.beside.calls and len(clubs) > 1:
        raise AmbiguousFile("The called balls belong to one club and the file has several; say it with --only-club.")
    pairs = _others(request)
    blocks = tuple(_block(name, category, rows, balls.parsed, request, library, pairs)
                   for name, category, rows in clubs)
    return Analysis(request=request, balls=balls, blocks=blocks)


def read_balls(file: File, request: Request) -> Balls:
    """Return the balls of a file."""
    table = read_table(file.data, filename=file.name, decimal=request.decimal)
    _require_headings(request.columns, table)
    proposal = propose(table, given=request.columns or None)
    _refuse_open(proposal.questions)
    if not any(key in FIELDS for key in proposal.columns):
        raise UnreadableFile(f"No column name says which number it holds: found {', '.join(table.headings)}. "
                             "Expected names such as “Club path”, or say with --columns which column is which.")
    parsed = parse(table, columns=proposal.columns, hand=request.hand, file_sign=request.file_sign,
                   club=request.club, player=request.player)
    if not parsed.balls:
        first = f" The first: {parsed.problems[0].sentence()}" if parsed.problems else ""
        raise UnreadableFile(f"None of the {parsed.rows} rows could be read as a ball.{first}")
    return Balls(table=table, proposal=proposal, parsed=parsed)


def _others(request: Request) -> dict[str, Parsed]:
    """Return the balls of the files that go beside this one: with aids down, and before the setup was changed."""
    files = {"with_aids": request.with_aids, "before": request.before}
    return {name: read_balls(file, request).parsed for name, file in files.items() if file is not None}


def _shots(parsed: Parsed | None, category: str) -> dict[str, NDArray[np.float64]]:
    """Return the columns of one kind of club."""
    if parsed is None:
        return {}
    rows = [index for index, found in enumerate(parsed.categories) if found == category]
    return {key: values[rows] for key, values in parsed.shots.items()}


def _called(request: Request, library: Library) -> BlockReading:
    """Return the reading of balls that were only called."""
    calls = request.beside.calls
    if request.club is None or not calls:
        raise UnreadableFile("Without a file of balls, --club and calls in --beside are needed: what was struck?")
    category = club_category(request.club, names={})
    assessment = evaluate(_evidence(category, {}, len(calls), request, {}), library=library)
    return BlockReading(name=request.club, category=category, balls=len(calls), numbers={}, derived=frozenset(),
                        assessment=assessment)


def _require_headings(columns: Columns, table: Table) -> None:
    for key, match in columns.items():
        if match.heading not in table.headings:
            raise UnreadableFile(f"The file has no column “{match.heading}” for {key}; it has "
                                 f"{', '.join(f'“{heading}”' for heading in table.headings)}.")


def _refuse_open(questions: tuple[Question, ...]) -> None:
    if not questions:
        return
    said = " ".join(question.sentence for question in questions)
    way = "Give the answer with --decimal." if questions[0].about == "decimal" else "Say it with --columns MAP.json."
    raise AmbiguousFile(f"{said} {way}")


def _clubs(parsed: Parsed, request: Request) -> list[tuple[str, str, list[int]]]:
    """Return (name, category, rows) for each club, in the order in which the clubs appear."""
    groups: dict[tuple[str, str], list[int]] = {}
    for index, (name, category) in enumerate(zip(parsed.clubs, parsed.categories, strict=True)):
        groups.setdefault(club_key(name, category), []).append(index)
    found = [(parsed.clubs[rows[0]], parsed.categories[rows[0]], rows) for rows in groups.values()]
    if not request.only_club or request.club is None:
        return found
    wanted = club_category(request.club, names={})
    is_category = request.club.strip().lower() == wanted
    kept = [club for club in found if club[1] == wanted
            and (is_category or club_key(club[0], club[1]) == club_key(request.club, wanted))]
    if not kept:
        raise UnreadableFile(f"The file has no balls with {request.club}; it has "
                             f"{', '.join(f'{name} ({len(rows)})' for name, _, rows in found)}.")
    return kept


def _block(name: str, category: str, rows: list[int], parsed: Parsed, request: Request, library: Library,
           others: Mapping[str, Parsed]) -> BlockReading:
    shots = {key: values[rows] for key, values in parsed.shots.items()}
    assessment = evaluate(_evidence(category, shots, len(rows), request, others), library=library)
    exact = _exact(shots)
    numbers = {key: mean_estimate(values=(shots | exact)[key]) for key in FIELDS if key in shots or key in exact}
    return BlockReading(name=name, category=category, balls=len(rows), derived=frozenset(exact),
                        numbers={key: found for key, found in numbers.items() if found.n}, assessment=assessment)


def _evidence(category: str, shots: Mapping[str, NDArray[np.float64]], balls: int, request: Request,
              others: Mapping[str, Parsed]) -> BlockEvidence:
    level, moved = request.level, request.beside.moved
    change = moved and SetupChange(checkpoint=moved.checkpoint, before=moved.before, after=moved.after,
                                   shots_before=_shots(others.get("before"), category))
    pair = AidPair(with_aid=_shots(others["with_aids"], category), no_aid=shots) if "with_aids" in others else None
    return BlockEvidence(
        club_category=category, intent=request.intent, hand=request.hand, aids=request.aids,
        level=level if isinstance(level, str) else None,
        handicap_index=None if isinstance(level, str) else level, shots=shots, balls=balls,
        calls=request.beside.calls, change=change, pair=pair, **request.beside.known)


def _exact(shots: Mapping[str, NDArray[np.float64]]) -> dict[str, NDArray[np.float64]]:
    """Return what is plain arithmetic of two measured numbers and has no values of its own."""
    made = {}
    if {"face_angle_deg", "club_path_deg"} <= shots.keys() and _lacks(shots, "face_to_path_deg"):
        made["face_to_path_deg"] = shots["face_angle_deg"] - shots["club_path_deg"]
    if {"ball_speed_mps", "club_speed_mps"} <= shots.keys() and _lacks(shots, "smash_factor"):
        made["smash_factor"] = shots["ball_speed_mps"] / shots["club_speed_mps"]
    return {key: values for key, values in made.items() if np.isfinite(values).any()}


def _lacks(shots: Mapping[str, NDArray[np.float64]], key: str) -> bool:
    return key not in shots or not np.isfinite(shots[key]).any()
