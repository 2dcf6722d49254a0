"""What the coach says to a finding."""

from django import forms

from lessons.models import Finding


class DecideForm(forms.Form):
    """Confirm or overrule one pattern."""

    pattern = forms.SlugField(max_length=40)
    decision = forms.ChoiceField(
        choices=[(Finding.Decision.CONFIRMED, "Confirm"), (Finding.Decision.OVERRULED, "Overrule")]
    )
    reason = forms.CharField(max_length=300, required=False)
