"""From rows to arrays: the only bridge between stored balls and the number room.

Column names are the field names of metrics.fields. What is exact arithmetic of two measured numbers (smash
factor, face to path) is filled in here and named in ``derived``; nothing inferred is ever added.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from metrics.fields import FIELDS
from metrics.rules.types import BallCall

from .models import Block, Shot

HEIGHTS = {-1: "low", 0: "mid", 1: "high"}
_OTHER = (
    "block_id", "pk", "number", "called_start", "called_curve", "called_height", "contact", "is_mishit",
    "excluded_reason", "carry_provenance",
)


@dataclass(frozen=True, kw_only=True)
class BlockShots:
    """The balls of one block in the order they were hit. Arrays have one value a ball, NaN where missing."""

    keys: tuple[int, ...] = ()
    numbers: dict[str, np.ndarray] = field(default_factory=dict)
    calls: tuple[BallCall, ...] = ()
    contacts: tuple[str, ...] = ()
    mishit: np.ndarray = field(default_factory=lambda: np.zeros(0, dtype=bool))
    excluded: np.ndarray = field(default_factory=lambda: np.zeros(0, dtype=bool))
    provenance: tuple[str, ...] = ()
    hit_at: tuple = ()
    derived: frozenset[str] = frozenset()

    @property
    def count(self) -> int:
        return len(self.keys)

    def present_fields(self) -> list[str]:
        """Return the fields that have at least one value, in the order of the registry."""
        return [key for key in FIELDS if key in self.numbers and np.isfinite(self.numbers[key]).any()]

    def judged(self) -> "BlockShots":
        """Return the balls that count: those not excluded by the coach. Mishits stay."""
        return self.where(~self.excluded)

    def tagged(self, mishit: np.ndarray) -> "BlockShots":
        """Return the same balls with these as the mishits."""
        return replace(self, mishit=mishit)

    def where(self, mask: np.ndarray) -> "BlockShots":
        """Return the balls for which the mask is true."""
        picked = np.flatnonzero(mask)
        return BlockShots(
            keys=tuple(self.keys[i] for i in picked),
            numbers={name: values[picked] for name, values in self.numbers.items()},
            calls=tuple(self.calls[i] for i in picked),
            contacts=tuple(self.contacts[i] for i in picked),
            mishit=self.mishit[picked], excluded=self.excluded[picked],
            provenance=tuple(self.provenance[i] for i in picked),
            hit_at=tuple(self.hit_at[i] for i in picked) if self.hit_at else (), derived=self.derived,
        )


def shots_of(blocks: Iterable[Block], *, with_clock: bool = False) -> dict[int, BlockShots]:
    """Return the present balls of some blocks by block key. One query, however many blocks.

    When each was hit is read only ``with_clock``: it costs more than all of its numbers.
    """
    keys = [block.pk for block in blocks]
    other = (*_OTHER, "hit_at") if with_clock else _OTHER
    rows = list(
        Shot.objects.present().filter(block_id__in=keys).order_by("block_id", "number", "pk")
        .values_list(*other, *FIELDS)
    )
    by_block: dict[int, list[tuple]] = {key: [] for key in keys}
    for row in rows:
        by_block[row[0]].append(row)
    return {key: _from_rows(group, other) for key, group in by_block.items()}


def _from_rows(rows: list[tuple], names: tuple[str, ...]) -> BlockShots:
    if not rows:
        return BlockShots()
    columns = list(zip(*rows, strict=True))
    return block_shots(
        other=dict(zip(names, columns, strict=False)),
        table=np.array([row[len(names):] for row in rows], dtype=float),
    )


def block_shots(*, other: Mapping[str, Sequence], table: np.ndarray) -> BlockShots:
    """Return the balls of one block from their columns: ``table`` has a row a ball and a column for each of FIELDS,
    NaN where missing; ``other`` holds the columns of a ball that are no numbers, its key as ``pk``."""
    numbers = {
        key: table[:, i] for i, key in enumerate(FIELDS) if np.isfinite(table[:, i]).any()
    }
    derived = _fill_exact(numbers)
    # Called balls are of a few kinds: each kind is one object, however many balls there are.
    kinds = list(zip(
        other["called_start"], other["called_curve"], other["called_height"], other["contact"], strict=True
    ))
    made = {
        kind: BallCall(start=kind[0], curve=kind[1], height=HEIGHTS.get(kind[2]), contact=kind[3] or None)
        for kind in set(kinds)
    }
    calls = tuple(made[kind] for kind in kinds)
    return BlockShots(
        keys=tuple(other["pk"]), numbers=numbers, calls=calls, contacts=tuple(other["contact"]),
        mishit=np.array(other["is_mishit"], dtype=bool),
        excluded=np.array([bool(reason) for reason in other["excluded_reason"]], dtype=bool),
        provenance=tuple(other["carry_provenance"]), hit_at=other.get("hit_at", ()), derived=derived,
    )


def _fill_exact(numbers: dict[str, np.ndarray]) -> frozenset[str]:
    """Fill smash factor and face to path where both parts were measured and they themselves were not."""
    derived = set()
    if {"face_angle_deg", "club_path_deg"} <= numbers.keys():
        exact = numbers["face_angle_deg"] - numbers["club_path_deg"]
        derived |= _fill(numbers, "face_to_path_deg", exact)
    if {"ball_speed_mps", "club_speed_mps"} <= numbers.keys():
        club = numbers["club_speed_mps"]
        exact = np.divide(numbers["ball_speed_mps"], club, out=np.full_like(club, np.nan), where=club > 0)
        derived |= _fill(numbers, "smash_factor", exact)
    return frozenset(derived)


def _fill(numbers: dict[str, np.ndarray], key: str, exact: np.ndarray) -> set[str]:
    stored = numbers.get(key, np.full_like(exact, np.nan))
    missing = ~np.isfinite(stored) & np.isfinite(exact)
    if not missing.any():
        return set()
    numbers[key] = np.where(missing, exact, stored)
    return {key}
