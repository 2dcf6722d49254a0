"""Drag and lift of the model ball."""

from typing import Protocol

import numpy as np

from metrics.flight.types import Array


class Coefficients(Protocol):
    """A ball model: spin ratio and Reynolds number in, drag and lift coefficient out."""

    def __call__(self, *, spin_ratio: Array, reynolds: Array) -> tuple[Array, Array]: ...


MEASURED_SPIN_RATIO = 0.22
"""Up to here the regression of the measurements, beyond it the slopes of the older wind-tunnel table."""


def drag_and_lift(*, spin_ratio: Array, reynolds: Array) -> tuple[Array, Array]:
    """Return the drag and the lift coefficient for a spin ratio r ω / |u| and a Reynolds number 2 r |u| / ν.

    CD = 0.2028 − 0.2159 s + 2.8466 s² + 0.0165 R + 0.39 (S − s), at most 0.55;
    CL = 0.0860 + 0.6463 s′ + 1.4789 s′² − 0.0122 / R² + 0.38 (S − s), at most 0.46, times min(1, S / 0.04);
    R = Re / 1e5 within 0.80..2.00, s = min(S, 0.22), s′ = max(s, 0.04).

    Arrays of one shape; NaN stays NaN. Measured for 0.044 ≤ S ≤ 0.218 and 0.8e5 ≤ Re ≤ 2e5: the seven means
    agree within 0.003. Outside, Re is held at its limit and S follows the slopes of Bearman & Harvey 1976;
    the taper below 0.04 and the caps are ours. Not modelled: the drag crisis and the reverse Magnus effect
    below about 26 m/s. Source: US patent 6,186,002, read in a third-party copy only.
    """
    s = np.minimum(spin_ratio, MEASURED_SPIN_RATIO)
    beyond = spin_ratio - s
    r = np.minimum(np.maximum(reynolds * 1e-5, 0.80), 2.00)
    drag = 0.2028 + s * (2.8466 * s - 0.2159) + 0.0165 * r + 0.39 * beyond
    spinning = np.maximum(s, 0.04)
    lift = 0.0860 + spinning * (1.4789 * spinning + 0.6463) - 0.0122 / (r * r) + 0.38 * beyond
    return np.minimum(drag, 0.55), np.minimum(lift, 0.46) * np.minimum(spin_ratio * 25.0, 1.0)
