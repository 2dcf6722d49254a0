"""The balls of one block as the flight page reads them: struck balls, where each came down, the average launch."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from lessons.frames import BlockShots
from lessons.models import Block
from lessons.reference_carry import air_of, normalised, provenance_of, wind_is_only_felt
from metrics.flight.normalise import Normalised
from metrics.flight.reference import REFERENCE
from metrics.flight.types import Air, Launch
from metrics.provenance import MEASURED

LAUNCH = ("ball_speed_mps", "launch_angle_deg", "spin_rpm", "launch_direction_deg", "spin_axis_deg")


@dataclass(frozen=True)
class BlockBalls:
    """One block with its balls; those taken out by the coach are gone, mishits are marked."""

    block: Block
    shots: BlockShots

    @property
    def count(self) -> int:
        return self.shots.count

    @property
    def struck(self) -> np.ndarray:
        return ~self.shots.mishit

    def column(self, key: str) -> np.ndarray:
        """Return one number of every ball, NaN where it is missing."""
        return self.shots.numbers.get(key, np.full(self.count, np.nan))

    def mean(self, key: str) -> float:
        """Return the mean over the struck balls that have this number; NaN without one."""
        known = self.known(key)
        return float(known.mean()) if known.size else float("nan")

    def known(self, key: str) -> np.ndarray:
        """Return this number of the struck balls that have it."""
        values = self.column(key)[self.struck]
        return values[np.isfinite(values)]

    @cached_property
    def provenance(self) -> np.ndarray:
        return provenance_of(lesson=self.block.lesson, shots=self.shots)

    @cached_property
    def kinds(self) -> frozenset[str]:
        """How the carries of this block came about; more than one kind is never averaged."""
        return frozenset(self.provenance[np.isfinite(self.column("carry_m"))].tolist())

    @property
    def is_mixed(self) -> bool:
        return len(self.kinds) > 1

    @property
    def is_measured(self) -> bool:
        return self.kinds == {MEASURED}

    @cached_property
    def air(self) -> Air:
        """The air of the day, or the reference air where it is not known."""
        return air_of(self.block.lesson).air or REFERENCE.air

    @property
    def still_air(self) -> Air:
        """The day's air without its wind."""
        return replace(self.air, wind_along_mps=0.0, wind_slice_mps=0.0)

    @property
    def air_is_known(self) -> bool:
        return air_of(self.block.lesson).air is not None

    @property
    def wind(self) -> tuple[float, float] | None:
        """The wind as it was noted: (0, 0) for none, None where it was felt and not measured."""
        if wind_is_only_felt(self.block.lesson):
            return None
        return self.block.lesson.wind_along_mps or 0.0, self.block.lesson.wind_cross_mps or 0.0

    @cached_property
    def stated(self) -> Normalised:
        """Every ball at the reference condition, or refused."""
        return normalised(block=self.block, shots=self.shots)

    @cached_property
    def average_launch(self) -> Launch | None:
        """The mean launch of the struck balls; None without ball speed, launch angle or spin.

        Over the balls that have all three; a missing start or axis counts as straight, and the page says so.
        """
        table = np.array([self.column(key)[self.struck] for key in LAUNCH])
        whole = table[:, np.isfinite(table[:3]).all(axis=0)] if table.size else table
        if not whole.size:
            return None
        speed, angle, spin = (float(value) for value in whole[:3].mean(axis=1))
        start, axis = (_mean_or_zero(row) for row in whole[3:])
        return Launch(ball_speed_mps=speed, launch_angle_deg=angle, spin_rpm=spin, launch_direction_deg=start,
                      spin_axis_deg=axis)

    @property
    def launches(self) -> int:
        """How many struck balls the average launch rests on."""
        table = np.array([self.column(key)[self.struck] for key in LAUNCH[:3]])
        return int(np.isfinite(table).all(axis=0).sum()) if table.size else 0


def _mean_or_zero(values: np.ndarray) -> float:
    known = values[np.isfinite(values)]
    return float(known.mean()) if known.size else 0.0
