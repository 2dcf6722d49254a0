"""Forms of the Monday list: what was done about rows, and the academy's own texts."""

from typing import Any

from django import forms

from lessons.models.office import TEXTS
from lessons.queries.monday.drafts import WORDS, unknown_words


class MarkForm(forms.Form):
    """Rows are done, or put off until a day with a reason."""

    until = forms.DateField(required=False, label="Put off until", widget=forms.DateInput(attrs={"type": "date"}))
    reason = forms.CharField(max_length=200, required=False, label="Why, or what was done")


class TextForm(forms.Form):
    """The academy's own text for one cause."""

    cause = forms.ChoiceField(choices=TEXTS, widget=forms.HiddenInput)
    subject = forms.CharField(max_length=120, label="Subject")
    body = forms.CharField(max_length=3000, label="Text", widget=forms.Textarea(attrs={"rows": 7}))

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        for name in ("subject", "body"):
            try:
                strange = unknown_words(values.get(name, ""))
            except ValueError:
                self.add_error(name, "A brace is opened and not closed, or the other way round.")
                continue
            if strange:
                known = ", ".join("{" + word + "}" for word in WORDS)
                self.add_error(name, f"“{{{strange[0]}}}” is not known here; expected one of {known}.")
        return values
