"""Forms of a short-game test: its beginning, and one ball in the words of its kind."""

from typing import Any

from django import forms

from lessons.models.shot import Contact
from metrics.shortgame.designs import DESIGNS, Design
from metrics.units import System, from_si, to_si

from .typed import TypedNumber

UNITS: dict[System, dict[str, str]] = {
    "yards": {"pace": "ft", "left": "ft", "carry": "yd"}, "metres": {"pace": "m", "left": "m", "carry": "m"},
}
"""What a distance is typed in, by kind of test."""
LIMITS_M = {"pace": (-15.0, 15.0), "left": (0.0, 60.0), "carry": (0.0, 160.0)}
CONTACTS = [("", "Not watched"), *((value, label) for value, label in Contact.choices
                                   if value in {"clean", "fat", "thin", "top"})]


class BeginForm(forms.Form):
    """Which test, and what a later reader must know of the place."""

    design = forms.ChoiceField(choices=[(design.slug, design.title) for design in DESIGNS.values()])
    conditions = forms.CharField(
        max_length=120, required=False, label="Green, slope, lie, wind",
        help_text="So that the next run is like this one.",
    )


class BallForm(forms.Form):
    """One ball. Which field counts depends on the kind of test; the others are left out."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    number = forms.IntegerField(min_value=1, widget=forms.HiddenInput)
    done = forms.TypedChoiceField(
        choices=[("yes", "yes"), ("no", "no")], coerce=lambda word: word == "yes", empty_value=None, required=False)
    side = forms.TypedChoiceField(
        choices=[("-1", "hook side"), ("0", "through"), ("1", "slice side")], coerce=int, empty_value=None,
        required=False)
    value = TypedNumber()
    contact = forms.ChoiceField(choices=CONTACTS, required=False, initial="clean")

    def __init__(self, *args: Any, design: Design, system: System, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.kind, self.unit = design.kind, UNITS[system].get(design.kind, "")

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        needed = {"made": "done", "saved": "done", "out": "done", "gate": "side"}.get(self.kind, "value")
        if not self.errors and values.get(needed) is None:
            self.add_error(needed, "Say what came of this ball; nothing was stored.")
        if not self.errors and needed == "value":
            self._check_value(values["value"])
        return values

    def _check_value(self, value: float) -> None:
        low, high = (from_si(value=end, unit=self.unit, dimension="distance") for end in LIMITS_M[self.kind])
        if not low <= value <= high:
            self.add_error("value", f"{value:g} {self.unit} was found; expected {low:.0f} to {high:.0f} {self.unit}.")

    def result(self) -> dict[str, Any]:
        """Return the columns of the ball, in stored units."""
        values = self.cleaned_data
        if self.kind in {"made", "saved", "out"}:
            return {"done": values["done"]}
        if self.kind == "gate":
            return {"side": values["side"]}
        metres = to_si(value=values["value"], unit=self.unit, dimension="distance")
        return {"value_m": metres, "contact": values["contact"] if self.kind == "left" else ""}
