"""The board page: one phase of the setup in numbers and pictures, what was typed laid over what is stored."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol
from urllib.parse import urlencode

from lessons.library import current_library
from lessons.models import Block, Lesson, SetupObservation
from lessons.pictures.setup_face_on import draw as draw_face_on
from lessons.pictures.setup_plan import Plan, Setup
from lessons.pictures.setup_plan import draw as draw_plan
from lessons.queries.lesson import blocks_of
from lessons.queries.setup import Board, Row, board_of, work_block
from lessons.queries.setup_pictures import FACE_ON, PLAN, front_of, setup_from
from lessons.queries.setup_terms import UNITS, Term, other_terms, term
from metrics.rules.words import directed

ROOM = (Setup(stance_width_cm=58, ball_cm=-4),)
"""The frame stays while feet and ball move in it."""
STICKS = {"toes": "along the toes", "aim": "beyond the ball", "ball": "at the ball"}
"""Sticks that can be laid into the picture."""


class Typed(Protocol):
    value: float | None


@dataclass(frozen=True, kw_only=True)
class Choice:
    """How the board is looked at: which club, which phase, which units, which sticks, and whether the target is laid
    over."""

    category: str
    phase: str
    units: str
    goal: bool
    sticks: tuple[str, ...] = ("toes",)

    def address(self, **other: Any) -> str:
        """Write this choice, or another one, as the question part of an address."""
        chosen = {"category": self.category, "phase": self.phase, "units": self.units,
                  "goal": "yes" if self.goal else "no", "sticks": "-".join(self.sticks) or "none", **other}
        return "?" + urlencode(chosen)


@dataclass(frozen=True, kw_only=True)
class Line:
    """One checkpoint as the page shows it; ``value`` is what was typed, else what is stored."""

    row: Row
    value: float | None
    stored: str
    text: str
    term: Term
    method: str
    words: str
    terms: str
    outside: bool | None


def choice_of(*, asked: Mapping[str, str], lesson: Lesson, system: str) -> tuple[Choice, Block | None]:
    """Return what was asked for, with plain answers where nothing was, and the block it is about. No further query."""
    here = work_block(lesson)
    categories = {block.category: block for block in blocks_of(lesson)}
    block = categories.get(asked.get("category", ""), here)
    phases, units = SetupObservation.Phase.values, asked.get("units", "")
    phase = asked.get("phase", "")
    choice = Choice(
        category=block.category if block else "", phase=phase if phase in phases else phases[0],
        units=units if units in UNITS else ("in" if system == "yards" else "cm"), goal=asked.get("goal") == "yes",
        sticks=tuple(key for key in STICKS if key in asked.get("sticks", "toes").split("-")),
    )
    return choice, here if block is None or (here and here.category == block.category) else block


def board_page(
    *, lesson: Lesson, block: Block, choice: Choice, typed: Mapping[tuple[str, str], Typed] | None = None,
) -> dict[str, Any]:
    """Return everything the board shows. Three queries."""
    board = board_of(lesson=lesson, block=block, library=current_library(lesson.student))
    other = "after" if choice.phase == "before" else "before"
    stored = board.values(choice.phase)
    changed = {key: number.value for (key, phase), number in (typed or {}).items() if phase == choice.phase}
    now = {key: value for key, value in {**stored, **changed}.items() if value is not None}
    first, more = ([_line(row, board, choice, now, lesson.student.hand) for row in rows]
                   for rows in (board.first, board.more))
    return {
        "lesson": lesson, "student": lesson.student, "board": board, "choice": choice, "first": first, "more": more,
        "more_open": any(line.value is not None for line in more),
        "pictures": _pictures(board, lesson, choice, now, board.values(other), _goal(board, lesson)),
        "clubs": _clubs(lesson, choice), "phases": [
            (value, word, choice.address(phase=value)) for value, word in SetupObservation.Phase.choices],
        "units_choices": [(key, word, choice.address(units=key)) for key, word in UNITS.items()],
        "goal_address": choice.address(goal="no" if choice.goal else "yes"),
        "sticks": [(word, choice.address(sticks=_with(choice.sticks, key)), key in choice.sticks)
                   for key, word in STICKS.items()], "sticks_chosen": "-".join(choice.sticks) or "none",
        "methods": SetupObservation.Method.choices,
    }


def _line(row: Row, board: Board, choice: Choice, now: Mapping[str, float], hand: str) -> Line:
    key, shoulders = row.key, board.shoulder_width_cm
    seen, value = getattr(row, choice.phase), now.get(row.key)
    written = term(checkpoint=key, units=choice.units, shoulder_width_cm=shoulders)
    same = seen is not None and value == seen.value
    known = value is not None
    return Line(
        row=row, value=value, term=written, stored=written.text(seen.value) if seen else "",
        text=written.text(value) if known else "", method=seen.method if same else "not stored yet" if known else "",
        words=directed(key, value=value, hand=hand) if known else "",
        terms=other_terms(checkpoint=key, value=value, shoulder_width_cm=shoulders) if known else "",
        outside=None if row.window is None or not known else not row.window[0] <= value <= row.window[1],
    )


def _pictures(board: Board, lesson: Lesson, choice: Choice, now: Mapping[str, float], other: Mapping[str, float],
              goal: Mapping[str, float]) -> dict[str, Any]:
    """Draw the phase that is worked on; the one before it lies under it, the target over it where it is wanted."""
    after, width = choice.phase == "after", board.shoulder_width_cm
    shown = {**other, **now} if after else now
    windows = {key: row.window for key, row in board.rows.items() if row.window}
    left = lesson.student.left_handed
    return {
        "plan": draw_plan(Plan(
            now=setup_from(shown, width), before=setup_from(other, width) if after and other else None,
            goal=setup_from({**shown, **goal}, width) if choice.goal and goal else None, left_handed=left, room=ROOM,
            windows={key: windows[key] for key in PLAN if key in windows}, shoulder_width_cm=width,
            sticks=choice.sticks, key="board-plan", now_word="after" if after else "now")),
        "front": draw_face_on(front_of(
            shown, width, left_handed=left, key="board-front", now_word="after" if after else "now",
            windows={key: windows[key] for key in FACE_ON if key in windows},
            before=front_of(other, width, left_handed=left) if after and other else None,
            goal=front_of({**shown, **goal}, width, left_handed=left) if choice.goal and goal else None)),
    }


def _with(sticks: tuple[str, ...], key: str) -> str:
    """The sticks with one laid down, or taken up where it lay."""
    return "-".join(each for each in STICKS if (each in sticks) != (each == key)) or "none"


def _goal(board: Board, lesson: Lesson) -> dict[str, float]:
    """The target: the middle of each window, and over it what was agreed as the change of this lesson. One query."""
    middles = {key: sum(row.window) / 2 for key, row in board.rows.items() if row.window and key in (*PLAN, *FACE_ON)}
    agreed = lesson.prescriptions.filter(removed_at__isnull=True, value_to__isnull=False).last()
    if agreed is not None and agreed.checkpoint in (*PLAN, *FACE_ON):
        middles[agreed.checkpoint] = agreed.value_to
    return middles


def _clubs(lesson: Lesson, choice: Choice) -> list[tuple[str, str, bool]]:
    """Each kind of club that was used, newest name, with its address."""
    names = {block.category: block.club_name for block in blocks_of(lesson)}
    return [(name, choice.address(category=key), key == choice.category) for key, name in names.items()]
