"""Balls that are here already. Arrays in, indexes out.

The same file comes back with the same numbers; another export of the same balls may be rounded otherwise.
So balls are first matched to the last digit, then within what rounding can do. A match by rounding alone
counts only beside another one: a ball that merely resembles one of ten thousand stored balls is new, and
must not be lost as a duplicate.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS

Floats = NDArray[np.float64]
Shots = Mapping[str, Floats]
Times = NDArray[np.datetime64] | None

TOLERANCE = {"speed": 0.12, "distance": 0.6, "angle": 0.11, "rotation": 6.0, "small_length": 0.6,
             "low_point": 0.3, "time": 0.06, "ratio": 0.011}
"""Two values within this, in the field's unit, may be one value rounded twice. A judgement, no source."""
LEAST_FIELDS = 3
SAME_MOMENT = np.timedelta64(2000, "ms")
NEIGHBOURS = 3
"""How far apart the stored balls of two neighbouring new ones may be for these to support each other."""


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

    ``new`` and ``stored`` map fields to arrays of one length each, in the order the balls were hit. Two
    balls are one where club and moment (within 2 s, if both have one) agree, and so do all quantities that
    both have, of which there must be three, or all that the new ball has.
    """
    shared = [key for key in FIELDS if key in new and key in stored]
    match = np.full(_rows(new), -1, dtype=np.int64)
    if not len(match) or not _rows(stored) or not shared:
        return Overlap(match=match)
    pairs = _Pairs(
        new=np.column_stack([new[key] for key in shared]), stored=np.column_stack([stored[key] for key in shared]),
        least=np.minimum(LEAST_FIELDS, np.maximum(1, np.isfinite(np.column_stack(list(new.values()))).sum(axis=1))),
        limits=np.array([TOLERANCE[FIELDS[key].dimension] for key in shared]),
        clubs=None if new_clubs is None or stored_clubs is None else (np.array(new_clubs), np.array(stored_clubs)),
        when=None if new_when is None or stored_when is None else (new_when, stored_when))
    _match_exactly(pairs, match)
    alike = _match_by_rounding(pairs, match)
    return Overlap(match=_supported(match, alike))


@dataclass(frozen=True)
class _Pairs:
    """The shared quantities of both sides, shapes (n, k) and (m, k), and what else has to agree."""

    new: Floats
    stored: Floats
    least: NDArray[np.int64]
    limits: Floats
    clubs: tuple[NDArray[np.str_], NDArray[np.str_]] | None
    when: tuple[NDArray[np.datetime64], NDArray[np.datetime64]] | None

    def agreeing(self, index: int, others: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return those of the stored balls that may be this new ball."""
        difference = np.abs(self.stored[others] - self.new[index])
        known = np.isfinite(difference)
        fits = ((difference <= self.limits) | ~known).all(axis=1) & (known.sum(axis=1) >= self.least[index])
        if self.clubs:
            fits &= self.clubs[1][others] == self.clubs[0][index]
        if self.when:
            # NaT compares False with everything: a ball without a moment agrees with any.
            fits &= ~(np.abs(self.when[1][others] - self.when[0][index]) > SAME_MOMENT)
        return others[fits]


def _match_exactly(pairs: _Pairs, match: NDArray[np.int64]) -> None:
    """Match balls whose shared numbers are the same to six decimals."""
    places: dict[bytes, list[int]] = defaultdict(list)
    for index, row in enumerate(np.round(pairs.stored, 6) + 0.0):
        places[row.tobytes()].append(index)
    used: set[int] = set()
    for index, row in enumerate(np.round(pairs.new, 6) + 0.0):
        near = [other for other in places.get(row.tobytes(), ()) if other not in used]
        for other in pairs.agreeing(index, np.array(near, dtype=np.int64))[:1].tolist():
            match[index] = other
            used.add(other)


def _match_by_rounding(pairs: _Pairs, match: NDArray[np.int64]) -> list[int]:
    """Match the balls that are left within the tolerances; return the new balls matched so."""
    key = int(np.argmax(np.minimum(np.isfinite(pairs.new).sum(axis=0), np.isfinite(pairs.stored).sum(axis=0))))
    order = np.argsort(pairs.stored[:, key], kind="stable")
    ordered = pairs.stored[order, key]
    unknown = order[np.isnan(ordered)]
    used = set(match[match >= 0].tolist())
    alike = []
    for index in np.flatnonzero(match < 0).tolist():
        value, limit = pairs.new[index, key], pairs.limits[key]
        low, high = np.searchsorted(ordered, [value - limit, value + limit], side="left")
        near = order if np.isnan(value) else np.concatenate([order[low : high + 1], unknown])
        free = [other for other in np.sort(pairs.agreeing(index, near)).tolist() if other not in used]
        if free:
            match[index] = free[0]
            used.add(free[0])
            alike.append(index)
    return alike


def _supported(match: NDArray[np.int64], alike: Sequence[int]) -> NDArray[np.int64]:
    """Keep a match by rounding only where a neighbouring new ball is matched to a neighbouring stored one."""
    kept = match.copy()
    for index in alike:
        beside = [match[place] for place in (index - 1, index + 1) if 0 <= place < len(match) and match[place] >= 0]
        if not any(abs(other - match[index]) <= NEIGHBOURS for other in beside):
            kept[index] = -1
    return kept


def _rows(shots: Shots) -> int:
    return max((len(values) for values in shots.values()), default=0)
