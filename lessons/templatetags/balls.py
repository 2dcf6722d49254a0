"""One ball in words. A tag and not a piece of template: a lesson page says it for every ball it shows."""

from functools import cache
from uuid import UUID

from django import template
from django.urls import reverse
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from academy.templatetags.holdfast import NARROW_SPACE, field_label, in_units
from lessons.models import Shot
from lessons.queries.balls import BallRow

register = template.Library()
_NOBODY = UUID(int=0)
SHOWN, SHOWN_BRIEFLY = 4, 2
"""Numbers that are said; the ball's own page has all of them."""


@register.filter
def ball_address(shot: Shot) -> str:
    """Return the address of a ball's own page; the resolver is asked once, not for every ball of a list."""
    return _address().replace(str(_NOBODY), str(shot.key))


@cache
def _address() -> str:
    return reverse("lessons:ball", args=[_NOBODY])


@register.simple_tag(takes_context=True)
def ball_words(context, row: BallRow, brief: bool = False) -> SafeString:
    """Say a ball's first numbers and what was called; ``{% ball_words row brief=True %}`` in the line at the top."""
    system = str(context.get("units", "yards"))
    said = [_number(key, value, system) for key, value in row.numbers[:SHOWN_BRIEFLY if brief else SHOWN]]
    if row.called:
        seen = f' <span class="quiet small">({escape(row.seen)})</span>' if row.seen and not brief else ""
        said.append(f"{escape(row.called)}{seen}")
    return mark_safe(", ".join(said))  # numbers and words of the program's own registries, the rest escaped above


def _number(key: str, value: float, system: str) -> str:
    text, unit = in_units(value, key, system)
    space = "" if unit in {"°", ""} else NARROW_SPACE
    shown = f'<span class="number">{text}<span class="unit">{space}{escape(unit)}</span></span>'
    return f'<span class="nowrap">{field_label(key).lower()} {shown}</span>'
