"""Ball flight: speed against an adaptive solver, exactness, normalising a season, memory."""

import tracemalloc
from collections.abc import Iterator

import numpy as np

from metrics.flight.normalise import normalise
from metrics.flight.trajectory import BALLS_AT_ONCE, fly
from metrics.flight.types import Air, Launch
from tests.metrics.flight.outside import YARD, adaptive_one, random_shots

from .figure import Figure, seconds

_MANY = 10_000
_ONE_BY_ONE = 200
_ADAPTIVE = (
    "scipy's DOP853 at rtol 1e-10, one shot at a time, is what one would write without this program; its time "
    "for {n} shots is its mean time for 200 of the same shots."
)


def run() -> Iterator[Figure]:
    """Yield the figures of one run; all times of a ratio are taken in it, one after the other."""
    launch, air = random_shots(count=_MANY, seed=11)
    few_launch, few_air = _first(launch, 100), _first(air, 100)
    one_by_one = range(_ONE_BY_ONE)
    adaptive_s, all_s, few_s = seconds(
        lambda: [adaptive_one(launch, air, shot) for shot in one_by_one],
        lambda: fly(launch=launch, air=air),
        lambda: fly(launch=few_launch, air=few_air),
    )
    one_shot_s = adaptive_s / _ONE_BY_ONE
    yield Figure(
        what="10,000 flights", ours=all_s, floor=one_shot_s * _MANY, unit="s", limit=200, direction="at least",
        why=_ADAPTIVE.format(n="10,000"),
    )
    yield Figure(
        what="100 flights", ours=few_s, floor=one_shot_s * 100, unit="s", limit=20, direction="at least",
        why=_ADAPTIVE.format(n="100"),
    )
    yield from _exactness()
    yield _season(launch)
    yield _memory()


def _exactness() -> Iterator[Figure]:
    launch, air = random_shots(count=600, seed=600)
    ours = fly(launch=launch, air=air)
    outside = np.array([adaptive_one(launch, air, shot) for shot, _ in enumerate(ours.carry_m)])
    for column, name in enumerate(("carry", "side")):
        worst = np.max(np.abs(getattr(ours, f"{name}_m") - outside[:, column])) / YARD
        yield Figure(
            what=f"largest error of {name}, 600 random shots in wind", ours=float(worst), floor=0.01, unit="yd",
            limit=1, direction="at most",
            why="a hundredth of a yard is a tenth of the last decimal any screen shows.",
        )


def _season(launch: Launch) -> Figure:
    rng = np.random.default_rng(12)
    visit = rng.integers(0, 150, _MANY)
    density, viscosity = rng.uniform(1.10, 1.30, 150)[visit], rng.uniform(1.4e-5, 1.6e-5, 150)[visit]
    calm = Air(density_kg_m3=density, kinematic_viscosity_m2_s=viscosity)
    long = np.maximum(np.asarray(fly(launch=launch, air=calm).carry_m), 60.0)
    club = rng.choice(["driver", "mid_iron", "wedge_full"], _MANY)

    def work() -> object:
        return normalise(carry_m=long, launch=launch, air=calm, category=club, provenance="measured")

    ours, flight = seconds(work, lambda: fly(launch=launch, air=calm))
    return Figure(
        what="a season of 10,000 carries stated at the reference", ours=ours, floor=flight, unit="s", limit=3,
        direction="at most",
        why="the raw flight of the same 10,000 launches in the same air; two flights each make 2 the least.",
    )


def _memory() -> Figure:
    def peak(count: int) -> float:
        launch, air = random_shots(count=count, seed=13)
        tracemalloc.start()
        result = fly(launch=launch, air=air)
        top, kept = tracemalloc.get_traced_memory()[1], sum(np.asarray(each).nbytes for each in vars(result).values())
        tracemalloc.stop()
        return (top - kept) / 1e6

    return Figure(
        what="working memory for eight blocks of flights", ours=peak(8 * BALLS_AT_ONCE), floor=peak(BALLS_AT_ONCE),
        unit="MB", limit=1.5, direction="at most",
        why="one block's working memory: beyond the answer itself, more balls must not need more.",
    )


def _first(part: Launch | Air, count: int):  # type: ignore[no-untyped-def]
    return type(part)(**{name: np.asarray(value)[:count] for name, value in vars(part).items()})
