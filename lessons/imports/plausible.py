"""Units that a file does not state, proposed from what golf balls do: how far they carry for their speed.

People keep speeds and distances in few combinations: mph with yards, mph with metres, m/s with metres,
km/h with metres. Each combination that the stated units allow is tried, and the file's own numbers rule
out those that no ball could follow. One left: it is proposed, with the reason. More left: it is asked.
The limits are common practice for full shots, no source; they only have to part factors of two.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from metrics.fields import FIELDS
from metrics.units import to_si

Values = Mapping[str, NDArray[np.float64]]

SYSTEMS = (("mph", "yd"), ("m/s", "m"), ("km/h", "m"), ("mph", "m"))
"""(speed, distance) as people combine them."""


class Ratio(NamedTuple):
    """One number over another, both in SI, of a full shot: ``low`` to ``high`` is possible."""

    over: str
    under: str
    low: float
    high: float


_YARD_PER_MPH = 0.9144 / 0.44704
RATIOS = (
    Ratio("carry_m", "club_speed_mps", 1.15 * _YARD_PER_MPH, 2.7 * _YARD_PER_MPH),
    Ratio("carry_m", "ball_speed_mps", 0.85 * _YARD_PER_MPH, 1.8 * _YARD_PER_MPH),
    Ratio("total_m", "club_speed_mps", 1.15 * _YARD_PER_MPH, 3.1 * _YARD_PER_MPH),
    Ratio("total_m", "ball_speed_mps", 0.85 * _YARD_PER_MPH, 2.1 * _YARD_PER_MPH),
    Ratio("ball_speed_mps", "club_speed_mps", 0.9, 1.62),
    Ratio("total_m", "carry_m", 0.93, 1.5),
    Ratio("apex_m", "carry_m", 0.02, 0.4),
)
_TYPICAL = {"club_speed_mps": (9.0, 62.0), "ball_speed_mps": (9.0, 90.0), "carry_m": (8.0, 320.0),
            "total_m": (8.0, 350.0), "apex_m": (0.5, 60.0)}
_WIDE = {"spin_rpm": (300.0, 14000.0)}
"""Where the median of a column lies if its unit is right."""


@dataclass(frozen=True, kw_only=True)
class UnitGuess:
    """A unit for a field whose column states none. ``others`` are the further units that would fit."""

    unit: str
    score: float
    why: str
    others: tuple[str, ...] = ()


def propose_units(values: Values, stated: Mapping[str, str]) -> dict[str, UnitGuess]:
    """Return a unit for every field in ``values`` that is not in ``stated``, where one can be proposed.

    ``values`` are the numbers as written, shape (rows,), NaN where there is none; ``stated`` maps field to
    unit. A guess with ``others`` is open: a person has to choose. A field without any fitting unit is left
    out.
    """
    medians = {key: _median(column) for key, column in values.items()}
    guesses: dict[str, UnitGuess] = {}
    for key in values:
        dimension = FIELDS[key].dimension
        if key not in stated and dimension not in ("speed", "distance"):
            guess = _plain_guess(key, values[key], medians[key])
            if guess:
                guesses[key] = guess
    guesses.update(_speeds_and_distances(medians, stated))
    return guesses


def _plain_guess(key: str, column: NDArray[np.float64], median: float) -> UnitGuess | None:
    """Propose the usual unit of an angle, a spin, a time, a ratio or a place on the face."""
    field = FIELDS[key]
    if field.dimension == "angle":
        return UnitGuess(unit="°", score=0.9, why="degrees are the usual unit")
    if field.dimension == "rotation":
        low, high = _WIDE["spin_rpm"]
        fits = bool(np.isnan(median)) or low <= median <= high
        why = "revolutions a minute are the usual unit" if fits else f"half of the values are below {median:.4g}"
        return UnitGuess(unit="rpm", score=0.9 if fits else 0.4, why=why, others=() if fits else ("rad/s",))
    if field.dimension == "ratio":
        per_cent = median > 10
        return UnitGuess(unit="%" if per_cent else "", score=0.9,
                         why=f"the middle value is {median:.4g}" if per_cent else "a plain ratio")
    if field.dimension == "time":
        return UnitGuess(unit="s", score=0.9, why="seconds are the usual unit") if not median > 12 else None
    spread = float(np.nanmax(np.abs(column))) if np.isfinite(column).any() else 0.0
    if field.dimension == "small_length" and spread > 3:
        return UnitGuess(unit="mm", score=0.75, why=f"values up to {spread:.3g} fit millimetres on a club face")
    usual = ("mm", "cm", "in") if field.dimension == "small_length" else ("cm", "in", "mm")
    return UnitGuess(unit=usual[0], score=0.3, why="nothing in the numbers tells", others=usual[1:])


def _speeds_and_distances(medians: Mapping[str, float], stated: Mapping[str, str]) -> dict[str, UnitGuess]:
    keys = [key for key in medians if FIELDS[key].dimension in ("speed", "distance")]
    unknown = [key for key in keys if key not in stated]
    if not unknown:
        return {}
    fitting = [system for system in _allowed(keys, stated) if _fits(system, medians, stated)]
    # The same pair of units for the unknown fields is one answer, however the known ones are combined.
    answers = list(dict.fromkeys(tuple(_unit(key, system, medians, stated) for key in unknown)
                                 for system in fitting))
    reason = _reason(medians, {key: stated.get(key) or answers[0][unknown.index(key)] for key in keys}
                     ) if answers else ""
    guesses = {}
    for place, key in enumerate(unknown):
        units = list(dict.fromkeys(answer[place] for answer in answers))
        if not units:
            continue
        sure = len(units) == 1
        why = reason if sure else f"{reason}, but {' and '.join(units[1:])} would fit too"
        guesses[key] = UnitGuess(unit=units[0], score=0.75 if sure else 0.4, why=why, others=tuple(units[1:]))
    return guesses


def _allowed(keys: list[str], stated: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return the combinations that agree with what the file states; a stated unit speaks for its dimension."""
    speeds = {stated[key] for key in keys if key in stated and FIELDS[key].dimension == "speed"}
    # Heights and side distances are often in feet beside carries in yards.
    lengths = {stated[key] for key in keys if key in stated and stated[key] in ("m", "yd")
               and FIELDS[key].dimension == "distance"}
    systems = [(speed, length) for speed, length in SYSTEMS
               if (not speeds or speed in speeds) and (not lengths or length in lengths)]
    if not systems and (speeds or lengths):
        # An unusual pair, stated by the file: believe it.
        systems = [(min(speeds, default="m/s"), min(lengths, default="m"))]
    return systems


