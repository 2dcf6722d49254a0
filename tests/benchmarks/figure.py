"""One measured figure beside its floor and its limit."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, kw_only=True)
class Figure:
    """What was measured, in ``unit``: ours, the floor it is compared with, and how far it may go.

    ``ratio`` is ours over floor where a slow result is wrong ("at most"), and floor over ours where a fast
    result is the promise ("at least"). ``why`` says in one sentence why this floor is the right one.
    """

    what: str
    ours: float
    floor: float
    unit: str
    limit: float
    direction: Literal["at least", "at most"]
    why: str

    @property
    def ratio(self) -> float:
        return self.floor / self.ours if self.direction == "at least" else self.ours / self.floor

    @property
    def ok(self) -> bool:
        return self.ratio >= self.limit if self.direction == "at least" else self.ratio <= self.limit


def seconds(*works: Callable[[], object], repeats: int = 7, warm: bool = True) -> tuple[float, ...]:
    """Return the least processor time of each piece of work, taken in turn so that a ratio is a fair one.

    Processor time and the least of several runs, because other work on the machine must not decide a ratio;
    one run of each before that warms up, unless a run is so long that this is no help.
    """
    for work in works if warm else ():
        work()
    least = [float("inf")] * len(works)
    for _ in [None] * repeats:
        for index, work in enumerate(works):
            begin = time.process_time()
            work()
            least[index] = min(least[index], time.process_time() - begin)
    return tuple(least)
