"""What another delivery would do to the average ball of a block: an estimate, for explaining only."""

from dataclasses import dataclass

import numpy as np

from metrics.fields import FIELDS
from metrics.flight.families import CLUBS
from metrics.flight.impact import Delivery
from metrics.flight.infer import face_from_start_and_path
from metrics.flight.shape import words
from metrics.flight.whatif import Estimate, what_if

from .balls import BlockBalls

ASKED = ("club_path_deg", "face_angle_deg", "attack_angle_deg", "club_speed_mps")
"""What may be changed, in the order of the form."""

LARGE = {"club_path_deg": 6.0, "face_angle_deg": 6.0, "attack_angle_deg": 5.0}
LARGE_SPEED_SHARE = 0.10
"""Beyond these a change is no longer small. Common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class Starting:
    """The average delivery that a what-if begins with; in ``missing`` in words what stands in the way."""

    delivery: Delivery | None
    missing: str = ""
    notes: tuple[str, ...] = ()

    def value(self, key: str) -> float:
        """Return one of the ``ASKED`` numbers in its stored unit."""
        return float(getattr(self.delivery, key))


@dataclass(frozen=True, kw_only=True)
class Answer:
    """The average ball as it is and as it would be, with the shapes in words for the hand."""

    now: Estimate
    then: Estimate
    shape_now: str
    shape_then: str
    notes: tuple[str, ...]

    @property
    def carry_change_m(self) -> float:
        return float(self.then.landing.carry_m - self.now.landing.carry_m)


def starting_point(balls: BlockBalls) -> Starting:
    """Return the mean delivery of the struck balls; face inferred from start and path, loft usual, if missing."""
    category = balls.block.category
    if category not in CLUBS:
        return Starting(delivery=None, missing="this is not a full flight")
    path, face = balls.mean("club_path_deg"), balls.mean("face_angle_deg")
    notes = []
    if np.isnan(face):
        face = float(face_from_start_and_path(
            launch_direction_deg=balls.mean("launch_direction_deg"), club_path_deg=path, category=category,
        ).value)
        notes.append("Face is worked out from start direction and path, not measured.")
    needed = {"club speed": balls.mean("club_speed_mps"), "club path": path, "face, or start direction": face,
              "attack angle": balls.mean("attack_angle_deg")}
    missing = [word for word, value in needed.items() if np.isnan(value)]
    if balls.average_launch is None:
        missing.append("ball speed, launch angle and spin of one and the same ball")
    if missing:
        return Starting(delivery=None, missing=f"it needs {', '.join(missing)}")
    loft = balls.mean("dynamic_loft_deg")
    if np.isnan(loft):
        loft = CLUBS[category].usual_dynamic_loft_deg
        notes.append(f"Dynamic loft was not measured: {loft:g}° is usual for this kind of club.")
    return Starting(notes=tuple(notes), delivery=Delivery(
        club_speed_mps=balls.mean("club_speed_mps"), club_path_deg=path, face_angle_deg=face,
        attack_angle_deg=balls.mean("attack_angle_deg"), dynamic_loft_deg=loft,
    ))


def answer(*, balls: BlockBalls, start: Starting, wanted: dict[str, float]) -> Answer | None:
    """Return what the wanted delivery would give; keys of ``ASKED`` in stored units. None where there is no flight."""
    assert start.delivery is not None and balls.average_launch is not None
    then = Delivery(**{**vars(start.delivery), **wanted})
    first, second = what_if(
        measured=balls.average_launch, now=start.delivery, then=then, category=balls.block.category,
        air=balls.still_air,
    )
    if not np.isfinite(second.landing.carry_m) or not np.isfinite(first.landing.carry_m):
        return None
    hand = "left" if balls.block.lesson.student.left_handed else "right"
    large = [FIELDS[key].label.lower() for key, most in LARGE.items()
             if key in wanted and abs(wanted[key] - start.value(key)) > most]
    speed = wanted.get("club_speed_mps", start.value("club_speed_mps"))
    if abs(speed / start.value("club_speed_mps") - 1) > LARGE_SPEED_SHARE:
        large.append("club speed")
    notes = ("Dynamic loft, strike and wind are kept as they are; only the change is estimated, on the average ball.",)
    if large:
        notes += (f"A large change of {' and '.join(large)}: the strike model is meant for small ones.",)
    return Answer(now=first, then=second, notes=notes, shape_now=_said(first, hand), shape_then=_said(second, hand))


def _said(estimate: Estimate, hand: str) -> str:
    return words(shape=estimate.shape, hand=hand).removesuffix(" (curve estimated from the spin axis)")
