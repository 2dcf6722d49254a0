"""Forms of one's own account: the second step of signing in, and proving who one is before something weighty."""

from typing import Any

from django import forms
from django.contrib.auth import authenticate
from django.core.exceptions import ValidationError
from django.http import HttpRequest

from . import keeping
from .models import Coach


class CodeForm(forms.Form):
    """A code from the phone, or one from paper."""

    code = forms.CharField(
        max_length=20, label="Code", help_text="Six figures from your phone, or one of your codes on paper.",
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autofocus": True}),
    )


class PasswordProofForm(forms.Form):
    """Asks for the present password, under the same throttle as signing in."""

    password = forms.CharField(
        label="Your password", widget=forms.PasswordInput(attrs={"autocomplete": "current-password"})
    )

    def __init__(self, *args: Any, request: HttpRequest, coach: Coach, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.request, self.coach = request, coach

    def clean_password(self) -> str:
        password = self.cleaned_data["password"]
        found = authenticate(self.request, username=self.coach.username, password=password)
        if found is None or found.pk != self.coach.pk:
            raise ValidationError("This is not your password.")
        return password


class EraseForm(PasswordProofForm):
    """Erasing asks for the person's name, typed, and for the own password."""

    typed_name = forms.CharField(max_length=120, label="Type the name of the person to be erased")
    field_order = ["typed_name", "password"]

    def __init__(self, *args: Any, name: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.name = name

    def clean_typed_name(self) -> str:
        typed = self.cleaned_data["typed_name"]
        if " ".join(typed.split()).casefold() != " ".join(self.name.split()).casefold():
            raise ValidationError(f"That is not the name. Expected {self.name}.")
        return typed


class KeepingForm(forms.Form):
    """The days for each line; 0 keeps it for ever."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for line, days in keeping.table():
            self.fields[line.key] = forms.IntegerField(
                min_value=0, max_value=36500, initial=days, label=f"Days: {line.what}",
                widget=forms.TextInput(attrs={"inputmode": "numeric", "size": 6}),
            )
