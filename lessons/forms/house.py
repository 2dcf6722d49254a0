"""The form of the house rules."""

from typing import Any

from django import forms


class HouseForm(forms.Form):
    """What the academy asks of its diary and its office; each field is one of lessons.house, or the currency."""

    travel_minutes = forms.IntegerField(min_value=1, max_value=240, label="Minutes for the way between two places")
    late_cancel_hours = forms.IntegerField(
        min_value=1, max_value=168, label="Hours of notice", help_text="With less, a cancellation counts as late.")
    children_per_adult = forms.IntegerField(min_value=1, max_value=60, label="Children under twelve to one adult")
    students_per_adult = forms.IntegerField(min_value=1, max_value=60, label="Other students to one adult")
    silent_days = forms.IntegerField(
        min_value=1, max_value=365, label="Days without a tick", help_text="From then on practice counts as silent.")
    clubs_checked_months = forms.IntegerField(min_value=1, max_value=120, label="Months until clubs are checked again")
    first_hour = forms.IntegerField(min_value=1, max_value=22, label="The diary begins at, o’clock")
    last_hour = forms.IntegerField(min_value=2, max_value=23, label="The diary ends at, o’clock")
    currency = forms.RegexField(
        regex=r"^[A-Z]{3}$", label="Currency of noted amounts", help_text="Three letters, such as EUR.",
        error_messages={"invalid": "Three capital letters were expected, such as EUR."})
    students_shared = forms.BooleanField(
        required=False, label="Every coach finds every student",
        help_text="By name, with visits and verdict, to book or to stand in. Notes and health stay with the "
        "student’s own coach.")
    second_step_for_all = forms.BooleanField(
        required=False, label="Everybody signs in with a second step",
        help_text="A code from the phone. Who has none is led to turn it on before anything else; have yours ready.")

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        first, last = values.get("first_hour"), values.get("last_hour")
        if first and last and last <= first:
            self.add_error("last_hour", f"{last} is not after {first}; expected a later hour.")
        return values
