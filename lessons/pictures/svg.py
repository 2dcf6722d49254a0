"""The few bricks every picture is built from: escaped elements, and one safe string at the end."""

import math
from html import escape

from django.utils.safestring import SafeString, mark_safe


class Markup(str):
    """Markup that this module made, so already escaped. Nothing else makes one."""

    __slots__ = ()


def number(value: float) -> str:
    """Write a coordinate with at most two decimals. Raises ValueError for NaN and infinity."""
    if not math.isfinite(value):
        raise ValueError(f"a picture needs finite numbers, got {value}")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def el(name: str, *children: str, **attributes: object) -> Markup:
    """Build one element. Plain strings among the children are escaped; attributes that are None are left out.

    ``class_`` becomes class, other underscores become hyphens (``stroke_width``, ``data_part``).
    """
    written = []
    for key, value in attributes.items():
        if value is None:
            continue
        text = number(value) if isinstance(value, (int, float)) else str(value)
        written.append(f' {attribute_name(key)}="{escape(text)}"')
    body = "".join(child if isinstance(child, Markup) else escape(child) for child in children)
    return Markup(f"<{name}{''.join(written)}>{body}</{name}>" if body else f"<{name}{''.join(written)}/>")


def attribute_name(key: str) -> str:
    """Turn a Python keyword into the name of an SVG attribute."""
    if key == "viewBox":
        return key
    return key.rstrip("_").replace("_", "-")


def group(*children: str, **attributes: object) -> Markup:
    return el("g", *children, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, class_: str, **attributes: object) -> Markup:
    """A straight line. currentColor is the fall-back where no style sheet is loaded."""
    return el("line", x1=x1, y1=y1, x2=x2, y2=y2, class_=class_, stroke="currentColor", **attributes)


def label(x: float, y: float, words: str, class_: str | None = None, *, size: float = 14,
          anchor: str = "start", **attributes: object) -> Markup:
    return el("text", words, x=x, y=y, class_=class_, font_size=size,
              text_anchor=None if anchor == "start" else anchor, **attributes)


def points(pairs: list[tuple[float, float]]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in pairs)


def picture(*children: str, key: str, width: float, height: float, class_: str, title: str,
            description: str, own_size: bool = False, **attributes: object) -> SafeString:
    """Close a picture: an image with a name and a description for those who listen to the page.

    ``key`` must be unique on the page: title and description are tied to the picture by it. ``own_size`` keeps the
    picture at its own size where it would else fill its frame.
    """
    if not title.strip():
        raise ValueError("a picture needs a title: it is what a screen reader says")
    whole = el(
        "svg",
        el("title", title, id=f"{key}-title"),
        el("desc", description, id=f"{key}-desc"),
        *children,
        id=key,
        class_=f"pic {class_}",
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=width if own_size else None,
        height=height if own_size else None,
        role="img",
        aria_labelledby=f"{key}-title {key}-desc",
        xmlns="http://www.w3.org/2000/svg",
        **attributes,
    )
    return mark_safe(whole)


def signed(value: float, digits: int = 1) -> str:
    """Write a number with its sign, a true minus, and no "-0"."""
    rounded = round(value, digits)
    if rounded == 0:
        return f"{0:.{digits}f}"
    return f"{rounded:+.{digits}f}".replace("-", "−")


def with_unit(text: str, unit: str) -> str:
    """Set a number and its unit: degrees close up, everything else with a space."""
    return text + unit if unit in ("", "°") else f"{text} {unit}"


def plain(value: float, digits: int = 1) -> str:
    """Write a number without a plus sign, with a true minus."""
    return f"{round(value, digits) + 0.0:.{digits}f}".replace("-", "−")
