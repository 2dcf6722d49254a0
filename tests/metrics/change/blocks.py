"""Blocks of balls for the tests: with an exact mean and SD, or played at random under the visit model."""

import numpy as np

from metrics.change import Conditions, Goal, Question, Visit
from metrics.windows import Window

DRAW = Goal(window=Window(lo=2.0, hi=4.0))
UPWARD = Goal(upward=1)


def block(day, mean, sd, n, **conditions):
    """A visit whose balls have exactly this mean and sample SD."""
    x = np.random.default_rng([day, n]).normal(size=n)
    x = (x - x.mean()) / x.std(ddof=1)
    return Visit(day=day, values=tuple(float(v) for v in mean + sd * x), conditions=Conditions(**conditions))


def path_question(*, goal=DRAW, swc=1.0, k=0.4, balls_needed=8, **more):
    return Question(quantity="club_path_deg", goal=goal, swc=swc, k=k, balls_needed=balls_needed, **more)


def play(rng, *, day, true_mean, n, s_w=2.0, k=0.4, **conditions):
    """One visit of balls: long-run mean + the day's effect + each shot's own error."""
    mean = true_mean + k * s_w * rng.normal()
    values = mean + s_w * rng.normal(size=n)
    return Visit(day=day, values=tuple(values.tolist()), conditions=Conditions(**conditions))


def rate_of(hits, runs):
    """A share and its Monte-Carlo standard error."""
    share = hits / runs
    return share, (max(share * (1 - share), 1e-4) / runs) ** 0.5
