"""The boxes of repeated setups: ``look-3-feet_deg`` is the foot line of the third one."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from lessons.models import SetupObservation
from lessons.models.setup_series import MOST_SETUPS
from metrics.checkpoints import CHECKPOINTS

from .setup import Entry, read_number

_BOX = re.compile(r"look-(\d{1,2})-(\w+)")


class TenSetupsForm(forms.Form):
    """Only what was changed is read. One wrong box does not keep the others out."""

    method = forms.ChoiceField(choices=SetupObservation.Method.choices, required=False)

    def __init__(self, data: Any, *, system: str, shoulder_width_cm: float) -> None:
        super().__init__(data)
        self.system, self.shoulders = system, shoulder_width_cm
        self.entries: dict[tuple[int, str], Entry] = {}
        self.problems: list[str] = []

    def clean(self) -> dict[str, Any]:
        for name in self.data:
            found = _BOX.fullmatch(name)
            if found and found.group(2) in CHECKPOINTS and 1 <= int(found.group(1)) <= MOST_SETUPS:
                self._read(name, int(found.group(1)), found.group(2))
        return super().clean()

    def _read(self, name: str, number: int, checkpoint: str) -> None:
        text = self.data[name].strip()
        if text == self.data.get(f"was-{name}", "").strip():
            return
        try:
            if len(text) > 40:
                raise ValidationError("the text is too long; expected one number.")
            value = read_number(checkpoint=checkpoint, text=text, system=self.system,
                                shoulder_width_cm=self.shoulders) if text else None
        except ValidationError as error:
            self.problems.append(f"Setup {number}, {CHECKPOINTS[checkpoint].label}: {' '.join(error.messages)}")
        else:
            self.entries[number, checkpoint] = Entry(value=value, entered=text)
