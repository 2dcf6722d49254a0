"""What a setup change should do: from geometry or the table of effects, and then from the player's own record."""

import math
from collections.abc import Sequence

from metrics.change.responses import own_weight
from metrics.rules.assessment import PredictedEffect
from metrics.rules.quantities import info
from metrics.rules.records import Library, SetupEffect
from metrics.rules.setup_checks import CheckState
from metrics.rules.types import BlockEvidence, Hand, Response
from metrics.rules.words import fill, number, unit_suffix
from metrics.setup_geometry import ball_move_effect

_WAYS: dict[str, tuple[str, str]] = {
    "club_path_deg": ("further in-to-out", "further out-to-in"), "face_angle_deg": ("more open", "more closed"),
    "attack_angle_deg": ("more up", "more down"), "dynamic_loft_deg": ("more loft", "less loft"),
    "launch_direction_deg": ("further {slice_side}", "further {hook_side}"),
    "strike_heel_toe_mm": ("toward the heel", "toward the toe"), "low_point_cm": ("further ahead", "further back"),
}
"""What a change upward and a change downward of a quantity is called."""


def learned(*, low: float, high: float, own: Sequence[float]) -> tuple[float, float]:
    """Return the shipped range moved toward the mean of the player's own responses, and narrowed with it.

    All in the same unit per unit of the checkpoint. Without own results the range comes back unchanged.
    """
    if not own:
        return low, high
    weight = own_weight(repeats=len(own))
    mean = sum(own) / len(own)
    return (1 - weight) * low + weight * mean, (1 - weight) * high + weight * mean


def effects_of(state: CheckState, *, evidence: BlockEvidence, library: Library) -> tuple[PredictedEffect, ...]:
    """Return what moving this checkpoint to the near edge of its window should do; nothing where not measured."""
    if state.value is None or state.window is None or not state.linked:
        return ()
    edge = state.window[1] if state.value > state.window[1] else state.window[0]
    move = edge - state.value
    rows = [e for e in library.effects if e.checkpoint == state.check.checkpoint
            and (not e.clubs or evidence.club_category in e.clubs)]
    found = [_predicted(row, move, evidence) for row in rows]
    return tuple(effect for effect in found if effect is not None)


def _predicted(row: SetupEffect, move: float, evidence: BlockEvidence) -> PredictedEffect | None:
    per_unit = per_unit_of(row, evidence=evidence)
    if per_unit is None:
        return None
    own = _own(evidence.responses, row)
    low, high = learned(low=per_unit[0], high=per_unit[1], own=own)
    used = move if row.reach is None else math.copysign(min(abs(move), row.reach), move)
    change = sorted((low * used, high * used))
    about = info(row.quantity)
    unit = row.unit or about.unit
    words = [effect_words(quantity=row.quantity, low=change[0], high=change[1], unit=unit, hand=evidence.hand)]
    if used != move:
        first = number(abs(used), digits=0) + unit_suffix(info(row.checkpoint).unit)
        words.append(f"from the first {first} of the move (what more of it does was not noted)")
    if own:
        words.append(f"learned in part from {len(own)} of your own changes")
    return PredictedEffect(
        quantity=row.quantity, label=about.label, unit=unit, low=change[0], high=change[1],
        mark=row.mark, source=row.source, own_repeats=len(own), sentence=", ".join(words),
    )


def per_unit_of(row: SetupEffect, *, evidence: BlockEvidence) -> tuple[float, float] | None:
    """Return the effect per unit of the checkpoint, computed from the arc where the row names the model."""
    if not row.model:
        assert row.low is not None and row.high is not None
        low, high = sorted((row.low / row.step, row.high / row.step))
        return low, high
    effect = ball_move_effect(club_category=evidence.club_category, back_cm=row.step)
    if effect is None:
        return None
    size = effect.path_deg if row.quantity == "club_path_deg" else effect.attack_deg
    return size / row.step, size / row.step


def _own(responses: tuple[Response, ...], row: SetupEffect) -> list[float]:
    return [value for r in responses if (r.checkpoint, r.quantity) == (row.checkpoint, row.quantity)
            for value in r.per_unit]


def effect_words(*, quantity: str, low: float, high: float, unit: str, hand: Hand) -> str:
    """Return a range of change in words, with the way it goes where both ends go the same way.

    >>> effect_words(quantity="club_path_deg", low=-1.0, high=-0.4, unit="°", hand="right")
    'Club path about −1.0 to −0.4°, further out-to-in'
    """
    digits = 1 if max(abs(low), abs(high)) < 20 else 0
    ends = [number(v, digits=digits, sign=True) for v in (low, high)]
    size = ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
    said = f"{info(quantity).label} about {size}{unit_suffix(unit)}"
    names = _WAYS.get(quantity)
    if names is None or low * high <= 0:
        return said
    return f"{said}, {fill(names[0] if low > 0 else names[1], hand=hand)}"
