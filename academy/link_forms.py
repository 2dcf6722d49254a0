"""Forms of private links: opening one, issuing one."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from . import share
from .models import Guardian, ShareLink, Student


class SecondFactorForm(forms.Form):
    """The button that opens a private page, with one question more where the coach asked for it."""

    answer = forms.CharField(
        required=False, max_length=60, label="Your year of birth, or the code from your coach",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, link: ShareLink, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.link = link

    def clean(self) -> dict:
        values = super().clean()
        if self.link.second_factor_digest:
            right = share.try_second_factor(link=self.link, answer=values.get("answer", ""), now=timezone.now())
            if not right:
                raise ValidationError("That is not the answer we have. Try again, or ask your coach.")
        return values


class LinkForm(forms.Form):
    """Who gets a link, for how long, and what is asked of a person who was passed it on."""

    guardian = forms.ModelChoiceField(
        queryset=Guardian.objects.none(), required=False, to_field_name="code", label="For which guardian",
        empty_label=None,
    )
    days = forms.IntegerField(
        required=False, min_value=1, max_value=share.LONGEST_DAYS, label="Works for how many days",
    )
    second_factor = forms.CharField(
        required=False, max_length=60, label="Ask for a code as well",
        help_text="Optional: a year of birth or a word you tell them. It stops a link that was passed on.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, student: Student, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["guardian"].queryset = student.guardians.all()
        if student.born_on is not None and not student.is_junior(adult_age=share.adult_age()):
            del self.fields["guardian"]
