"""Ten balls then and now, with and without aids, as a student may read them. No query of its own.

Each comparison is like with like: one club, one wanted shape, one quantity; mishits are counted and not averaged, as
on the coach's page. Below five balls there is no mean.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from lessons.models import Block
from metrics.change.settings import setting
from metrics.change.verdict import Verdict

from .age_bands import Band, to_a_child
from .student_words import direction

PREFERRED = ("club_path_deg", "launch_direction_deg", "side_m", "face_angle_deg", "carry_m")


@dataclass(frozen=True, kw_only=True)
class Heap:
    """One block as a line: when, how many balls, and the mean where there are enough of them."""

    when: datetime
    balls: int
    size: float | None = None
    word: str = ""
    clean: int | None = None
    called: int = 0

    @property
    def short(self) -> bool:
        return self.size is None and self.called < setting("balls_to_show")


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two blocks side by side."""

    quantity: str
    club: str
    first: Heap
    second: Heap | None


def progress_words(verdict: Verdict | None, band: Band) -> dict[str, str] | None:
    """Return the verdict as this age reads it: one honest sentence, and the next step where there are numbers."""
    if verdict is None:
        return None
    if not band.numbers:
        return {"sentence": to_a_child(verdict.code), "next_step": ""}
    said = verdict.student
    return {"word": said.verdict, "sentence": said.reason, "next_step": said.next_step}


def first_ten(*, blocks: list[dict[str, Any]], wanted: str, left_handed: bool) -> Pair | None:
    """Return the newest first-ten block and the one of an earlier visit with the same club; newest first."""
    tens = [block for block in blocks if block["purpose"] == Block.Purpose.FIRST_TEN]
    if not tens:
        return None
    now = tens[0]
    then = next(
        (block for block in tens[1:] if _alike(block, now)
         and block["lesson__starts_at"].date() < now["lesson__starts_at"].date()), None,
    )
    return _pair(now, then, wanted, left_handed)


def aids(*, blocks: list[dict[str, Any]], wanted: str, left_handed: bool) -> Pair | None:
    """Return the newest block with aids and one without them of the same visit and club.

    Where several are without, the newest that shares a quantity is the like one; called balls are not set
    against measured ones.
    """
    for aided in blocks:
        if aided["purpose"] != Block.Purpose.WITH_AID:
            continue
        plain = [
            block for block in blocks if block["purpose"] == Block.Purpose.NO_AID
            and _alike(block, aided) and block["lesson__starts_at"] == aided["lesson__starts_at"]
        ]
        if plain:
            like = [block for block in plain if quantity_for(wanted=wanted, first=aided, second=block)]
            return _pair(aided, (like or plain)[0], wanted, left_handed)
    return None


def _alike(first: dict[str, Any], second: dict[str, Any]) -> bool:
    return all(first[name] == second[name] for name in ("category", "club_name", "intent"))


def quantity_for(*, wanted: str, first: dict[str, Any], second: dict[str, Any] | None) -> str:
    """Return the quantity to show: the one in work where both blocks have it, else the first they share."""
    both = [block["summary"].get("numbers_struck", {}) for block in (first, second) if block is not None]
    for name in (wanted, *PREFERRED):
        if name and all(name in numbers for numbers in both):
            return name
    return ""


def _pair(first: dict[str, Any], second: dict[str, Any] | None, wanted: str, left_handed: bool) -> Pair:
    quantity = quantity_for(wanted=wanted, first=first, second=second)
    return Pair(
        quantity=quantity, club=first["club_name"], first=heap(first, quantity, left_handed),
        second=heap(second, quantity, left_handed) if second is not None else None,
    )


def heap(block: dict[str, Any], quantity: str, left_handed: bool) -> Heap:
    """Return one block's line."""
    summary = block["summary"] or {}
    numbers = summary.get("numbers_struck", {}).get(quantity) or {}
    contact = summary.get("calls", {}).get("contact", {})
    n, mean = numbers.get("n", 0), numbers.get("mean")
    enough = bool(quantity) and n >= setting("balls_to_show") and mean is not None
    return Heap(
        when=block["lesson__starts_at"], balls=summary.get("judged", 0), size=abs(mean) if enough else None,
        word=direction(quantity=quantity, value=mean, left_handed=left_handed) if enough else "",
        clean=contact.get("clean", 0) if contact and not quantity else None,
        called=sum(contact.values()) if not quantity else 0,
    )
