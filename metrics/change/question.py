"""What is asked of a change: which number, toward what, and how small a change still matters."""

import math
from dataclasses import dataclass
from typing import Literal

from metrics.change.priors import balls_to_judge, k_prior, sd_prior, smallest_worthwhile
from metrics.levels import Level
from metrics.units import System
from metrics.windows import Intent, Window, find_window

Direction = Literal[-1, 0, 1]


@dataclass(frozen=True, kw_only=True)
class Goal:
    """Where the number should go: into a window or, where none is kept, simply up (1) or down (-1).

    Exactly one of the two is given; ValueError otherwise.
    """

    window: Window | None = None
    upward: Literal[-1, 1] | None = None

    def __post_init__(self) -> None:
        if (self.window is None) == (self.upward is None):
            raise ValueError("a goal is either a window or a direction: give one of them")

    def outside(self, value: float) -> float:
        """How far the value is from the window; infinite where there is only a direction to go."""
        return math.inf if self.window is None else self.window.distance(value)

    def direction(self, value: float) -> Direction:
        """Which way is better from here: the sign of window minus value, 0 inside the window."""
        if self.window is None:
            return self.upward or 0
        if self.window.contains(value):
            return 0
        return 1 if value < self.window.lo else -1

    def progress(self, before: float, after: float) -> float:
        """How much nearer: counted toward the window, capped at it, and taken back when it goes out the far side."""
        if self.window is None:
            return (after - before) * (self.upward or 0)
        return self.window.distance(before) - self.window.distance(after)

    def past_far_edge(self, before: float, after: float) -> float:
        """How far the value went out of the far side of the window; 0 where it did not."""
        direction = self.direction(before)
        if self.window is None or direction == 0:
            return 0.0
        edge = self.window.hi if direction > 0 else self.window.lo
        return max((after - edge) * direction, 0.0)


@dataclass(frozen=True, kw_only=True)
class Question:
    """One number of one player with one club, in its stored unit.

    swc: the smallest worthwhile change (> 0). k: assumed s_b/s_w, kept
    whatever the visits show where ``fixed_k``. sd_prior: the level's usual spread, None for
    none. model_error: an error common to a side of the comparison (normalised carry). balls_needed: balls a
    visit must have to be judged.
    """

    quantity: str
    goal: Goal
    swc: float
    k: float
    balls_needed: int
    fixed_k: bool = False
    sd_prior: float | None = None
    model_error: float = 0.0
    system: System = "metres"

    def __post_init__(self) -> None:
        if not self.swc > 0:
            raise ValueError(f"the smallest worthwhile change must be above 0, got {self.swc}")


def question_for(*, quantity: str, category: str, intent: Intent, level: Level | None = None,
                 typical: float | None = None, upward: Literal[-1, 1] = 1, model_error: float = 0.0,
                 system: System = "metres") -> Question:
    """Return the question with every shipped setting filled in.

    quantity, category: keys of ``metrics.fields`` and ``metrics.clubs``. typical: the player's usual value, needed
    where the smallest change is a share (speed, distance, spin). level None: no assumed spread. upward: which way
    is better where no window is kept. Raises ValueError for a quantity without a smallest worthwhile change.
    """
    window = find_window(quantity=quantity, intent=intent, category=category)
    prior = sd_prior(quantity=quantity, level=level, category=category, typical=typical) if level else None
    return Question(
        quantity=quantity,
        goal=Goal(window=window) if window else Goal(upward=upward),
        swc=smallest_worthwhile(quantity=quantity, baseline=typical, category=category).value,
        k=k_prior(quantity=quantity),
        balls_needed=balls_to_judge(category=category),
        sd_prior=prior.value if prior else None,
        model_error=model_error,
        system=system,
    )
