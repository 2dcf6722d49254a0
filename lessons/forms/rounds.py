"""Forms of a round and of the official index."""

from typing import Any

from django import forms
from django.utils import timezone

from lessons.models import Round
from metrics.handicap.scores import PCC, SLOPES

from .typed import TypedNumber


class RoundForm(forms.Form):
    """One round as it stands on the card."""

    played_on = forms.DateField(label="Played on", widget=forms.DateInput(attrs={"type": "date"}))
    course = forms.CharField(label="Course and tees", max_length=80, required=False)
    holes = forms.TypedChoiceField(label="Holes", choices=Round.Holes.choices, coerce=int, initial=18)
    adjusted_gross = forms.IntegerField(
        label="Adjusted gross score", min_value=18, max_value=200,
        help_text="Each hole at most par + 2 + strokes received; par + 5 before the first index.",
    )
    course_rating = TypedNumber(label="Course rating")
    slope = forms.IntegerField(label="Slope", min_value=SLOPES[0], max_value=SLOPES[1], required=False)
    pcc = forms.IntegerField(
        label="Playing conditions calculation", min_value=PCC[0], max_value=PCC[1], required=False,
        help_text="−1 to +3; 0 where it is not known.",
    )
    official_differential = TypedNumber(
        label="Official differential", help_text="Wins over ours. Nine holes need it: we do not compute them."
    )
    official_index = TypedNumber(label="Official index that day")
    fairways = forms.IntegerField(label="Fairways hit", min_value=0, max_value=18, required=False)
    greens = forms.IntegerField(label="Greens in regulation", min_value=0, max_value=18, required=False)
    putts = forms.IntegerField(label="Putts", min_value=0, max_value=90, required=False)
    penalties = forms.IntegerField(label="Penalty strokes", min_value=0, max_value=60, required=False)

    def clean_played_on(self) -> Any:
        day = self.cleaned_data["played_on"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day:%d %B %Y} has not come yet; expected today or earlier.")
        return day

    def clean_pcc(self) -> int:
        return self.cleaned_data["pcc"] or 0

    def clean_course_rating(self) -> float | None:
        return _between(self.cleaned_data["course_rating"], 50, 90, "a course rating")

    def clean_official_differential(self) -> float | None:
        return _between(self.cleaned_data["official_differential"], -20, 120, "a differential")

    def clean_official_index(self) -> float | None:
        return _between(self.cleaned_data["official_index"], -10, 54, "an index")

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if self.errors or values.get("official_differential") is not None:
            return values
        if values["holes"] == Round.Holes.NINE:
            self.add_error("official_differential", "Nine holes count only with the differential the official record "
                           "shows: the expected score it needs is not published.")
        for name, said in (("course_rating", "course rating"), ("slope", "slope")):
            if values["holes"] == Round.Holes.EIGHTEEN and values.get(name) is None:
                self.add_error(name, f"The {said} of the tees is needed, or the official differential.")
        return values


class OfficialIndexForm(forms.Form):
    """The index the official record shows today."""

    handicap_index = TypedNumber(label="Official index")

    def clean_handicap_index(self) -> float | None:
        return _between(self.cleaned_data["handicap_index"], -10, 54, "an index")


class TeesForm(forms.Form):
    """The tees that are played next."""

    course_rating = TypedNumber(label="Course rating", required=True, error_messages={
        "required": "Expected the course rating of the tees, such as 71.2."})
    slope = forms.IntegerField(label="Slope", min_value=SLOPES[0], max_value=SLOPES[1])
    par = forms.IntegerField(label="Par", min_value=60, max_value=80)

    def clean_course_rating(self) -> float | None:
        return _between(self.cleaned_data["course_rating"], 50, 90, "a course rating")


def _between(value: float | None, low: float, high: float, what: str) -> float | None:
    if value is not None and not low <= value <= high:
        raise forms.ValidationError(f"{value:g} was found; expected {what} from {low:g} to {high:g}.")
    return value
