"""What a setup change should do: from geometry or the table of effects, and then from the player's own record."""

from collections.abc import Sequence

from metrics.change.responses import own_weight
from metrics.rules.assessment import PredictedEffect
from metrics.rules.quantities import info
from metrics.rules.records import Library, SetupEffect
from metrics.rules.setup_checks import CheckState
from metrics.rules.types import BlockEvidence, Response
from metrics.rules.words import number, unit_suffix
from metrics.setup_geometry import ball_move_effect


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
    change = sorted((low * move, high * move))
    about = info(row.quantity)
    return PredictedEffect(
        quantity=row.quantity, label=about.label, unit=row.unit or about.unit, low=change[0], high=change[1],
        mark=row.mark, source=row.source, own_repeats=len(own),
        sentence=_sentence(about.label, change[0], change[1], row.unit or about.unit, len(own)),
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


def _sentence(label: str, low: float, high: float, unit: str, repeats: int) -> str:
    digits = 1 if max(abs(low), abs(high)) < 20 else 0
    ends = [number(v, digits=digits, sign=True) for v in (low, high)]
    size = ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
    learned_from = f", learned in part from {repeats} of your own changes" if repeats else ""
    return f"{label} about {size}{unit_suffix(unit)}{learned_from}"
