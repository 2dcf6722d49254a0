"""A select with many options, written without a template for each of them.

The page that matches the columns of a file has two such selects a column, some six hundred options; Django's own
widget renders a template for each, which took longer than reading the file.
"""

from functools import lru_cache
from typing import Any

from django import forms
from django.forms.utils import flatatt
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

Options = tuple[tuple[str, str], ...]


class LongSelect(forms.Select):
    """A select of plain choices, without groups."""

    def render(self, name: str, value: Any, attrs: dict[str, Any] | None = None, renderer: Any = None) -> SafeString:
        written = flatatt(self.build_attrs(self.attrs, {**(attrs or {}), "name": name}))
        options = tuple((str(key), str(label)) for key, label in self.choices)
        return mark_safe(f"<select{written}>{_options(options, str(value or ''))}</select>")  # every part is escaped


@lru_cache(maxsize=256)
def _options(options: Options, chosen: str) -> str:
    return "".join(
        format_html('<option value="{}"{}>{}</option>', key, mark_safe(" selected") if key == chosen else "", label)
        for key, label in options
    )
