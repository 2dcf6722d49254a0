"""The one change of the visit."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from metrics.checkpoints import CHECKPOINTS

from .setup import read_number


class ChangeForm(forms.Form):
    """What is changed, in which words, and what shows that it went too far."""

    change = forms.CharField(
        max_length=200, label="The one change", error_messages={"required": "Say what changes: one thing."}
    )
    cue = forms.CharField(max_length=120, required=False, label="The cue, in the student’s own words")
    stop_sign = forms.CharField(max_length=200, required=False, label="Gone too far when")
    checkpoint = forms.ChoiceField(
        choices=[("", "no checkpoint"), *((key, point.label) for key, point in CHECKPOINTS.items())], required=False
    )
    value_from = forms.CharField(max_length=40, required=False, label="From")
    value_to = forms.CharField(max_length=40, required=False, label="To")
    pattern = forms.CharField(max_length=40, required=False)
    drill = forms.CharField(max_length=60, required=False)

    def __init__(self, data: Any, *, system: str, shoulder_width_cm: float) -> None:
        super().__init__(data)
        self.system, self.shoulders = system, shoulder_width_cm

    def clean_value_from(self) -> float | None:
        return self._value("value_from")

    def clean_value_to(self) -> float | None:
        return self._value("value_to")

    def _value(self, name: str) -> float | None:
        text, checkpoint = self.cleaned_data[name].strip(), self.cleaned_data.get("checkpoint")
        if not text:
            return None
        if not checkpoint:
            raise ValidationError(f"“{text}” needs a checkpoint; choose one, or leave the numbers empty.")
        return read_number(checkpoint=checkpoint, text=text, system=self.system, shoulder_width_cm=self.shoulders)

    @property
    def values(self) -> dict[str, Any]:
        """Return values of a prescription."""
        names = ("change", "cue", "stop_sign", "checkpoint", "value_from", "value_to")
        return {name: self.cleaned_data[name] for name in names}
