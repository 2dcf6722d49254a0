"""Balls in words. Tags and not pieces of template: a lesson page says it for every ball, and is drawn often.

No text that somebody typed goes through here unescaped.
"""

from collections.abc import Iterable
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


@register.simple_tag(takes_context=True)
def ball_items(context, rows: Iterable[BallRow] | None) -> SafeString:
    """List balls, each under its own id: ``{% ball_items rows %}``. A ball's number opens it to be corrected."""
    system = str(context.get("units", "yards"))
    return mark_safe("".join(_item(row, system) for row in rows or ()))


@register.simple_tag(takes_context=True)
def ball_words(context, row: BallRow, brief: bool = False) -> SafeString:
    """Say a ball's first numbers and what was called; ``{% ball_words row brief=True %}`` in the line at the top."""
    return mark_safe(_words(row, str(context.get("units", "yards")), brief=brief))


@register.filter
def ball_address(shot: Shot) -> str:
    """Return the address of a ball's own page."""
    return _address(shot)


def _item(row: BallRow, system: str) -> str:
    shot, said = row.shot, _words(row, system)
    if not row.counts:
        said = f'<s>{said}</s> <span class="small">does not count: {escape(shot.excluded_reason)}</span>'
    elif shot.is_mishit:
        said = f'{said} <span class="state state-outside">mishit</span>'
    kind = ' class="row-mishit"' if shot.is_mishit else ""
    opener = (
        f'<a class="button-quiet button-small ball-number" href="{_address(shot)}" title="Correct this ball">'
        f'{shot.number}<span class="visually-hidden">: correct this ball</span></a>'
    )
    return (
        f'<li id="ball-{shot.key}"{kind}>{opener} <span class="grow">{said}</span> '
        '<span class="saved small">stored</span></li>\n'
    )


def _words(row: BallRow, system: str, *, brief: bool = False) -> str:
    """Say a ball: numbers and words of the program's own registries as they are, everything else escaped."""
    said = [_number(key, value, system) for key, value in row.numbers[:SHOWN_BRIEFLY if brief else SHOWN]]
    if row.called:
        seen = f' <span class="quiet small">({escape(row.seen)})</span>' if row.seen and not brief else ""
        said.append(f"{escape(row.called)}{seen}")
    return ", ".join(said)


def _number(key: str, value: float, system: str) -> str:
    text, unit = in_units(value, key, system)
    space = "" if unit in {"°", ""} else NARROW_SPACE
    shown = f'<span class="number">{text}<span class="unit">{space}{escape(unit)}</span></span>'
    return f'<span class="nowrap">{field_label(key).lower()} {shown}</span>'


def _address(shot: Shot) -> str:
    """Return the address of a ball's own page; the resolver is asked once, not for every ball of a list."""
    return _pattern().replace(str(_NOBODY), str(shot.key))


@cache
def _pattern() -> str:
    return reverse("lessons:ball", args=[_NOBODY])
