"""A ball as it is typed or called. The door: the coach's units and signs become stored ones here, once."""

from datetime import timedelta
from typing import Any

from django import forms
from django.utils import timezone

from lessons.models import Block
from lessons.models.batch import FileSign
from lessons.models.shot import Contact
from metrics import units
from metrics.fields import FIELDS, MIRRORED
from metrics.rules.words import unit_suffix

from .typed import TypedNumber

CLOCK_SLACK = timedelta(minutes=10)


class BallForm(forms.Form):
    """One ball: any of its numbers, any of its calls."""

    key = forms.UUIDField()
    system = forms.ChoiceField(choices=[("yards", "yards"), ("metres", "metres")])
    hit_at = forms.DateTimeField(required=False)
    shape = forms.RegexField(r"^-?[01],-?[012]$", required=False, label="Flight")
    height = forms.TypedChoiceField(
        choices=[(str(n), n) for n in (-1, 0, 1)], coerce=int, required=False, empty_value=None
    )
    contact = forms.ChoiceField(choices=[("", ""), *Contact.choices], required=False)

    def __init__(self, *args: Any, block: Block, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.block = block
        for key in self.data:  # a box for each number that came, not for each that could: this runs for every ball
            if key in FIELDS:
                self.fields[key] = TypedNumber(label=FIELDS[key].label)

    def clean_hit_at(self):
        """A browser with a wrong clock must not date a ball into the future."""
        at = self.cleaned_data["hit_at"]
        return at if at and at <= timezone.now() + CLOCK_SLACK else None

    def clean(self) -> dict[str, Any]:
        """Refuse what no ball can do, in the unit it was typed in; the same limits hold again where it is stored."""
        values = super().clean()
        for key, spec in FIELDS.items():
            value = values.get(key)
            if value is None or "system" not in values:
                continue
            lower, unit = units.display(field_key=key, value=spec.lower, system=values["system"])
            upper, _ = units.display(field_key=key, value=spec.upper, system=values["system"])
            if not lower <= value <= upper:
                unit = unit_suffix(unit)
                self.add_error(key, f"{value:g}{unit} was found; expected {lower:.4g} to {upper:.4g}{unit}.")
        return values

    @property
    def numbers(self) -> dict[str, float]:
        """Return the numbers in stored units, player-relative."""
        system = self.cleaned_data["system"]
        return {
            key: units.from_display(field_key=key, value=value * self._sign(key), system=system)
            for key, value in ((key, self.cleaned_data.get(key)) for key in FIELDS) if value is not None
        }

    @property
    def calls(self) -> dict[str, Any]:
        """Return what was called; the keypad's values are player-relative already."""
        shape, values = self.cleaned_data["shape"], self.cleaned_data
        start, curve = (int(part) for part in shape.split(",")) if shape else (None, None)
        return {"called_start": start, "called_curve": curve, "called_height": values["height"],
                "contact": values["contact"]}

    @property
    def first_error(self) -> str:
        """Return the first complaint with the name of its field."""
        for name, errors in self.errors.items():
            label = self.fields[name].label or name.replace("_", " ")
            return f"{label}: {errors[0]}"
        return ""

    def _sign(self, key: str) -> int:
        return -1 if key in MIRRORED and states_right_as_plus(self.block) else 1


def states_right_as_plus(block: Block) -> bool:
    """Say whether what the coach reads off must be mirrored: a left-hander on a device whose + is right."""
    device = block.lesson.device
    return bool(block.lesson.student.left_handed and device and device.file_sign == FileSign.RIGHT)


class ExcludeForm(forms.Form):
    """Why a ball does not count."""

    reason = forms.CharField(max_length=120, label="Why it does not count")


class FieldsForm(forms.Form):
    """Which numbers are typed for each ball, in order."""

    fields_shown = forms.MultipleChoiceField(
        choices=[(key, spec.label) for key, spec in FIELDS.items()], label="Numbers to type",
        widget=forms.CheckboxSelectMultiple,
    )
