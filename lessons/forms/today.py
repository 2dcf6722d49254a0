"""Booking a lesson from Today."""

from datetime import datetime
from typing import Any

from django import forms
from django.utils import timezone

from academy.models import Coach, Student


class BookForm(forms.Form):
    """A student and a moment; an empty moment means now."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    student = forms.ModelChoiceField(Student.objects.none(), to_field_name="code", empty_label="choose a student")
    starts_at = forms.DateTimeField(
        required=False, label="When", help_text="Empty means now.",
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
    )
    minutes = forms.IntegerField(min_value=10, max_value=300, initial=60, label="Minutes")

    def __init__(self, *args: Any, coach: Coach, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["student"].queryset = Student.objects.filter(coach=coach).here()

    @property
    def moment(self) -> datetime:
        return self.cleaned_data["starts_at"] or timezone.now()
