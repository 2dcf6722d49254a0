"""Where one file should become several blocks: another club, or a long pause between two balls."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

PAUSE_MINUTES = 10.0
"""A pause from which something else may have happened between two balls. Common practice, no source."""

_SHORT = {"pitchingwedge": "pw", "approachwedge": "aw", "gapwedge": "gw", "sandwedge": "sw", "lobwedge": "lw"}


@dataclass(frozen=True, kw_only=True)
class BlockProposal:
    """Balls ``start`` to ``stop`` (end not included) as one block. ``reason`` says why it begins here."""

    start: int
    stop: int
    club: str
    category: str
    reason: str


def propose_blocks(clubs: Sequence[str], categories: Sequence[str], when: NDArray[np.datetime64] | None, *,
                   pause_minutes: float = PAUSE_MINUTES) -> list[BlockProposal]:
    """Return the blocks of a row of balls in the order they were hit; lengths of all three are equal.

    ``when`` may be None or hold NaT: then only clubs part blocks. A clock that goes back parts too.
    """
    starts: list[tuple[int, str]] = []
    for index in range(len(clubs)):
        reason = "the first ball" if not index else _reason(index, clubs, categories, when, pause_minutes)
        if reason:
            starts.append((index, reason))
    stops = [*(start for start, _ in starts[1:]), len(clubs)][: len(starts)]
    return [BlockProposal(start=start, stop=stop, club=clubs[start], category=categories[start], reason=reason)
            for (start, reason), stop in zip(starts, stops, strict=True)]


def _reason(index: int, clubs: Sequence[str], categories: Sequence[str], when: NDArray[np.datetime64] | None,
            pause_minutes: float) -> str:
    if club_key(clubs[index], categories[index]) != club_key(clubs[index - 1], categories[index - 1]):
        return f"another club: {clubs[index]} after {clubs[index - 1]}"
    if when is None or np.isnat(when[index]) or np.isnat(when[index - 1]):
        return ""
    minutes = (when[index] - when[index - 1]) / np.timedelta64(1, "m")
    if minutes < 0:
        return "the clock goes back"
    return f"a pause of {minutes:.0f} minutes" if minutes >= pause_minutes else ""


@lru_cache(maxsize=256)
def club_key(name: str, category: str) -> tuple[str, str]:
    """Return what makes two club names one club: "7i" and "7 Iron" are one, "7i" and "6i" are two."""
    digits = "".join(character for character in name if character.isdigit())
    letters = "" if digits else "".join(c for c in name.casefold() if c.isalpha())
    if category in ("driver", "putter"):
        return category, digits if len(digits) > 1 else ""
    return category, digits or _SHORT.get(letters, letters)
