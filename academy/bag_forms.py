"""Forms of goals, wanted flights and clubs."""

from typing import Any

from django import forms

from metrics.fields import FIELDS

from .models import Club, Goal, Intent

DAY = {"type": "date"}


class IntentForm(forms.ModelForm):
    """Which flight the student wants from one kind of club."""

    class Meta:
        model = Intent
        fields = ["category", "shape"]
        labels = {"category": "Kind of club", "shape": "Wanted flight"}


class GoalForm(forms.ModelForm):
    """A goal; with a number it can be judged."""

    quantity = forms.ChoiceField(
        choices=[("", "none"), *((key, field.label) for key, field in FIELDS.items())], required=False,
        label="Number it is read from",
    )

    class Meta:
        model = Goal
        fields = ["text", "kind", "by_date", "quantity", "category", "lower", "upper"]
        widgets = {"by_date": forms.DateInput(attrs=DAY)}
        labels = {"text": "In the student’s words", "category": "Kind of club", "lower": "From", "upper": "To"}
        help_texts = {"upper": "In the stored unit: degrees, metres, metres a second."}

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        lower, upper = values.get("lower"), values.get("upper")
        if lower is not None and upper is not None and lower > upper:
            self.add_error("upper", f"{upper:g} lies below {lower:g}; expected the larger number here.")
        if (lower is not None or upper is not None) and not values.get("quantity"):
            self.add_error("quantity", "Say which number the limits are for.")
        return values


class ClubForm(forms.ModelForm):
    """A club of the student's bag."""

    class Meta:
        model = Club
        fields = ["name", "category", "loft_deg", "lie_deg", "length_cm", "shaft", "grip", "from_date"]
        widgets = {"from_date": forms.DateInput(attrs=DAY)}
        labels = {"category": "Kind of club", "loft_deg": "Loft (°)", "lie_deg": "Lie (°)", "length_cm": "Length (cm)",
                  "from_date": "In the bag since"}
