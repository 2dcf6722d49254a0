"""Forms of wanted flights and clubs."""

from django import forms

from .models import Club, Intent

DAY = {"type": "date"}


class IntentForm(forms.ModelForm):
    """Which flight the student wants from one kind of club."""

    class Meta:
        model = Intent
        fields = ["category", "shape"]
        labels = {"category": "Kind of club", "shape": "Wanted flight"}


class ClubForm(forms.ModelForm):
    """A club of the student's bag."""

    class Meta:
        model = Club
        fields = ["name", "category", "loft_deg", "lie_deg", "length_cm", "shaft", "grip", "from_date"]
        widgets = {"from_date": forms.DateInput(attrs=DAY)}
        labels = {"category": "Kind of club", "loft_deg": "Loft (°)", "lie_deg": "Lie (°)", "length_cm": "Length (cm)",
                  "from_date": "In the bag since"}
