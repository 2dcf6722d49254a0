"""Refusing passwords that are known or quickly guessed, without asking anybody outside.

Two lists come with the libraries: Django's 20,000 common passwords (Royce Williams' list, shipped with Django), and
those of zxcvbn (30,000 passwords from published breaches, with names and English words), which also sees through
figures put behind a word, letters swapped for signs, keyboard rows and repeats. No list here holds every breached
password; the estimate of guesses covers what the lists lack.
"""

from typing import Any

from django.core.exceptions import ValidationError
from zxcvbn import zxcvbn

from .models import Academy

FEWEST_GUESSES_LOG10 = 9
"""A thousand million guesses: years at the speed that the throttle allows. Common practice, no source."""
LOOKED_AT = 72
"""zxcvbn takes long for long texts; what follows can only make a password harder."""


class GuessableValidator:
    """Refuse what a list of breached passwords, or a pattern, gives away."""

    def validate(self, password: str, user: Any = None) -> None:
        own = [getattr(user, name, "") for name in ("username", "first_name", "last_name", "email")]
        own += Academy.objects.values_list("name", flat=True)
        own += [part for words in own for part in words.split()]
        found = zxcvbn(password[:LOOKED_AT], user_inputs=[words.lower() for words in own if words])
        if found["guesses_log10"] < FEWEST_GUESSES_LOG10:
            raise ValidationError(
                "This password is on a list of known ones, or close to it. A short sentence of uncommon words is "
                "better.", code="password_guessable",
            )

    def get_help_text(self) -> str:
        return "Known passwords, and a word with figures behind it, are refused."
