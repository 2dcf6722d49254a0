"""Where the yards came from: the change of carry between two blocks, split by cause through the flight model."""

from dataclasses import dataclass
from itertools import product
from math import factorial

import numpy as np

from metrics.flight.families import CLUBS
from metrics.flight.reference import REFERENCE
from metrics.flight.refuse import STRONGEST_WIND_MPS
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Array, Ball, Launch
from metrics.provenance import MEASURED, Provenance

CAUSES: dict[str, str] = {
    "speed": "Club speed",
    "strike": "Strike (ball speed for the club speed)",
    "launch_spin": "Launch and spin",
    "air": "Air and wind",
}
"""The causes, in the order in which they are shown. The rest is "not explained"."""

FEWEST_BALLS = 8
MOST_BALLS = 60
"""More balls are thinned evenly: every pair of balls is flown sixteen times."""

RESAMPLES = 2000
_MODEL_BALL = Ball()
_SEED = 20_260


@dataclass(frozen=True, kw_only=True)
class Block:
    """The balls of one block, one entry for each ball, NaN for missing; the air of the day, None if unknown."""

    club_speed_mps: Array
    ball_speed_mps: Array
    launch_angle_deg: Array
    spin_rpm: Array
    carry_m: Array
    launch_direction_deg: Array | float = 0.0
    spin_axis_deg: Array | float = 0.0
    air: Air | None = None
    provenance: Provenance = MEASURED


@dataclass(frozen=True, kw_only=True)
class Part:
    """One cause's share of the change [m], with its 95 % interval."""

    key: str
    label: str
    change_m: float
    low_m: float
    high_m: float


@dataclass(frozen=True, kw_only=True)
class Yards:
    """The change of mean carry from the first block to the second and where it came from.

    The parts add up to ``modelled_m``, and with ``rest`` to ``measured_m``. With a ``refusal`` there are no parts and
    the numbers are NaN. ``warnings`` are codes of ``metrics.flight.reasons.WARNINGS``; ``n`` balls of each block.
    """

    measured_m: float
    modelled_m: float
    parts: tuple[Part, ...]
    rest: Part | None
    n: tuple[int, int]
    warnings: tuple[str, ...] = ()
    refusal: str = ""


def where_the_yards_came_from(
    *, first: Block, second: Block, category: str, ball: Ball = _MODEL_BALL, seed: int = _SEED
) -> Yards:
    """Split the change of mean carry into club speed, strike, launch with spin, and air; the rest is not explained.

    Every ball of the first block is paired with every ball of the second and flown with each of the sixteen
    mixtures of their causes. A cause's part is the mean change on switching it, averaged over all orders in
    which the four can be switched (Shapley), so no order is favoured and the parts add up exactly. The 95 %
    interval resamples the balls of both blocks; the air's part also carries the model's own error. The same
    seed gives the same interval.

    Needs 8 balls in each block with club speed, ball speed, launch, spin and carry; balls with a gap are left
    out, more than 60 are thinned evenly. Refused for fewer, for different provenance, for wind above 10 mph and
    for clubs without a full flight. Where the device worked the carries out, or the air of a day is not
    known, the air has no part and a warning says so. Source: Shapley value; computed.
    """
    refusal, warnings, airs = _conditions(first, second, category)
    rows = [_rows(block) for block in (first, second)]
    if any(block.shape[1] > MOST_BALLS for block in rows):
        warnings += ("thinned",)
    rows = [_thinned(block) for block in rows]
    n = (rows[0].shape[1], rows[1].shape[1])
    if not refusal and min(n) < FEWEST_BALLS:
        refusal = "too_few_balls"
    if refusal:
        return Yards(measured_m=np.nan, modelled_m=np.nan, parts=(), rest=None, n=n, refusal=refusal)
    carries = _carries(rows[0], rows[1], airs, ball)
    share = CLUBS[category].density_error_share
    return _split(carries, rows[0][-1], rows[1][-1], share, warnings, np.random.default_rng(seed))


def _conditions(first: Block, second: Block, category: str) -> tuple[str, tuple[str, ...], tuple[Air, Air]]:
    still = REFERENCE.air
    for block in (first, second):
        if block.air and np.hypot(block.air.wind_along_mps, block.air.wind_slice_mps) > STRONGEST_WIND_MPS + 1e-9:
            return "windy", (), (still, still)
    if category not in CLUBS:
        return "not_a_full_flight", (), (still, still)
    if first.provenance != second.provenance:
        return "mixed_provenance", (), (still, still)
    if not first.provenance:
        return "no_provenance", (), (still, still)
    if first.provenance != MEASURED:
        return "", ("air_not_in_it",), (still, still)
    if first.air is None or second.air is None:
        return "", ("air_unknown",), (still, still)
    return "", (), (first.air, second.air)


