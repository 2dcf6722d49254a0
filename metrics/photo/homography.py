"""The map between a flat ground and its photo: found from points seen in both, and used both ways.

A homography H is a 3 × 3 matrix up to scale: H·(u, v, 1) ~ (x, y, 1). Source of the method: normalised direct
linear transformation and the minimising of the transfer error, Hartley & Zisserman, *Multiple View Geometry*,
from memory; held to OpenCV in the tests. Everything works on stacks of problems at once.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
_ROUNDS = 8
"""Gauss-Newton steps; from the direct solution the third one already changes nothing that can be seen."""


def homography(*, ground: Array, picture: Array) -> Array:
    """Return H (…, 3, 3) that takes ``ground`` points (…, n, 2) to ``picture`` points (…, n, 2), n of 4 or more.

    Four points are met exactly; with more, the sum of squared distances in the picture is smallest. Units are
    those of the points. Raises ValueError for fewer than four points or where three of four lie on one line.
    """
    if ground.shape[-2] < 4 or ground.shape[-2:] != picture.shape[-2:]:
        raise ValueError(f"{ground.shape[-2]} and {picture.shape[-2]} points were given; expected 4 or more pairs")
    to_ground, to_picture = _normaliser(ground), _normaliser(picture)
    near = apply(matrix=to_ground, points=ground)
    seen = apply(matrix=to_picture, points=picture)
    found = _direct(near, seen)
    if ground.shape[-2] > 4:
        found = _refined(found, near, seen)
    whole = np.linalg.inv(to_picture) @ found @ to_ground
    return np.asarray(whole / np.linalg.norm(whole, axis=(-2, -1), keepdims=True), dtype=np.float64)


def apply(*, matrix: Array, points: Array) -> Array:
    """Return the points (…, n, 2) moved by the homography (…, 3, 3). Points on the horizon become infinite."""
    moved = points @ np.swapaxes(matrix[..., :2], -1, -2) + matrix[..., None, :, 2]
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(moved[..., :2] / moved[..., 2:], dtype=np.float64)


def local_scales(*, matrix: Array, point: Array) -> Array:
    """Return the largest and the smallest stretch (…, 2) of a homography (…, 3, 3) at one point (…, 2).

    From ground in cm to picture in pixels these are pixels per cm; their ratio is the sine of the angle at
    which the camera looks down on the ground there (exact in the middle of the picture).
    """
    top = np.einsum("...ij,...j->...i", matrix[..., :2], point) + matrix[..., 2]
    x, y, w = top[..., 0], top[..., 1], top[..., 2]
    seen = np.stack([x / w, y / w], axis=-1)
    slopes = (matrix[..., :2, :2] - seen[..., :, None] * matrix[..., 2:, :2]) / w[..., None, None]
    return np.asarray(np.linalg.svd(slopes, compute_uv=False), dtype=np.float64)


def _normaliser(points: Array) -> Array:
    """Move the middle to 0 and the mean distance to √2: without it the direct solution loses digits."""
    middle = points.mean(axis=-2)
    size = np.sqrt(((points - middle[..., None, :]) ** 2).sum(-1)).mean(-1)
    if not np.all(size > 0):
        raise ValueError("all points lie on one spot; expected the corners of something flat")
    scale = np.sqrt(2) / size
    matrix = np.zeros((*points.shape[:-2], 3, 3))
    matrix[..., 0, 0] = matrix[..., 1, 1] = scale
    matrix[..., :2, 2] = -scale[..., None] * middle
    matrix[..., 2, 2] = 1
    return matrix


def _direct(ground: Array, picture: Array) -> Array:
    """The null vector of the 2n × 9 equations, by singular values."""
    u, v = ground[..., 0], ground[..., 1]
    one, zero = np.ones_like(u), np.zeros_like(u)
    rows = [
        np.stack([u, v, one, zero, zero, zero, -x * u, -x * v, -x], -1) if first else
        np.stack([zero, zero, zero, u, v, one, -x * u, -x * v, -x], -1)
        for first, x in ((True, picture[..., 0]), (False, picture[..., 1]))
    ]
    _, sizes, right = np.linalg.svd(np.concatenate(rows, axis=-2), full_matrices=True)
    found = right[..., 8, :].reshape(*ground.shape[:-2], 3, 3)
    if np.any(sizes[..., 7] < 1e-9 * sizes[..., 0]) or np.any(np.abs(np.linalg.det(found)) < 1e-9):
        raise ValueError("three of the points lie on one line; expected four corners")
    return np.asarray(found, dtype=np.float64)


def _refined(start: Array, ground: Array, picture: Array) -> Array:
    """Gauss-Newton on the distance in the picture; a ninth direction along H itself is left out by lstsq."""
    now = start / np.linalg.norm(start, axis=(-2, -1), keepdims=True)
    whole = np.concatenate([ground, np.ones_like(ground[..., :1])], -1)
    for _ in range(_ROUNDS):
        moved = whole @ np.swapaxes(now, -1, -2)
        w = moved[..., 2:]
        seen = moved[..., :2] / w
        zero = np.zeros_like(whole)
        along_x = np.concatenate([whole, zero, -seen[..., :1] * whole], -1) / w
        along_y = np.concatenate([zero, whole, -seen[..., 1:] * whole], -1) / w
        slopes = np.concatenate([along_x, along_y], -2)
        miss = np.concatenate([picture[..., 0] - seen[..., 0], picture[..., 1] - seen[..., 1]], -1)
        step = (np.linalg.pinv(slopes, rcond=1e-10) @ miss[..., None])[..., 0]
        now = now + step.reshape(now.shape)
        now = now / np.linalg.norm(now, axis=(-2, -1), keepdims=True)
    return np.asarray(now, dtype=np.float64)
