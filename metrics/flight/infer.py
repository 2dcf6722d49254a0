"""What may be inferred about club and axis from other numbers. Inferred is never shown or stored as measured."""

from dataclasses import dataclass

import numpy as np

from metrics.flight.families import CLUBS
from metrics.flight.types import Array, Values
from metrics.provenance import INFERRED, Provenance

START_ERROR_DEG = 0.5
PATH_ERROR_DEG = 1.0
FACE_ERROR_DEG = 1.0
AXIS_ERROR_DEG = 2.0
SPIN_LOFT_ERROR_DEG = 2.0
"""Errors of one ball's measured values, 1 standard deviation: common practice, no source."""

SMALLEST_FACE_TO_PATH_DEG = 1.5
FEWEST_FOR_SHARE = 10


@dataclass(frozen=True, kw_only=True)
class Inferred:
    """A value worked out from others, player-relative, with its standard error.

    ``warnings`` are codes of ``metrics.flight.reasons.WARNINGS``; ``refusal`` is a code of ``REFUSALS`` or empty,
    and then the value is NaN.
    """

    value: Values
    standard_error: Values
    warnings: tuple[str, ...] = ("inferred",)
    refusal: str = ""
    provenance: Provenance = INFERRED


def start_from_face_and_path(*, face_angle_deg: Values, club_path_deg: Values, category: str) -> Values:
    """Return the start direction a centred strike is expected to have [°]: k face + (1 − k) path.

    Any shape; NaN stays NaN. Against the three-dimensional geometry: rms 0.17°, at most 0.62°. Raises
    ``KeyError`` for a club without a full flight. Source: shares k of Wood et al. 2018, second-hand.
    """
    k = CLUBS[category].face_share
    return (k * np.asarray(face_angle_deg, dtype=float) + (1 - k) * np.asarray(club_path_deg, dtype=float))[()]


def face_from_start_and_path(
    *, launch_direction_deg: Values, club_path_deg: Values, category: str,
    start_error_deg: float = START_ERROR_DEG, path_error_deg: float = PATH_ERROR_DEG,
) -> Inferred:
    """Infer the face angle [°]: (start − (1 − k) path) / k.

    u² = (uₛ/k)² + ((1 − k) uₚ/k)² + (uₖ (start − path)/k²)². Any shape; NaN stays NaN. About ±0.8° for a driver,
    ±0.85° for a mid iron, ±1.05° for a wedge. Raises ``KeyError`` for a club without a full flight.
    Source: shares of Wood et al. 2018, second-hand; error propagation.
    """
    club = CLUBS[category]
    k = club.face_share
    start, path = _arrays(launch_direction_deg, club_path_deg)
    error = np.sqrt(
        (start_error_deg / k) ** 2
        + ((1 - k) * path_error_deg / k) ** 2
        + (club.face_share_error * (start - path) / k**2) ** 2
    )
    return Inferred(value=((start - (1 - k) * path) / k)[()], standard_error=error[()])


def path_from_start_and_face(
    *, launch_direction_deg: Values, face_angle_deg: Values, category: str,
    start_error_deg: float = START_ERROR_DEG, face_error_deg: float = FACE_ERROR_DEG,
) -> Inferred:
    """Infer the club path [°]: (start − k face) / (1 − k), always with a warning.

    It divides by 1 − k, for a driver 0.24, so the error is three to four times that of the inputs. Any shape;
    NaN stays NaN. Raises ``KeyError`` for a club without a full flight. Source as for the face.
    """
    club = CLUBS[category]
    k, rest = club.face_share, 1 - club.face_share
    start, face = _arrays(launch_direction_deg, face_angle_deg)
    error = np.sqrt(
        (start_error_deg / rest) ** 2
        + (k * face_error_deg / rest) ** 2
        + (club.face_share_error * (start - face) / rest**2) ** 2
    )
    return Inferred(
        value=((start - k * face) / rest)[()], standard_error=error[()], warnings=("inferred", "path_is_loose")
    )


def face_and_path_from_ball(
    *, launch_direction_deg: Values, spin_axis_deg: Values, spin_loft_deg: Values, category: str,
    start_error_deg: float = START_ERROR_DEG, axis_error_deg: float = AXIS_ERROR_DEG,
    spin_loft_error_deg: float = SPIN_LOFT_ERROR_DEG,
) -> tuple[Inferred, Inferred]:
    """Infer face and path [°] from the ball alone, given an assumed spin loft.

    δ = atan(tan(axis) tan(spin loft)); face = start + (1 − k) δ; path = start − k δ. Any shape; NaN stays NaN;
    axis and spin loft below 90° in size. Not valid for off-centre strikes with woods, which is warned of.
    Raises ``KeyError`` for a club without a full flight. Source: D-plane geometry, error propagation.
    """
    club = CLUBS[category]
    k = club.face_share
    start, axis, loft = _arrays(launch_direction_deg, np.radians(spin_axis_deg), np.radians(spin_loft_deg))
    product = np.tan(axis) * np.tan(loft)
    delta = np.degrees(np.arctan(product))
    per_axis = np.tan(loft) / np.cos(axis) ** 2 / (1 + product**2)
    per_loft = np.tan(axis) / np.cos(loft) ** 2 / (1 + product**2)
    delta_error = np.hypot(per_axis * axis_error_deg, per_loft * spin_loft_error_deg)
    warnings = ("inferred", "centred_only") if club.wood else ("inferred",)

    def inferred(share: float) -> Inferred:
        error = np.sqrt(
            start_error_deg**2 + (share * delta_error) ** 2 + (club.face_share_error * delta) ** 2
        )
        return Inferred(value=(start + share * delta)[()], standard_error=error[()], warnings=warnings)

    return inferred(1 - k), inferred(-k)


def own_face_share(
    *, launch_direction_deg: Values, club_path_deg: Values, face_angle_deg: Values
) -> Inferred:
    """Return one player's own share of the start direction that follows the face, 0..1 as a rule.

    Least squares of (start − path) on (face − path) through the origin, over the balls with face and path
    at least 1.5° apart; refused under 10 of those. One-dimensional inputs; balls with a NaN do not count.
    Source: filter of Wood et al. 2018, second-hand.
    """
    start, path, face = _arrays(launch_direction_deg, club_path_deg, face_angle_deg)
    start, path, face = (np.atleast_1d(each) for each in (start, path, face))
    with np.errstate(invalid="ignore"):
        wanted = (np.abs(face - path) >= SMALLEST_FACE_TO_PATH_DEG) & np.isfinite(start)
    x, y = (face - path)[wanted], (start - path)[wanted]
    if x.size < FEWEST_FOR_SHARE:
        return Inferred(value=np.nan, standard_error=np.nan, refusal="share_needs_face_to_path")
    share = float(x @ y / (x @ x))
    residual = y - share * x
    error = float(np.sqrt(residual @ residual / (x.size - 1) / (x @ x)))
    return Inferred(value=share, standard_error=error)


def _arrays(*values: Values) -> tuple[Array, ...]:
    return tuple(np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in values)))
