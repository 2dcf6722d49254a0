"""A line of first-ten means small enough for a roster row: dots in order of visits, window as a band."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString

from .axes import Scale, span
from .svg import Markup, el, line, picture, signed


@dataclass(frozen=True, kw_only=True)
class Sparkline:
    """``means`` oldest first; None leaves a gap where a visit had no first-ten."""

    means: Sequence[float | None]
    window: tuple[float, float] | None = None
    unit: str = ""
    label: str = "First ten"
    key: str = "spark"
    digits: int = 1


WIDTH, HEIGHT, _EDGE = 120.0, 32.0, 6.0


def draw(spark: Sparkline) -> SafeString:
    """Draw dots only: a line between visits would claim something about the weeks between them."""
    known = [mean for mean in spark.means if mean is not None]
    low, high = span([*known, *(spark.window or ())], least=1.0, pad=0.1)
    across = Scale(low=0, high=max(len(spark.means) - 1, 1), start=_EDGE, end=WIDTH - _EDGE)
    up = Scale(low=low, high=high, start=HEIGHT - 5, end=5)
    layers: list[Markup] = []
    if spark.window:
        top = up(spark.window[1])
        layers.append(el("rect", x=0, y=top, width=WIDTH, height=up(spark.window[0]) - top, class_="window",
                         stroke_width=0.75, fill="none", stroke="currentColor"))
    else:
        layers.append(line(0, HEIGHT / 2, WIDTH, HEIGHT / 2, "rule", stroke_width=1))
    last = max((i for i, mean in enumerate(spark.means) if mean is not None), default=None)
    for place, mean in enumerate(spark.means):
        if mean is not None:
            layers.append(el("circle", cx=across(place), cy=up(mean), r=4.5 if place == last else 2.75,
                             class_="fill"))
    return picture(*layers, key=spark.key, width=WIDTH, height=HEIGHT, class_="spark",
                   title=f"{spark.label}: {len(known)} visit{'' if len(known) == 1 else 's'}",
                   description=_describe(spark, known))


def _describe(spark: Sparkline, known: list[float]) -> str:
    if not known:
        return "No first-ten yet."
    said = ", ".join(signed(mean, spark.digits) for mean in known)
    window = ""
    if spark.window:
        low, high = (signed(edge, spark.digits) for edge in spark.window)
        window = f" Window {low} to {high}."
    return f"Means oldest first, {spark.unit}: {said}.{window}".replace(", :", ":")
