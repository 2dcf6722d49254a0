"""Numbers as a person types them: decimal comma or point, a real minus sign, a letter for the side."""

import re

from django import forms

from lessons.imports.numbers import NotANumber, parse_number

_GROUP_OR_DECIMAL = re.compile(r"[-+\u2212]?\d{1,3},\d{3}")


class TypedNumber(forms.CharField):
    """A number in a text box, so that a comma, a minus sign of any kind and a phone's keypad all work."""

    def __init__(self, **kwargs) -> None:
        kwargs.setdefault("required", False)
        kwargs.setdefault("max_length", 12)
        kwargs.setdefault("widget", forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}))
        super().__init__(**kwargs)

    def clean(self, value) -> float | None:
        text = super().clean(value).strip()
        if not text:
            return None
        if _GROUP_OR_DECIMAL.fullmatch(text):
            raise forms.ValidationError(f"“{text}” can be read two ways; expected no comma, or a point.")
        try:
            return parse_number(text, decimal="," if "," in text and "." not in text else ".")
        except NotANumber as error:
            raise forms.ValidationError(f"“{text}” was found; expected a number such as 12.5.") from error
