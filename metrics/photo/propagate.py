"""How unsure clicks, lens, shoe and focal length make the numbers: small steps, added in squares."""

from collections.abc import Callable

import numpy as np

from .homography import Array

Z95 = 1.959963984540054
"""The 97.5 % point of the standard normal."""


def half_widths(*, numbers: Callable[[Array], Array], at: Array, sd: Array, step: float = 0.05) -> Array:
    """Return the half-width (m,) of the 95 % interval of each number, from the SD (p,) of each of p inputs.

    numbers: takes inputs (k, p) and gives numbers (k, m). Its slopes at ``at`` (p,) are taken by central
    differences of ``step`` SDs; the inputs are independent. Good while the numbers bend little within one SD:
    the tests hold it to drawn clicks. An input with SD 0 is left out.
    """
    moves = np.diag(step * sd)[sd > 0]
    high, low = numbers(at + moves), numbers(at - moves)
    per_sd = (high - low) / (2 * step)
    return np.asarray(Z95 * np.sqrt((per_sd**2).sum(axis=0)), dtype=np.float64)
