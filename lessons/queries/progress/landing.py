"""Where the balls came down, before the change and after it, at one scale; calm air or nothing. No query."""

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from lessons.pictures.flight_frame import Ellipse
from lessons.pictures.flight_top import TopView
from lessons.queries.flight.balls import BlockBalls
from lessons.queries.flight.pictures import ELLIPSE_WORD, landings_of
from lessons.queries.visits import BlockVisit
from metrics.change.settings import setting
from metrics.provenance import COMPUTED, MEASURED
from metrics.spread import landing_ellipse
from metrics.units import System

from .shares import Sides, playable_width_m, usual_carry_m


@dataclass(frozen=True, kw_only=True)
class LandingView:
    """One picture with what has to be said under it."""

    view: TopView
    words: str


def landing_views(sides: Sides, *, category: str, left_handed: bool, system: System) -> list[LandingView]:
    """Return one picture a side that has landings, both drawn to one scale."""
    still = sides.alike("side_m")
    width = playable_width_m(category, usual_carry_m(still))
    made = []
    for when, side, all_of_side in (("Before", still.before, sides.before), ("After", still.after, sides.after)):
        balls = [BlockBalls(look.block, sides.shots[look.block.pk].judged()) for look in side
                 if look.block.pk in sides.shots]
        found = _view(when, balls, width, left_handed, system)
        if found is not None:
            made.append(replace(found, words=f"{found.words}{_left_out(side, all_of_side)}"))
    if len(made) == 2:
        first, second = (one.view for one in made)
        made = [replace(made[0], view=replace(first, beside=second)),
                replace(made[1], view=replace(second, beside=first))]
    return made


def _view(when: str, balls: list[BlockBalls], width: float | None, left_handed: bool,
          system: System) -> LandingView | None:
    landings = tuple(landing for part in balls for landing in landings_of(part))
    if not landings:
        return None
    kinds = frozenset().union(*(part.kinds for part in balls))
    ellipse = _ellipse(balls) if len(kinds) == 1 else None
    struck = sum(not landing.mishit for landing in landings)
    view = TopView(
        landings=landings, ellipse=ellipse, playable_m=width, left_handed=left_handed,
        unit="yd" if system == "yards" else "m", title=f"{when}, n {len(landings)}", key=f"landing-{when.lower()}",
        dots_word="measured" if kinds <= {MEASURED} else "as given",
    )
    words = _ellipse_words(ellipse, struck, kinds)
    return LandingView(view=view, words=f"{when} the change, n {len(landings)}. {words}")


def _ellipse_words(ellipse: Ellipse | None, struck: int, kinds: frozenset[str]) -> str:
    needed = int(setting("balls_for_ellipse"))
    if ellipse is not None:
        given = " Worked out by the device." if kinds == {COMPUTED} else ""
        return f"The outline is {ELLIPSE_WORD} ({struck} struck balls).{given}"
    if len(kinds) > 1:
        return "Dots only: some carries were measured, others worked out; they are not mixed in one outline."
    return f"Dots only: an outline needs {needed} struck balls, {max(needed - struck, 1)} more."


def _ellipse(balls: list[BlockBalls]) -> Ellipse | None:
    side, carry = (np.concatenate([part.column(key)[part.struck] for part in balls]) for key in ("side_m", "carry_m"))
    with np.errstate(invalid="ignore"):
        found = landing_ellipse(side_m=side, carry_m=np.sqrt(carry**2 - side**2))
    if found is None:
        return None
    return Ellipse(downrange_m=found.carry_m, side_m=found.side_m, half_long_m=found.half_long_m,
                   half_wide_m=found.half_short_m, turn_deg=found.turn_deg, word=ELLIPSE_WORD)


def _left_out(kept: list[BlockVisit], everything: list[BlockVisit]) -> str:
    """Name the days that are not in the picture, because of wind or because something else was not the same."""
    days = {look.visit.day for look in everything} - {look.visit.day for look in kept}
    if not days:
        return ""
    named = ", ".join(f"{date.fromordinal(day):%-d %b}" for day in sorted(days))
    return f" Left out, windy or not alike: {named}."
