"""Template tags that every page may use without loading them: numbers in the reader's units."""

import math
from functools import lru_cache

from django import forms, template
from django.conf import settings
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.safestring import SafeString

from metrics import units as metric_units
from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS
from metrics.rules.words import fill

register = template.Library()
MINUS = "\N{MINUS SIGN}"
NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"


def plain_number(value: float, digits: int, *, signed: bool = False) -> str:
    """Return a rounded number with a true minus sign; "−0.0" becomes "0.0"."""
    text = f"{value:.{digits}f}"
    if float(text) == 0:
        return text.lstrip("-")
    return f"+{text}" if signed and value > 0 else text.replace("-", MINUS)


def in_units(value: float | None, field_key: str, system: str, *, spread: bool = False) -> tuple[str, str]:
    """Return a shot quantity in the reader's units as text, and its unit."""
    if value is None or not math.isfinite(value):
        return "–", ""
    shown, unit = metric_units.display(field_key=field_key, value=float(value), system=system)
    digits = metric_units.display_digits(field_key=field_key, system=system)
    signed = bool(FIELDS[field_key].plus_means) and not spread
    return plain_number(shown, digits, signed=signed), unit


@register.simple_tag(takes_context=True)
def measure(context, value: float | None, field_key: str) -> SafeString:
    """Show a shot quantity with its unit: ``{% measure mean "carry_m" %}``."""
    text, unit = in_units(value, field_key, str(context.get("units", "yards")))
    joined = unit if unit in {"°", ""} else f"{NARROW_SPACE}{unit}"
    return format_html('<span class="number">{}<span class="unit">{}</span></span>', text, joined)


@register.simple_tag(takes_context=True)
def measure_bare(context, value: float | None, field_key: str) -> str:
    """Show a shot quantity without its unit, for tables whose heading carries it."""
    return in_units(value, field_key, str(context.get("units", "yards")))[0]


@register.simple_tag(takes_context=True)
def measure_spread(context, value: float | None, field_key: str) -> str:
    """Show an SD or half-width: never signed, never with a unit."""
    return in_units(value, field_key, str(context.get("units", "yards")), spread=True)[0]


@register.simple_tag(takes_context=True)
def unit_of(context, field_key: str) -> str:
    """Return the unit a shot quantity is shown in."""
    return metric_units.display_unit(field_key=field_key, system=str(context.get("units", "yards")))


@register.filter
def field_label(field_key: str) -> str:
    """Return what a shot quantity is called."""
    return FIELDS[field_key].label if field_key in FIELDS else field_key


@register.filter
def checkpoint_label(key: str) -> str:
    """Return what a checkpoint is called."""
    return CHECKPOINTS[key].label if key in CHECKPOINTS else key


@register.filter
def at_checkpoint(value: float | None, key: str) -> str:
    """Show a value of a checkpoint with its unit."""
    if value is None:
        return "–"
    checkpoint = CHECKPOINTS[key]
    joined = checkpoint.unit if checkpoint.unit in {"°", "%", ""} else f"{NARROW_SPACE}{checkpoint.unit}"
    signed = key.endswith("_deg") or key == "ball_position_cm"
    return f"{plain_number(float(value), checkpoint.digits, signed=signed)}{joined}"


@register.filter
def for_hand(text: str, hand: str = "right") -> str:
    """Show a text of the library in the words of a player's hand; library pages speak to a right-hander."""
    return fill(text, hand="left" if hand == "left" else "right")


@register.simple_tag(takes_context=True)
def money(context, cents: int | None) -> str:
    """Show an amount noted in hundredths, in the currency of the academy's house rules."""
    if cents is None:
        return "–"
    rules = getattr(context.get("academy"), "house_rules", None) or {}
    return f"{rules.get('currency', 'EUR')} {plain_number(cents / 100, 2)}"


@register.simple_tag
def form_field(field: forms.BoundField) -> SafeString:
    """Show a field with label, hint and errors: ``{% form_field form.pain %}``, as parts/_field.html does.

    A form class that says ``same_for_everybody`` draws its empty fields once and keeps them: most of the time a page
    with forms takes goes into drawing the same widgets again.
    """
    form = field.form
    same = getattr(form, "same_for_everybody", False) and not form.is_bound and field.name not in form.initial
    if same and not settings.DEBUG:
        return _empty_field(type(form), form.auto_id, form.prefix, field.name)
    return render_to_string("parts/_field.html", {"field": field})


@lru_cache(maxsize=1000)
def _empty_field(form_class: type[forms.BaseForm], auto_id: str, prefix: str | None, name: str) -> SafeString:
    return render_to_string("parts/_field.html", {"field": form_class(auto_id=auto_id, prefix=prefix)[name]})


@register.filter
def get(mapping: dict, key: str):
    """Look a key up in a mapping: ``{{ summary|get:field }}``."""
    return mapping.get(key) if mapping else None
