"""Predicted against seen: how strongly this player answers to a change, learned from their own record."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from metrics.change.settings import setting


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """One prescription carried out: by how much the checkpoint moved, what that should have done, what was seen.

    ``amount`` in the checkpoint's unit (not 0), ``predicted`` and ``seen`` in the quantity's. ``se`` is the standard
    error of ``seen``. ``fair`` False where the two blocks were not alike: such an outcome is kept, not learned from.
    """

    amount: float
    predicted: float
    seen: float
    se: float
    fair: bool = True

    def __post_init__(self) -> None:
        if self.amount == 0 or not self.se >= 0:
            raise ValueError("an outcome needs a change that was made and a standard error of 0 or more")


@dataclass(frozen=True, kw_only=True)
class ResponseSize:
    """The player's response for one unit of the checkpoint: shipped size and own mean, weighted n/(n+3).

    ``own_mean`` is NaN without own results; ``surprising`` True where the last fair outcome was further from its
    prediction than 1.96 of its standard errors.
    """

    per_unit: float
    weight: float
    shipped: float
    own_mean: float
    repeats: int
    surprising: bool
    sentence: str


def own_weight(*, repeats: int) -> float:
    """Return the weight of a player's own mean response: n / (n + 3), 0..1. Raises ValueError below 0."""
    if repeats < 0:
        raise ValueError(f"{repeats} repeats cannot be; expected 0 or more")
    return repeats / (repeats + setting("response_prior_repeats"))


def response_size(*, shipped: float, outcomes: Sequence[Outcome], label: str = "the number",
                  unit: str = "") -> ResponseSize:
    """Return the size to predict with next time, for one unit of the checkpoint.

    shipped: the usual size for one unit; outcomes: this player's results for this checkpoint, club group and
    quantity, oldest first. From 3 own results on the size is the player's at least as much as the shipped one.
    The weight is a choice, no source.
    """
    fair = [outcome for outcome in outcomes if outcome.fair]
    own = [outcome.seen / outcome.amount for outcome in fair]
    weight = own_weight(repeats=len(own))
    own_mean = math.fsum(own) / len(own) if own else math.nan
    per_unit = (1 - weight) * shipped + weight * own_mean if own else shipped
    surprising = bool(fair) and abs(fair[-1].seen - fair[-1].predicted) > 1.96 * fair[-1].se
    return ResponseSize(per_unit=per_unit, weight=weight, shipped=shipped, own_mean=own_mean, repeats=len(own),
                        surprising=surprising, sentence=_sentence(fair, label, unit))


def _sentence(fair: Sequence[Outcome], label: str, unit: str) -> str:
    if not fair:
        return f"No own result yet: the usual size for {label} is used."
    last = fair[-1]
    times = "once" if len(fair) == 1 else f"{len(fair)} times"
    opinion = ("more than luck away from it" if abs(last.seen - last.predicted) > 1.96 * last.se
               else "which luck alone can explain" if last.seen != last.predicted else "as foretold")
    return (f"Foretold {last.predicted:+.1f}{unit}, seen {last.seen:+.1f}{unit} in {label}: {opinion}. "
            f"Tried {times}; the own results count {own_weight(repeats=len(fair)):.0%}.").replace("-", "−")
