"""The what-if form: another path, face, attack or club speed, in the reader's units."""

from typing import Any

from django import forms

from metrics import units
from metrics.fields import FIELDS

from .typed import TypedNumber

NAMES = {
    "path": "club_path_deg", "face": "face_angle_deg", "attack": "attack_angle_deg", "speed": "club_speed_mps",
}
"""Name in the address -> field. Path, face and attack read the same for both hands."""


class WhatIfForm(forms.Form):
    """An empty box leaves that number as it was."""

    path = TypedNumber(label="Club path, + in-to-out")
    face = TypedNumber(label="Face to target, + open")
    attack = TypedNumber(label="Attack angle, + upward")
    speed = TypedNumber(label="Club speed")

    def __init__(self, *args: Any, now: dict[str, float], system: str, **kwargs: Any) -> None:
        self.system = system
        first = {name: f"{self._shown(key, now[key]):.1f}" for name, key in NAMES.items()}
        super().__init__(*args, initial=first, auto_id="what-if-%s", **kwargs)

    def _shown(self, key: str, value: float) -> float:
        return float(units.display(field_key=key, value=value, system=self.system)[0])

    def clean(self) -> dict[str, Any]:
        for name, key in NAMES.items():
            value, spec = self.cleaned_data.get(name), FIELDS[key]
            low, high = (self._shown(key, edge) for edge in (spec.lower, spec.upper))
            if value is not None and not low <= value <= high:
                unit = units.display_unit(field_key=key, system=self.system)
                self.add_error(name, f"{value:g} {unit} was found; expected {low:.0f} to {high:.0f} {unit}.")
        return self.cleaned_data

    @property
    def wanted(self) -> dict[str, float]:
        """Return what was asked for, in stored units. A box left as it was filled in asks for nothing."""
        asked = {name: self.cleaned_data.get(name) for name in NAMES}
        return {
            NAMES[name]: float(units.from_display(field_key=NAMES[name], value=value, system=self.system))
            for name, value in asked.items() if value is not None and f"{value:.1f}" != self.initial[name]
        }
