"""A choice among many options, written without a template for each of them.

The page that matches the columns of a file has two such choices a column, some six hundred options; Django's own
field looks through all of them twice, and its widget renders a template for each, which took longer than reading
the file.
"""

from functools import lru_cache
from typing import Any

from django import forms
from django.forms.utils import flatatt
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

Options = tuple[tuple[str, str], ...]


class LongSelect(forms.Widget):
    """A select of plain options."""

    def __init__(self, options: Options) -> None:
        super().__init__()
        self.options = options

    def render(self, name: str, value: Any, attrs: dict[str, Any] | None = None, renderer: Any = None) -> SafeString:
        written = flatatt(self.build_attrs(self.attrs, {**(attrs or {}), "name": name}))
        return mark_safe(f"<select{written}>{_written(self.options, str(value or ''))}</select>")  # escaped below


class LongChoice(forms.Field):
    """One of some options, or nothing; anything else is refused."""

    def __init__(self, *, options: Options, **kwargs: Any) -> None:
        super().__init__(widget=LongSelect(options), required=False, **kwargs)
        self.options = options

    def to_python(self, value: Any) -> str:
        return str(value or "")

    def validate(self, value: str) -> None:
        if value and all(value != key for key, _ in self.options):
            raise forms.ValidationError(forms.ChoiceField.default_error_messages["invalid_choice"] % {"value": value})


@lru_cache(maxsize=256)
def _written(options: Options, chosen: str) -> str:
    return "".join(
        format_html('<option value="{}"{}>{}</option>', key, mark_safe(" selected") if key == chosen else "", label)
        for key, label in options
    )
