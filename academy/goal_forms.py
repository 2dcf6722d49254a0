"""The form of a goal: in the student's words, and where it can be measured, by which number it will be judged."""

from typing import Any

from django import forms

from metrics.change.priors import is_judged
from metrics.fields import FIELDS
from metrics.shortgame.designs import DESIGNS
from metrics.units import System, display_unit, from_display

from .models import Club, Goal, Student

BALL, TEST = "ball:", "test:"
STROKES = (-10.0, 60.0)
"""Score differentials that a goal may name."""


def _measures() -> list[tuple[str, Any]]:
    """Return what a goal may be read from, in groups; numbers without a smallest change that matters are left out."""
    # A usual value is needed where the smallest change is a share of it; which one does not matter here.
    numbers = [(BALL + key, field.label) for key, field in FIELDS.items() if is_judged(quantity=key, baseline=1.0)]
    return [
        ("", "Nothing: a goal of words"),
        ("The ball, in first tens without aids", numbers),
        ("Short game and putting tests", [(TEST + one.slug, one.title) for one in DESIGNS.values() if one.is_test]),
        ("Rounds", [(Goal.ROUNDS, "Mean of the last ten differentials")]),
    ]


class Limit(forms.FloatField):
    """A limit as a person types it: a comma or a point, a minus sign of any kind."""

    def __init__(self, **kwargs: Any) -> None:
        box = forms.TextInput(attrs={"inputmode": "text", "autocomplete": "off", "maxlength": "10"})
        super().__init__(required=False, widget=box, **kwargs)

    def to_python(self, value: Any) -> float | None:
        return super().to_python(str(value or "").replace("\u2212", "-").replace(",", ".").strip())


class GoalForm(forms.ModelForm):
    """A goal; with a number, a club, a window, a test and a date it can be judged."""

    measure = forms.ChoiceField(
        choices=_measures, required=False, label="What it is read from",
        help_text="With a number, the verdict of “Did it hold?” stands beside the goal.",
    )
    club = forms.ModelChoiceField(
        Club.objects.none(), to_field_name="code", required=False, label="One club of the bag",
        empty_label="any of its kind",
    )
    lower = Limit(label="At least")
    upper = Limit(
        label="At most",
        help_text="One end is enough. Left empty, the window of the flight counts. In your units; tests in %; rounds "
        "in strokes. + is in-to-out, open, upward or the slice side.",
    )

    class Meta:
        model = Goal
        fields = ["text", "kind", "by_date", "measure", "category", "club", "intent", "lower", "upper"]
        widgets = {"by_date": forms.DateInput(attrs={"type": "date"})}
        labels = {"text": "In the student’s words", "category": "Kind of club", "intent": "Window of which flight",
                  "by_date": "By when"}

    field_order = ["text", "kind", "by_date", "measure", "category", "club", "intent", "lower", "upper"]

    def __init__(self, *args: Any, student: Student, system: System, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.system = system
        self.fields["club"].queryset = student.clubs.filter(to_date__isnull=True)
        self.fields["intent"].choices = [("", "the wanted one"), *self.fields["intent"].choices[1:]]

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        measure = values.get("measure") or ""
        values["quantity"] = measure.removeprefix(BALL) if measure.startswith(BALL) else ""
        values["test"] = measure.removeprefix(TEST) if measure and not values["quantity"] else ""
        if values["quantity"]:
            values["test"] = Goal.FIRST_TEN
            self._clean_club(values)
        else:
            values.update(category="", club=None, intent="")
        self._clean_limits(values)
        return values

    def _clean_club(self, values: dict[str, Any]) -> None:
        if values.get("club"):
            values["category"] = values["club"].category
        elif not values.get("category") and "category" not in self.errors:
            self.add_error("category", "Say with which kind of club; numbers of two clubs do not mix.")

    def _clean_limits(self, values: dict[str, Any]) -> None:
        lower, upper = values.get("lower"), values.get("upper")
        if "lower" in self.errors or "upper" in self.errors:
            return
        if lower is None and upper is None:
            if values["test"] not in ("", Goal.FIRST_TEN):
                self.add_error("upper", "Say at least or at most how much is wanted; this test has no window.")
            return
        if not values["test"]:
            self.add_error("measure", "Say which number the limits are for.")
        elif lower is not None and upper is not None and lower > upper:
            self.add_error("upper", f"{upper:g} lies below {lower:g}; expected the larger number here.")
        else:
            self._store_limits(values)

    def _store_limits(self, values: dict[str, Any]) -> None:
        """Turn typed limits into stored units; what can be no value of the number is refused."""
        low, high, unit = self._possible(values)
        for name in ("lower", "upper"):
            typed = values.get(name)
            if typed is None:
                continue
            quantity = values["quantity"]
            stored = from_display(field_key=quantity, value=typed, system=self.system) if quantity else typed
            if not low <= stored <= high:
                self.add_error(name, f"{typed:g}{unit} cannot be; no ball or round has such a number.")
            values[name] = float(stored)

    def _possible(self, values: dict[str, Any]) -> tuple[float, float, str]:
        if values["quantity"]:
            field = FIELDS[values["quantity"]]
            unit = display_unit(field_key=field.key, system=self.system)
            return field.lower, field.upper, unit if unit == "°" else f" {unit}".rstrip()
        return (*STROKES, " strokes") if values["test"] == Goal.ROUNDS else (0.0, 100.0, " %")

    @property
    def values(self) -> dict[str, Any]:
        """Return the columns of the goal."""
        return {name: value for name, value in self.cleaned_data.items() if name != "measure"}
