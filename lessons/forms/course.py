"""One shot on the course: the decision first, then what came of it."""

from typing import Any

from django import forms

from lessons.models import CourseShot

YES_NO = [("yes", "Yes"), ("no", "No")]


class CourseShotForm(forms.Form):
    """Lie, club taken and advised, aim, commitment, result, cause of a penalty, and whether the choice cost."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    hole = forms.IntegerField(min_value=1, max_value=18, label="Hole")
    lie = forms.ChoiceField(choices=CourseShot.Lie.choices, widget=forms.RadioSelect, label="Lie")
    club = forms.CharField(max_length=40, label="Club taken", widget=forms.TextInput(attrs={"autocomplete": "off"}))
    club_advised = forms.CharField(
        max_length=40, required=False, label="Club you would have advised",
        widget=forms.TextInput(attrs={"autocomplete": "off"}))
    aim = forms.CharField(max_length=80, required=False, label="Aimed at",
                          widget=forms.TextInput(attrs={"autocomplete": "off"}))
    committed = forms.ChoiceField(choices=YES_NO, widget=forms.RadioSelect, initial="yes", label="Committed to it")
    result = forms.ChoiceField(choices=CourseShot.Result.choices, widget=forms.RadioSelect, label="Result")
    cause = forms.ChoiceField(choices=CourseShot.Cause.choices, required=False, label="Cause of the penalty")
    half_a_shot = forms.BooleanField(required=False, label="Another decision would have saved half a shot or more")

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        penalty = values.get("result") == CourseShot.Result.PENALTY
        if penalty and not values.get("cause"):
            self.add_error("cause", "Say what the penalty came from.")
        if values.get("result") and not penalty and values.get("cause"):
            self.add_error("cause", "A cause belongs to a penalty; this shot had none.")
        return values

    @property
    def values(self) -> dict[str, Any]:
        """Return the columns of the shot."""
        return {**self.cleaned_data, "committed": self.cleaned_data["committed"] == "yes"}
