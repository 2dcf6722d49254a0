"""What is agreed at the end of a lesson."""

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from academy.models import Guardian
from lessons.models import Lesson

REFLECTION = ("reflection_good", "reflection_other")


class NoteForm(forms.Form):
    """One note for the student; one, and two lines of reflection, that stay with the coach."""

    student_note = forms.CharField(required=False, max_length=4000)
    private_note = forms.CharField(required=False, max_length=4000)
    reflection_good = forms.CharField(required=False, max_length=200)
    reflection_other = forms.CharField(required=False, max_length=200)

    @property
    def values(self) -> dict[str, str]:
        """Return the notes that were sent; a note that is not in the request is not touched."""
        names = ("student_note", "private_note", *REFLECTION)
        return {name: self.cleaned_data[name] for name in names if name in self.data}

    @property
    def reflection(self) -> dict[str, str]:
        """Return the lines of reflection that were sent."""
        return {name: text for name, text in self.values.items() if name in REFLECTION}


class FinishForm(NoteForm):
    """Date and first measure of the next visit, the notes, and who gets a link."""

    key = forms.UUIDField()
    next_day = forms.DateField(required=False)
    other_day = forms.DateField(required=False, error_messages={"invalid": "Expected a date such as 2026-05-31."})
    next_measure = forms.CharField(required=False, max_length=200)
    link = forms.BooleanField(required=False)
    guardian = forms.ModelChoiceField(queryset=Guardian.objects.none(), required=False, to_field_name="code")

    def __init__(self, data: Any, *, lesson: Lesson) -> None:
        super().__init__(data)
        self.lesson = lesson
        self.fields["guardian"].queryset = lesson.student.guardians.all()

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        day = values.get("other_day") or values.get("next_day")
        held: date = timezone.localdate(self.lesson.starts_at)
        if day is not None and day <= held:
            raise ValidationError(f"The next visit was set to {day:%-d %B %Y}; expected a day after {held:%-d %B %Y}.")
        return {**values, "next_date": day}


class DoseForm(forms.Form):
    """How much of a drill."""

    dose = forms.CharField(max_length=120, required=False)
    minutes_week = forms.IntegerField(min_value=0, max_value=2000, required=False, label="Minutes a week")
