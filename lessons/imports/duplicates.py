"""Balls that are here already, and a second device that watched the same balls. Arrays in, indexes out.

A file exported twice may be rounded differently, so balls are compared within half of what the coarser
export would round away, and not by equal text.
"""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS

Floats = NDArray[np.float64]
Shots = Mapping[str, Floats]
Times = NDArray[np.datetime64] | None

TOLERANCE = {"speed": 0.12, "distance": 0.6, "angle": 0.11, "rotation": 6.0, "small_length": 0.6,
             "low_point": 0.3, "time": 0.06, "ratio": 0.011}
"""Two values within this, in the field's unit, may be one value rounded twice (whole mph and yards
included only where both files have them). A judgement, no source."""
LEAST_FIELDS = 3
SAME_SECOND = np.timedelta64(2000, "ms")


@dataclass(frozen=True, kw_only=True)
class Overlap:
    """Which new balls are stored already. ``match`` shape (new,): index of the stored ball, −1 for a new one."""

    match: NDArray[np.int64]

    @property
    def already(self) -> int:
        """How many of the new balls are stored already."""
        return int((self.match >= 0).sum())

    @property
    def new(self) -> int:
        """How many are not."""
        return int((self.match < 0).sum())

    def sentence(self) -> str:
        """Return the overlap in words: "23 of 25 already here, 2 new"."""
        total = len(self.match)
        if not self.already:
            return f"{total} new, none of them here already"
        return f"{self.already} of {total} already here, {self.new or 'none'} new"


def find_overlap(new: Shots, stored: Shots, *, new_clubs: Sequence[str] | None = None,
                 stored_clubs: Sequence[str] | None = None, new_when: Times = None, stored_when: Times = None,
                 ) -> Overlap:
    """Return which new balls are stored already; each stored ball answers for one new ball only.

    Two balls are one where club category and moment (within 2 s, if both have one) agree, and so do all
    quantities that both have, of which there must be three, or all that the new ball has.
    """
    count = _rows(new)
    match = np.full(count, -1, dtype=np.int64)
    shared = [key for key in FIELDS if key in new and key in stored]
    if not count or not _rows(stored) or not shared:
        return Overlap(match=match)
    key = max(shared, key=lambda name: (np.isfinite(new[name]).sum(), FIELDS[name].dimension == "rotation"))
    step = 2 * TOLERANCE[FIELDS[key].dimension]
    places: dict[int, list[int]] = defaultdict(list)
    for index, value in enumerate(stored[key]):
        places[_cell(value, step)].append(index)
    used: set[int] = set()
    same_label = _same_label(new_clubs, stored_clubs)
    same_moment = _same_moment(new_when, stored_when)
    for index in range(count):
        cell = _cell(new[key][index], step)
        near = [other for place in (cell - 1, cell, cell + 1) for other in places.get(place, ())]
        for other in sorted(near):
            if (other not in used and same_label(index, other) and same_moment(index, other)
                    and _same_numbers(new, stored, shared, index, other)):
                match[index] = other
                used.add(other)
                break
    return Overlap(match=match)


def _same_numbers(new: Shots, stored: Shots, shared: list[str], i: int, j: int) -> bool:
    compared = 0
    for key in shared:
        difference = abs(new[key][i] - stored[key][j])
        if np.isnan(difference):
            continue
        if difference > TOLERANCE[FIELDS[key].dimension]:
            return False
        compared += 1
    has = sum(bool(np.isfinite(values[i])) for values in new.values())
    return compared >= min(LEAST_FIELDS, max(has, 1))


def _same_label(new: Sequence[str] | None, stored: Sequence[str] | None) -> Callable[[int, int], bool]:
    if new is None or stored is None:
        return lambda i, j: True
    return lambda i, j: new[i] == stored[j]


def _same_moment(new: Times, stored: Times) -> Callable[[int, int], bool]:
    if new is None or stored is None:
        return lambda i, j: True
    # NaT compares False with everything: a ball without a moment agrees with any.
    return lambda i, j: not abs(new[i] - stored[j]) > SAME_SECOND


def _cell(value: float, step: float) -> int:
    return -(2**40) if np.isnan(value) else int(np.floor(value / step))


def _rows(shots: Shots) -> int:
    return max((len(values) for values in shots.values()), default=0)
