"""The ground from an L of two sticks and a known focal length: three points that see where the camera stood.

The three points of the L are seen along three rays; their distances from the camera follow from the lengths of
the sticks (the three-point problem, Grunert 1841, from memory). There are up to four answers; the one that holds
the camera least tilted sideways is taken, and a second one nearly as level is told as doubt.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial as poly

from .homography import Array

DOUBT_DEG = 5.0
"""A second answer whose sideways tilt is within this of the first cannot be told from it. A choice."""


@dataclass(frozen=True, kw_only=True)
class Ground:
    """A homography ground -> picture (3, 3), and whether another camera place fits nearly as well."""

    matrix: Array
    roll_deg: float
    doubtful: bool


def ground_from_sticks(
    *, corner: Array, along: Array, across: Array, along_cm: float, across_cm: float, focal_px: float,
    middle: Array,
) -> Ground:
    """Return the ground of an L: origin at its corner, u along the first stick, v along the second, in cm.

    corner, along, across: the L's corner and the two far ends in the picture, pixels (2,). The sticks meet at a
    right angle. focal_px: focal length in pixels; ``middle``: the picture's middle, where the lens looks.
    Raises ValueError where lengths are not above 0 or where no camera place fits the clicks.
    """
    if min(along_cm, across_cm, focal_px) <= 0:
        raise ValueError("a stick or a focal length of 0 or less cannot be; expected numbers above 0")
    rays = np.stack([corner, along, across]) - middle
    rays = np.concatenate([rays, np.full((3, 1), focal_px)], axis=1)
    rays /= np.linalg.norm(rays, axis=1, keepdims=True)
    lens = np.diag([focal_px, focal_px, 1.0])
    lens[:2, 2] = middle
    found = []
    for distances in _distances(rays, along_cm, across_cm):
        points = rays * distances[:, None]
        u, v = (points[1] - points[0]) / along_cm, (points[2] - points[0]) / across_cm
        if not _looks_down(u, v, points[0]):
            continue
        found.append((_roll_deg(u, v), lens @ np.column_stack([u, v, points[0]])))
    if not found:
        raise ValueError("no place of the camera fits these clicks; check the ends of the sticks and their lengths")
    found.sort(key=lambda answer: abs(answer[0]))
    roll, matrix = found[0]
    doubtful = len(found) > 1 and abs(found[1][0]) - abs(roll) < DOUBT_DEG
    return Ground(matrix=np.asarray(matrix / np.linalg.norm(matrix)), roll_deg=roll, doubtful=doubtful)


def _distances(rays: Array, along: float, across: float) -> list[Array]:
    """Grunert's quartic for v = third distance / first; then the second and the first."""
    cos_a, cos_b, cos_c = (float(rays[i] @ rays[j]) for i, j in ((1, 2), (0, 2), (0, 1)))
    far, b, c = along**2 + across**2, across**2, along**2
    q = np.array([1.0, -2 * cos_b, 1.0])
    top = poly.polyadd((far - c) / b * q, [1.0, 0.0, -1.0])
    below = np.array([2 * cos_c, -2 * cos_a])
    square = poly.polymul(below, below)
    quartic = poly.polyadd(
        poly.polysub(poly.polymul(top, top), 2 * cos_c * poly.polymul(top, below)),
        poly.polymul(square, poly.polysub([1.0], c / b * q)),
    )
    answers = []
    for root in poly.polyroots(quartic):
        v = float(root.real)
        under = float(poly.polyval(v, below))
        if abs(root.imag) > 1e-6 * max(1.0, abs(v)) or v <= 0 or abs(under) < 1e-12:
            continue
        u = float(poly.polyval(v, top)) / under
        if u > 0:
            answers.append(across / math.sqrt(1 + v * v - 2 * v * cos_b) * np.array([1.0, u, v]))
    return answers


def _looks_down(u: Array, v: Array, corner: Array) -> bool:
    """The camera (y down) stands above the ground where the ground's upward normal faces it and points up."""
    up = np.cross(u, v)
    up = up if up @ corner < 0 else -up
    return bool(up[1] < 0)


def _roll_deg(u: Array, v: Array) -> float:
    """Sideways tilt of the camera: how far the horizon leans in the picture."""
    up = np.cross(u, v)
    up = up if up[1] < 0 else -up
    return math.degrees(math.atan2(up[0], -up[1]))
