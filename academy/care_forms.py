"""Forms of guardians, consents and health."""

from typing import Any

from django import forms
from django.utils import timezone

from .models import Consent, Guardian, HealthFlag, Student


class GuardianForm(forms.Form):
    """A parent or other guardian."""

    name = forms.CharField(max_length=120, label="Name")
    relation = forms.CharField(max_length=40, initial="parent", label="Relation to the child")
    email = forms.EmailField(required=False, label="E-mail")
    phone = forms.CharField(max_length=40, required=False, label="Phone")


class ConsentForm(forms.Form):
    """One permission, by whom and since when; it runs twelve months."""

    item = forms.ChoiceField(choices=Consent.Item.choices, label="Allowed")
    guardian = forms.ModelChoiceField(
        queryset=Guardian.objects.none(), to_field_name="code", required=False, label="Given by",
        empty_label="the student",
    )
    given_on = forms.DateField(label="Given on", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))

    def __init__(self, *args: Any, student: Student, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["guardian"].queryset = student.guardians.all()
        self.fields["given_on"].initial = timezone.localdate()

    def clean_given_on(self):
        day = self.cleaned_data["given_on"]
        if day > timezone.localdate():
            raise forms.ValidationError("This day has not come yet; expected today or earlier.")
        return day


class ItemForm(forms.Form):
    """One item of the consents."""

    item = forms.ChoiceField(choices=Consent.Item.choices)


class HealthForm(forms.Form):
    """What the student says hurts, in the coach's hand."""

    area = forms.ChoiceField(choices=HealthFlag.Area.choices, label="Where")
    severity = forms.IntegerField(min_value=0, max_value=10, label="How strong, 0 to 10, as the student says it")
    is_new = forms.BooleanField(required=False, label="New, or new while swinging")
    red_flag = forms.BooleanField(required=False, label="One of the emergency signs")
    text = forms.CharField(
        max_length=300, required=False, label="In the student’s words", widget=forms.Textarea(attrs={"rows": 2})
    )


class PainDayForm(forms.Form):
    """How strong the pain is today at its worst place."""

    severity = forms.IntegerField(min_value=0, max_value=10, label="Today at its worst place, 0 to 10")


class ConcernForm(forms.Form):
    """A worry, in the writer's words."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    text = forms.CharField(
        max_length=2000, label="What worries you", widget=forms.Textarea(attrs={"rows": 6, "autocomplete": "off"}))


class OutcomeForm(forms.Form):
    """What was done about a concern."""

    outcome = forms.CharField(max_length=500)
