"""How wrong a correction for the air may be."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from metrics.flight.families import CLUBS
from metrics.flight.types import Array, Values
from metrics.units import to_si

SMALLEST_ERROR_M = to_si(value=0.5, unit="yd", dimension="distance")
"""No correction is claimed to be better than half a yard: judgement, no source."""


@dataclass(frozen=True, kw_only=True)
class InputErrors:
    """How exactly the weather is known, 1 standard deviation: one number, or one for each ball.

    Common practice, no source.

    Take 10 hPa where only the altitude of the venue is known: the weather moves the pressure by that much.
    The wind's error counts only for balls flown in a wind.
    """

    temperature_c: Values = 1.0
    pressure_hpa: Values = 5.0
    wind_mps: Values = 1.0


USUAL_ERRORS = InputErrors()


def club_values(*, category: NDArray[np.str_], name: str) -> Array:
    """Return one field of ``metrics.flight.families.CLUBS`` for each category; NaN for those without one."""
    out = np.full(category.shape, np.nan)
    for slug in np.unique(category):
        if str(slug) in CLUBS:
            out[category == slug] = getattr(CLUBS[str(slug)], name)
    return out


def model_error_m(
    *,
    density_correction_m: Array,
    wind_correction_m: Array,
    category: NDArray[np.str_],
    smallest_m: float = SMALLEST_ERROR_M,
) -> Array:
    """Return the model error of a correction [m], 1 standard deviation: max(0.5 yd, f |D|).

    f |D| is the density part times its share plus the wind part times its own: both come from the same drag
    and lift, so they do not average out. Arrays of one shape; NaN stays NaN. Source: computed with six
    published ball models (spread between models, not an experiment).
    """
    density_share = club_values(category=category, name="density_error_share")
    wind_share = club_values(category=category, name="wind_error_share")
    raw = density_share * np.abs(density_correction_m) + wind_share * np.abs(wind_correction_m)
    return np.asarray(np.maximum(smallest_m, raw))


def input_error_m(*, category: NDArray[np.str_], in_wind: NDArray[np.bool_], errors: InputErrors) -> Array:
    """Return what the weather's own error does to a carry [m], 1 standard deviation, in quadrature.

    Source: sensitivities computed with the flight model for one typical shot of each kind of club.
    """
    parts = (
        errors.temperature_c * club_values(category=category, name="carry_per_c"),
        errors.pressure_hpa * club_values(category=category, name="carry_per_hpa"),
        errors.wind_mps * club_values(category=category, name="carry_per_wind") * in_wind,
    )
    return np.asarray(np.sqrt(sum((part**2 for part in parts), np.zeros(category.shape))))
