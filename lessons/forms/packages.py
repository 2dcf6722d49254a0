"""Selling a package, and what may happen to one later."""

from decimal import Decimal
from typing import Any

from django import forms

from academy.models import Student

DAY = {"type": "date"}


def _money(**values: Any) -> forms.DecimalField:
    return forms.DecimalField(
        min_value=0, max_value=99999, max_digits=7, decimal_places=2, **{"required": False, **values}
    )


def _in_cents(values: dict[str, Any], name: str) -> dict[str, Any]:
    others = {key: value for key, value in values.items() if key != name}
    return {**others, f"{name}_cents": int((values[name] or Decimal(0)) * 100)}


class SellForm(forms.Form):
    """A package that was bought; the key makes a double click one sale."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    name = forms.CharField(max_length=80, label="What was bought", initial="Six lessons")
    lessons = forms.IntegerField(min_value=1, max_value=200, label="Lessons", initial=6)
    price = _money(label="Price of the whole", help_text="Noted for the bookkeeper; nothing is charged here.")
    invoice = forms.CharField(max_length=40, required=False, label="Invoice number")
    expires_on = forms.DateField(
        required=False, label="Last day", help_text="Empty means it never runs out.",
        widget=forms.DateInput(attrs=DAY),
    )

    def values(self) -> dict[str, Any]:
        """Return the cleaned values as the service takes them."""
        return _in_cents(self.cleaned_data, "price")


class RefundForm(forms.Form):
    """Lessons taken out against money that went back."""

    lessons = forms.IntegerField(min_value=1, max_value=200, label="Lessons", initial=1)
    amount = _money(label="Money that went back")
    invoice = forms.CharField(max_length=40, required=False, label="Number of the credit note")
    note = forms.CharField(max_length=200, required=False, label="Why")

    def values(self) -> dict[str, Any]:
        return _in_cents(self.cleaned_data, "amount")


class MoveForm(forms.Form):
    """Lessons handed on to another student."""

    to = forms.ModelChoiceField(
        Student.objects.none(), to_field_name="code", label="To whom", empty_label="choose a student"
    )
    lessons = forms.IntegerField(min_value=1, max_value=200, label="Lessons", initial=1)
    note = forms.CharField(max_length=200, required=False, label="Why")

    def __init__(self, *args: Any, students: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["to"].queryset = students

    def values(self) -> dict[str, Any]:
        return dict(self.cleaned_data)


class LastDayForm(forms.Form):
    """Another last day, such as after an injury."""

    expires_on = forms.DateField(
        required=False, label="Last day", help_text="Empty means it never runs out.",
        widget=forms.DateInput(attrs=DAY),
    )

    def values(self) -> dict[str, Any]:
        return dict(self.cleaned_data)


class PeriodForm(forms.Form):
    """From one day to another, both counted; empty means without an end."""

    since = forms.DateField(required=False, label="From", widget=forms.DateInput(attrs=DAY))
    until = forms.DateField(required=False, label="To", widget=forms.DateInput(attrs=DAY))

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        since, until = values.get("since"), values.get("until")
        if since and until and until < since:
            self.add_error("until", f"{until:%-d %B %Y} lies before {since:%-d %B %Y}; expected a later day.")
        return values