def _unit(key: str, system: tuple[str, str], medians: Mapping[str, float], stated: Mapping[str, str]) -> str:
    """Return a field's unit in a combination; heights beside yards are often in feet, which shows."""
    if key in stated:
        return stated[key]
    unit = system[0] if FIELDS[key].dimension == "speed" else system[1]
    carry = medians.get("carry_m", np.nan)
    if key == "apex_m" and unit == "yd" and medians[key] > 0.35 * carry:
        return "ft"
    return unit


def _fits(system: tuple[str, str], medians: Mapping[str, float], stated: Mapping[str, str]) -> bool:
    """Return True where no typical range and no ratio is broken under this combination."""
    inside = {
        key: float(to_si(value=median, unit=_unit(key, system, medians, stated), dimension=FIELDS[key].dimension))
        for key, median in medians.items()
        if FIELDS[key].dimension in ("speed", "distance") and np.isfinite(median)
    }
    for key, value in inside.items():
        low, high = _TYPICAL.get(key, (-np.inf, np.inf))
        if key not in stated and not low <= value <= high:
            return False
    return all(ratio.low <= inside[ratio.over] / inside[ratio.under] <= ratio.high
               for ratio in RATIOS
               if ratio.over in inside and inside.get(ratio.under) and not (ratio.over in stated
                                                                           and ratio.under in stated))


def _reason(medians: Mapping[str, float], units: Mapping[str, str]) -> str:
    """Say which comparison speaks for the units, in the file's own numbers."""
    for over, under, *_ in RATIOS[:4]:
        if over in units and under in units and medians[under]:
            a, b = FIELDS[over], FIELDS[under]
            return (f"{a.label.lower()} {medians[over]:.4g} at {b.label.lower()} {medians[under]:.4g} fits "
                    f"{units[over]} and {units[under]}")
    shown = ", ".join(f"{FIELDS[key].label.lower()} around {medians[key]:.4g}" for key in units)
    return f"{shown} fits {' and '.join(dict.fromkeys(units.values()))}"


def _median(column: NDArray[np.float64]) -> float:
    finite = column[np.isfinite(column)]
    return float(np.median(finite)) if finite.size else float("nan")
