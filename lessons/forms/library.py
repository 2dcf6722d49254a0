"""Own values in place of shipped ones."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from academy.models import Coach, Student
from lessons.queries.library import EVERY, LIES, OTHERS
from metrics.change.settings import SETTINGS
from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.windows import INTENTS

from .setup import read_number
from .typed import TypedNumber


class OverrideForm(forms.Form):
    """What both kinds of own value have: a reason, and for whom they count."""

    reason = forms.CharField(
        max_length=300, error_messages={"required": "Say why: a value without a reason cannot be argued with."}
    )
    student = forms.ModelChoiceField(
        queryset=Student.objects.none(), required=False, to_field_name="code", empty_label="the whole academy",
        error_messages={"invalid_choice": "That student is not one of yours."},
    )

    def __init__(self, data: Any, *, coach: Coach, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.fields["student"].queryset = Student.objects.filter(coach=coach)


class WindowForm(OverrideForm):
    """An own setup window, typed as setup numbers are."""

    club = forms.ChoiceField(choices=list(CATEGORIES.items()))
    checkpoint = forms.ChoiceField(choices=[(key, point.label) for key, point in CHECKPOINTS.items()])
    flight = forms.ChoiceField(choices=[(EVERY, ""), (OTHERS, ""), *((intent, "") for intent in INTENTS)])
    lie = forms.ChoiceField(choices=[*LIES.items()], required=False)
    low = forms.CharField(max_length=40)
    high = forms.CharField(max_length=40)

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        for name in ("low", "high"):
            if name in values and "checkpoint" in values:
                # Typed beside windows in their own unit, so a bare number is in that unit: never inches.
                try:
                    values[name] = read_number(checkpoint=values["checkpoint"], text=values[name], system="metres",
                                               shoulder_width_cm=39.0)
                except ValidationError as error:
                    self.add_error(name, error)
        if isinstance(values.get("low"), float) and isinstance(values.get("high"), float) and (
                values["low"] > values["high"]):
            self.add_error("high", f"{values['high']:g} lies below {values['low']:g}; expected the lower edge first.")
        return values

    @property
    def values(self) -> dict[str, Any]:
        """Return what the service takes."""
        got = self.cleaned_data
        intent = {EVERY: None, OTHERS: ""}.get(got["flight"], got["flight"])
        return {**{name: got[name] for name in ("club", "checkpoint", "low", "high", "reason", "student")},
                "intent": intent, "lie": got["lie"] if got["lie"] not in ("", EVERY) else None}


class ThresholdForm(OverrideForm):
    """An own threshold of a pattern."""

    target = forms.CharField(max_length=120)
    watch = TypedNumber(required=True)
    strong = TypedNumber()

    @property
    def values(self) -> dict[str, Any]:
        """Return what the service takes."""
        return {name: self.cleaned_data[name] for name in ("target", "watch", "strong", "reason", "student")}


class SettingForm(forms.Form):
    """The academy's own value of something the statistics assume."""

    setting = forms.ChoiceField(choices=[(key, one.label) for key, one in SETTINGS.items()])
    value = TypedNumber(required=True)
    reason = OverrideForm.base_fields["reason"]

    @property
    def values(self) -> dict[str, Any]:
        """Return what the service takes."""
        got = self.cleaned_data
        return {"key": got["setting"], "value": got["value"], "reason": got["reason"]}