def _rows(block: Block) -> Array:
    """Club speed, smash, launch angle, direction, spin, axis, carry of the balls that have them all."""
    direction, axis = (
        np.nan_to_num(np.broadcast_to(np.asarray(each, dtype=float), np.shape(block.carry_m)))
        for each in (block.launch_direction_deg, block.spin_axis_deg)
    )
    rows = np.array([
        block.club_speed_mps, np.asarray(block.ball_speed_mps) / np.asarray(block.club_speed_mps),
        block.launch_angle_deg, direction, block.spin_rpm, axis, block.carry_m,
    ], dtype=float)
    return rows[:, np.isfinite(rows).all(axis=0)]


def _thinned(rows: Array) -> Array:
    count = rows.shape[1]
    if count <= MOST_BALLS:
        return rows
    return rows[:, np.linspace(0, count - 1, MOST_BALLS).round().astype(int)]


def _carries(first: Array, second: Array, airs: tuple[Air, Air], ball: Ball) -> Array:
    """Model carry for each mixture of causes (2×2×2×2), each ball of the first and each of the second block."""
    columns = first[:, :, None], second[:, None, :]
    shape = (first.shape[1], second.shape[1])
    mixtures = tuple(product((0, 1), repeat=len(CAUSES)))

    def gathered(values: list[Array]) -> Array:
        return np.array([np.broadcast_to(each, shape) for each in values])

    angle, direction, spin, axis = (
        gathered([columns[launch][row] for _, _, launch, _ in mixtures]) for row in (2, 3, 4, 5)
    )
    flown = fly(
        launch=Launch(
            ball_speed_mps=gathered([columns[a][0] * columns[b][1] for a, b, _, _ in mixtures]),
            launch_angle_deg=angle, launch_direction_deg=direction, spin_rpm=spin, spin_axis_deg=axis,
        ),
        air=Air(**{
            name: np.array([vars(airs[mixture[3]])[name] for mixture in mixtures], dtype=float)[:, None, None]
            for name in Air.__dataclass_fields__
        }),
        ball=ball,
    )
    return np.reshape(flown.carry_m, (2, 2, 2, 2, *shape))


def _shapley(values: Array) -> Array:
    """The Shapley parts of a game whose value for each mixture stands in the first four axes, one a cause."""
    causes = len(CAUSES)
    parts = np.zeros((causes, *values.shape[causes:]))
    for mixture in product((0, 1), repeat=causes):
        before = sum(mixture)
        for cause, already in enumerate(mixture):
            if already:
                continue
            weight = factorial(before) * factorial(causes - before - 1) / factorial(causes)
            switched = tuple(1 if each == cause else value for each, value in enumerate(mixture))
            parts[cause] += weight * (values[switched] - values[mixture])
    return parts


def _split(
    carries: Array, carry_first: Array, carry_second: Array, air_error_share: float,
    warnings: tuple[str, ...], rng: np.random.Generator,
) -> Yards:
    pairs = _shapley(carries)
    n, m = carry_first.size, carry_second.size
    parts = pairs.mean(axis=(1, 2))
    measured = float(carry_second.mean() - carry_first.mean())
    weights_first = rng.multinomial(n, np.full(n, 1 / n), RESAMPLES) / n
    weights_second = rng.multinomial(m, np.full(m, 1 / m), RESAMPLES) / m
    drawn = np.einsum("cij,ri,rj->cr", pairs, weights_first, weights_second, optimize=True)
    drawn[-1] *= 1 + air_error_share * rng.standard_normal(RESAMPLES)
    rest_drawn = weights_second @ carry_second - weights_first @ carry_first - drawn.sum(axis=0)

    def part(key: str, label: str, change: float, samples: Array) -> Part:
        low, high = np.quantile(samples, (0.025, 0.975))
        return Part(key=key, label=label, change_m=float(change), low_m=float(low), high_m=float(high))

    shown = tuple(part(key, label, parts[i], drawn[i]) for i, (key, label) in enumerate(CAUSES.items()))
    modelled = float(parts.sum())
    return Yards(
        measured_m=measured, modelled_m=modelled, parts=shown,
        rest=part("rest", "Not explained", measured - modelled, rest_drawn), n=(n, m), warnings=warnings,
    )
