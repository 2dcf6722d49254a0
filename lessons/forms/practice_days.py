"""On which days, and when."""

from typing import Any

from django import forms

from lessons.models import PracticeDays

WEEKDAYS = list(enumerate(("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")))


class DaysForm(forms.Form):
    """The weekdays of practice; none takes the dates away."""

    weekdays = forms.TypedMultipleChoiceField(
        label="Days", choices=WEEKDAYS, coerce=int, required=False, widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "%(value)s was found; expected days from 0 (Monday) to 6 (Sunday)."})
    at = forms.TimeField(
        label="At", required=False, help_text="Empty: some time of the day.",
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
        error_messages={"invalid": "That is no time of the day; expected one such as 18:30."})


def first_days(days: PracticeDays | None) -> dict[str, Any]:
    """Return what the form begins with."""
    return {"weekdays": days.weekdays, "at": days.at} if days else {}
