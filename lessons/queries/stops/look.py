"""Look: the setup in numbers, before and after, and what the student believes."""

from typing import Any

from lessons.library import current_library
from lessons.models import Lesson, SetupObservation
from lessons.queries.setup import CM_PER_INCH, Board, board_of, work_block
from lessons.queries.setup_pictures import face_on, plan


def context(lesson: Lesson) -> dict[str, Any]:
    """Return the board for the club in work, with its pictures. Three queries."""
    block = work_block(lesson)
    if block is None:
        return {"lesson": lesson, "board": None}
    board = board_of(lesson=lesson, block=block, library=current_library(lesson.student))
    return {"lesson": lesson, "methods": SetupObservation.Method.choices, **drawn(board, lesson)}


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return the board without its pictures. Three queries."""
    block = work_block(lesson)
    if block is None:
        return {"board": None}
    return {"board": board_of(lesson=lesson, block=block, library=current_library(lesson.student))}


def drawn(board: Board, lesson: Lesson) -> dict[str, Any]:
    """Return the board with what is shown beside its boxes. No query."""
    left = lesson.student.left_handed
    return {
        "board": board, "stance": _stance(board), "plan": plan(board, left_handed=left, key="look-plan"),
        "face_on": face_on(board, left_handed=left, key="look-front"),
    }


def summary(data: dict[str, Any]) -> tuple[str, str]:
    board = data["board"]
    if board is None:
        return "no block yet", ""
    outside = sum(row.latest is not None and bool(row.latest.outside) for row in board.rows.values())
    if not board.noted:
        return "no setup number yet", ""
    numbers = f"{board.noted} setup number{'' if board.noted == 1 else 's'}"
    words = f"{numbers}, {outside} outside the window" if outside else f"{numbers}, all inside"
    return words, "done" if board.noted >= 5 else "begun"


def _stance(board: Board) -> dict[str, str]:
    """The stance window as it is measured on the ground, in cm and in inches."""
    window = board.rows["stance_width_ratio"].window
    if window is None:
        return {}
    low, high = (edge * board.shoulder_width_cm for edge in window)
    return {"cm": f"{low:.0f} to {high:.0f} cm", "inches": f"{low / CM_PER_INCH:.1f} to {high / CM_PER_INCH:.1f} in"}
