"""Noting what went wrong or nearly did, and closing it."""

from typing import Any

from django import forms
from django.utils import timezone

from academy.models import Coach, Venue
from lessons.models import CoachCheck, Incident

DAY = {"type": "date"}


class IncidentForm(forms.ModelForm):
    """An incident. What was hurt has a field of its own, which the office does not read."""

    class Meta:
        model = Incident
        fields = ["happened_on", "kind", "venue", "student", "what", "health_text", "keeper"]
        labels = {"happened_on": "Day", "kind": "What kind", "student": "Student, where one was in it",
                  "what": "What happened", "health_text": "What was hurt, and what was done about it"}
        widgets = {"happened_on": forms.DateInput(attrs=DAY), "what": forms.Textarea(attrs={"rows": 3}),
                   "health_text": forms.Textarea(attrs={"rows": 3})}

    def __init__(self, *args: Any, students: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["student"] = forms.ModelChoiceField(
            students, to_field_name="code", required=False, label=self.fields["student"].label, empty_label="nobody")
        self.fields["venue"] = forms.ModelChoiceField(
            Venue.objects.all(), to_field_name="code", required=False, label="Place", empty_label="not noted")
        self.fields["keeper"] = forms.ModelChoiceField(
            Coach.objects.filter(is_active=True), to_field_name="code", label="Who looks after it", empty_label=None)

    def clean_happened_on(self):
        day = self.cleaned_data["happened_on"]
        if day > timezone.localdate():
            raise forms.ValidationError(f"{day:%-d %B %Y} is still to come; expected today or an earlier day.")
        return day


class CloseForm(forms.Form):
    """How it ended."""

    outcome = forms.CharField(max_length=600, label="How it ended, and what was changed")


class CheckForm(forms.ModelForm):
    """A paper of somebody who teaches juniors."""

    class Meta:
        model = CoachCheck
        fields = ["coach", "kind", "done_on", "expires_on"]
        labels = {"done_on": "Done on", "expires_on": "Good until"}
        widgets = {"done_on": forms.DateInput(attrs=DAY), "expires_on": forms.DateInput(attrs=DAY)}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["coach"] = forms.ModelChoiceField(
            Coach.objects.filter(is_active=True), to_field_name="code", label="Who", empty_label=None)

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        done, ends = values.get("done_on"), values.get("expires_on")
        if done and ends and ends < done:
            self.add_error("expires_on", f"{ends:%-d %B %Y} lies before {done:%-d %B %Y}; expected a later day.")
        return values


