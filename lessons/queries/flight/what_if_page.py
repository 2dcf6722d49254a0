"""The answer of the what-if form as the page shows it: two rows, two pictures of one scale, always an estimate."""

from typing import Any

from django.utils.safestring import SafeString

from lessons.pictures import flight_top
from lessons.pictures.flight_frame import Unit
from lessons.pictures.flight_top import TopView
from metrics.fields import FIELDS
from metrics.flight.whatif import LABEL, Estimate
from metrics.units import System, display

from .balls import BlockBalls
from .facts import shown
from .pictures import flight_curve
from .what_if import Starting, answer

_LANDING = ("carry_m", "side_m", "apex_m", "landing_angle_deg")
_LAUNCH = ("launch_direction_deg", "launch_angle_deg", "ball_speed_mps", "spin_rpm")


def answer_context(*, balls: BlockBalls, start: Starting, wanted: dict[str, float], system: System) -> dict[str, Any]:
    """Return what the page needs to show an answer: ``answer``, its rows and pictures; or ``no_flight``."""
    if not wanted:
        return {"nothing_asked": True}
    found = answer(balls=balls, start=start, wanted=wanted)
    if found is None:
        return {"no_flight": True}
    left = balls.block.lesson.student.left_handed
    change = float(display(field_key="carry_m", value=found.carry_change_m, system=system)[0])
    return {
        "answer": found, "label": LABEL, "labels": [FIELDS[key].label for key in (*_LAUNCH, *_LANDING)],
        "rows": [
            {"name": name, "shape": shape, "cells": [
                (FIELDS[key].label, shown(key, float(getattr(part, key)), system=system, left_handed=left))
                for part, keys in ((each.launch, _LAUNCH), (each.landing, _LANDING)) for key in keys
            ]} for name, each, shape in (
                ("As it is", found.now, found.shape_now), ("As asked", found.then, found.shape_then),
            )
        ],
        "carry_change": f"{change:+.0f}".replace("-", "−").replace("−0", "0").replace("+0", "0"),
        "what_if_pictures": _drawn(found.now, found.then, balls, system),
    }


def _drawn(now: Estimate, then: Estimate, balls: BlockBalls, system: System) -> list[SafeString]:
    unit: Unit = "yd" if system == "yards" else "m"
    left = balls.block.lesson.student.left_handed
    views = []
    for each, title in ((now, "As it is, estimate"), (then, "As asked, estimate")):
        curve, _ = flight_curve(each.launch, balls.still_air)
        views.append(TopView(
            curves=(curve,) if curve else (), left_handed=left, unit=unit, title=title,
            key=f"what-if-{len(views)}",
        ))
    first, second = views
    return [flight_top.draw(TopView(**{**vars(first), "beside": second})),
            flight_top.draw(TopView(**{**vars(second), "beside": first}))]
