"""The tests: which targets, how many balls each, in which order. A test says itself how exact it is.

Distances are those at which teachers and published figures meet: feet on the green, yards beyond it.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

FOOT_M, YARD_M = 0.3048, 0.9144
Kind = Literal["made", "gate", "pace", "left", "carry", "saved", "out"]
"""What is noted for a ball: holed or not; the side of a gate; the leave, + past the hole; the distance left to the
hole; the carry; up and down or not; out of the sand and on the green or not."""

RATES: frozenset[str] = frozenset({"made", "gate", "saved", "out"})
"""Kinds whose result is a share of balls."""
TEST_BALLS = 27
"""From this many balls to two targets or more a run is called a test; a published approach test with 27 shots had
limits of agreement of about a tenth of its scale (abstract read)."""


@dataclass(frozen=True, kw_only=True)
class Station:
    """A target: a round number in the unit people use for it."""

    amount: float
    unit: Literal["ft", "yd"]

    @property
    def metres(self) -> float:
        """The distance in metres, exact."""
        return self.amount * (FOOT_M if self.unit == "ft" else YARD_M)


@dataclass(frozen=True, kw_only=True)
class Design:
    """One test. ``each`` balls go to every station; ``category`` is the kind of club the rules know."""

    slug: str
    title: str
    kind: Kind
    category: str
    stations: tuple[Station, ...]
    each: int
    minutes: int
    places: tuple[str, ...]
    how: str

    @property
    def balls(self) -> int:
        """The number of balls of a whole run."""
        return self.each * len(self.stations)

    @property
    def is_test(self) -> bool:
        """True where two runs may be compared: enough balls, more than one target, random order."""
        return self.balls >= TEST_BALLS and len(self.stations) > 1


def _feet(*amounts: float) -> tuple[Station, ...]:
    return tuple(Station(amount=amount, unit="ft") for amount in amounts)


def _yards(*amounts: float) -> tuple[Station, ...]:
    return tuple(Station(amount=amount, unit="yd") for amount in amounts)


_GREEN, _RANGE = ("green",), ("range", "green")
_ALL = (
    Design(slug="putt_make", title="Putts made, four distances", kind="made", category="putter",
           stations=_feet(4, 5, 8, 10), each=7, minutes=15, places=_GREEN,
           how="One ball to each distance as it comes up, full routine, straight or nearly straight putts."),
    Design(slug="putt_gate", title="Start line through a gate", kind="gate", category="putter", stations=_feet(8),
           each=20, minutes=8, places=("green", "home"),
           how="Two tees 40 cm ahead, 1 cm wider than the ball: that is ±0.7°. Note the side of a miss."),
    Design(slug="putt_pace", title="Pace from long range", kind="pace", category="putter",
           stations=_feet(20, 30, 40), each=9, minutes=15, places=_GREEN,
           how="Measure how far the ball stops past the hole, or short of it with a minus."),
    Design(slug="chip_left", title="Chips and pitches: distance left", kind="left", category="chip",
           stations=_yards(10, 20, 30), each=9, minutes=20, places=_GREEN,
           how="Measure from the hole to the ball; call the contact where it was not clean."),
    Design(slug="up_and_down", title="Up and down", kind="saved", category="chip", stations=_yards(8, 15, 25), each=9,
           minutes=45, places=_GREEN, how="One ball, chip and putt out: two strokes or fewer count."),
    Design(slug="sand", title="Out of the sand", kind="out", category="sand", stations=_yards(10), each=10,
           minutes=10, places=("bunker",), how="Out and on the green counts."),
    Design(slug="wedge", title="Wedge carries, three distances", kind="carry", category="pitch",
           stations=_yards(30, 50, 70), each=9, minutes=20, places=("range",),
           how="One ball to each distance as it comes up; the carry, not where it stops."),
    Design(slug="putt_five", title="Ten short putts", kind="made", category="putter", stations=_feet(5), each=10,
           minutes=5, places=_GREEN, how="Straight putts, full routine."),
    Design(slug="putt_thirty", title="Ten long putts", kind="pace", category="putter", stations=_feet(30), each=10,
           minutes=6, places=_GREEN, how="How far past the hole, or short of it with a minus."),
    Design(slug="chip_ten", title="Ten chips", kind="left", category="chip", stations=_yards(15), each=10,
           minutes=8, places=_GREEN, how="From the hole to the ball; call the contact where it was not clean."),
    Design(slug="wedge_fifty", title="Ten part wedges", kind="carry", category="pitch", stations=_yards(50),
           each=10, minutes=8, places=_RANGE, how="The carry, not where it stops."),
)
DESIGNS: dict[str, Design] = {design.slug: design for design in _ALL}
"""Every test by its slug, in the order in which they are offered."""


def target_at(*, design: Design, seed: int, number: int) -> Station:
    """Return the target of ball ``number`` (from 1 on) in a run with this seed.

    Every round holds each station once, shuffled anew, so that stopping early leaves the targets even. The same
    seed gives the same order. Raises ValueError for a number below 1.
    """
    if number < 1:
        raise ValueError(f"ball {number} was asked for; balls count from 1")
    stations = len(design.stations)
    turn, place = divmod(number - 1, stations)
    order = np.random.default_rng([seed, turn]).permutation(stations)
    return design.stations[int(order[place])]
