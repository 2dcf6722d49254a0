"""The academy without its people as two files: one for machines, one to read."""

from collections import Counter, defaultdict
from dataclasses import asdict
from statistics import median
from typing import Any

from lessons.models import Block
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS

from .anonymous import CANNOT, FEWEST_BALLS, GRID, Anonymous

SIGNS = "+ is the slice side for both hands; SI units, degrees and rpm excepted; means and spreads (SD) of a block."
SHOWN = ("club_speed_mps", "club_path_deg", "face_to_path_deg", "attack_angle_deg", "carry_m")


def as_document(found: Anonymous) -> dict[str, Any]:
    """Return plain JSON values. It does not go in again: there is nobody in it to go in."""
    return {
        "about": "Blocks of golf balls of grown students who agreed, without the people.", "signs": SIGNS,
        "alike_at_least": found.least, "fewest_balls_of_a_block": FEWEST_BALLS, "rounded_to": _steps(),
        "cannot_promise": list(CANNOT), "people": found.people, "blocks": [asdict(row) for row in found.rows],
    }


def as_text(found: Anonymous) -> str:
    """Return the same as a page to read: crowds, then clubs with the middle of the blocks' means."""
    crowds = Counter((one["hand"], one["age"], one["index"]) for one in found.people)
    lines = [
        "THE ACADEMY'S NUMBERS WITHOUT ITS PEOPLE", "",
        f"{len(found.people)} grown students who agreed, {len(found.rows)} blocks of {FEWEST_BALLS} balls or more. "
        f"At least {found.least} look alike in everything told of them.", SIGNS, "", "WHO",
        *(f"{count} students: {_group(*crowd)}" for crowd, count in sorted(crowds.items())),
        "", "WHAT", *_clubs(found), "", "WHAT NOBODY CAN PROMISE", *(f"- {one}" for one in CANNOT), "",
    ]
    return "\n".join(lines)


def _group(hand: str, age: str, index: str) -> str:
    words = [f"{hand}-handed" if hand != "any" else "either hand", f"age {age}", f"index {index}"]
    return ", ".join(words)


def _clubs(found: Anonymous) -> list[str]:
    kinds = defaultdict(list)
    for row in found.rows:
        kinds[row.club, row.aids, row.purpose].append(row)
    return [_club(*kind, kinds[kind]) for kind in sorted(kinds, key=lambda one: (list(CATEGORIES).index(one[0]), one))]


def _club(club: str, aids: bool, purpose: str, rows: list) -> str:
    people = len({row.person for row in rows})
    told = []
    for key in SHOWN:
        means = [row.numbers[key]["mean"] for row in rows if key in row.numbers]
        if means:
            field = FIELDS[key]
            told.append(f"{field.label.lower()} {median(means):g} {field.unit}".strip())
    head = f"{CATEGORIES[club]}, {Block.Purpose(purpose).label.lower()}, {'with' if aids else 'no'} aids"
    return f"{head}: {people} students, {len(rows)} blocks" + (f"; {', '.join(told)}" if told else "")


def _steps() -> dict[str, float]:
    return {key: GRID[field.dimension] for key, field in FIELDS.items()}
