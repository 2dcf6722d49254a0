"""Forms of accounts and people. They only clean; writing is done by academy.people."""

import zoneinfo

from django import forms
from django.contrib.auth.password_validation import validate_password

from .models import Coach, Student
from .models.academy import Units, check_timezone


class FirstRunForm(forms.Form):
    """The first run asks who the academy is and who owns it."""

    academy_name = forms.CharField(max_length=120, label="Name of the academy")
    timezone = forms.CharField(
        max_length=64, label="Time zone", help_text="Such as Europe/Dublin or America/Chicago.",
        validators=[check_timezone], widget=forms.TextInput(attrs={"list": "timezones", "autocomplete": "off"}),
    )
    units = forms.ChoiceField(choices=Units.choices, label="Units")
    full_name = forms.CharField(max_length=120, label="Your name")
    username = forms.CharField(max_length=60, label="Name to sign in with")
    password = forms.CharField(
        label="Password", help_text="12 characters or more; a short sentence is good.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    timezones = sorted(zoneinfo.available_timezones())

    def clean_password(self) -> str:
        password = self.cleaned_data["password"]
        validate_password(password, Coach(username=self.data.get("username", "")))
        return password


class StudentForm(forms.ModelForm):
    """A student's record."""

    class Meta:
        model = Student
        fields = [
            "name", "hand", "born_on", "email", "phone", "handicap_index", "is_beginner", "height_cm",
            "shoulder_width_cm", "units", "practice_minutes_week", "status", "pause_reason", "paused_until",
            "notes",
        ]
        widgets = {
            "born_on": forms.DateInput(attrs={"type": "date"}),
            "paused_until": forms.DateInput(attrs={"type": "date"}),
            "notes": forms.Textarea(attrs={"rows": 3}),
        }
        labels = {
            "handicap_index": "Handicap index",
            "is_beginner": "Beginner",
            "height_cm": "Height (cm)",
            "shoulder_width_cm": "Shoulder width (cm)",
            "practice_minutes_week": "Minutes of practice a week, honestly",
            "born_on": "Born on",
        }
        help_texts = {
            "shoulder_width_cm": "Bone to bone. 39 cm is assumed, and said, until it is known.",
            "born_on": "Needed for juniors; may stay empty for adults.",
        }

    def clean(self) -> dict:
        values = super().clean()
        if values.get("status") == Student.Status.PAUSED and not values.get("pause_reason"):
            self.add_error("pause_reason", "Say why the student is paused; injured and away are no lapse.")
        return values
