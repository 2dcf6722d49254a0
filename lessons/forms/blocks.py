"""The conditions of a block."""

from typing import Any

from django import forms
from django.db.models import Q
from django.utils import timezone

from academy.models import Club, Intent, Student
from lessons.models import Block
from lessons.models.block import AIDS
from metrics.clubs import CATEGORIES, category_of


class BlockForm(forms.Form):
    """One club, one intent, one state of aids, one purpose."""

    club_name = forms.CharField(max_length=40, label="Club", widget=forms.TextInput(attrs={"autocomplete": "off"}))
    category = forms.ChoiceField(
        choices=[("", "as the name says"), *CATEGORIES.items()], required=False, label="Kind of club"
    )
    intent = forms.ChoiceField(choices=Intent.Shape.choices, label="Wanted flight", widget=forms.RadioSelect)
    aids = forms.MultipleChoiceField(
        choices=list(AIDS.items()), required=False, label="Aids", widget=forms.CheckboxSelectMultiple
    )
    purpose = forms.ChoiceField(choices=[("", "as the aids say"), *Block.Purpose.choices], required=False)
    reading = forms.ChoiceField(choices=Block.Reading.choices, label="Read by", widget=forms.RadioSelect)
    feedback_shown = forms.BooleanField(required=False, label="Student sees numbers or hears calls")
    is_tee = forms.BooleanField(required=False, label="From a tee")
    is_mixed = forms.BooleanField(required=False, label="Clubs or targets mixed")
    effort_pct = forms.IntegerField(min_value=1, max_value=110, label="Effort, %")
    wanted_balls = forms.IntegerField(min_value=1, max_value=200, label="Balls planned")

    def __init__(self, *args: Any, student: Student, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.bag = list(bag_of(student))
        self.fields["club_name"].widget.attrs["list"] = "bag"

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        name = values.get("club_name", "")
        club = next((c for c in self.bag if c.name.lower() == name.lower()), None)
        category = values.get("category") or (club.category if club else category_of(name))
        if name and category is None:
            self.add_error("club_name", f"“{name}” is not a club name known here; choose the kind of club below.")
        if values.get("purpose") == Block.Purpose.FIRST_TEN and values.get("aids"):
            self.add_error("aids", "The first ten are hit without aids; take them away or choose another purpose.")
        return {**values, "club": club if club and club.category == category else None, "category": category}

    @property
    def values(self) -> dict[str, Any]:
        """Return values of a block; the purpose follows from the aids where none was chosen."""
        got = dict(self.cleaned_data)
        if not got["purpose"]:
            got["purpose"] = Block.Purpose.WITH_AID if got["aids"] else Block.Purpose.NO_AID
        return got


def bag_of(student: Student):
    """Return the student's clubs of today."""
    today = timezone.localdate()
    return Club.objects.filter(student=student).exclude(to_date__lt=today).filter(
        Q(from_date__isnull=True) | Q(from_date__lte=today)
    )


def initial_of(block: Block) -> dict[str, Any]:
    """Return a block's conditions as the form shows them."""
    names = ("club_name", "category", "intent", "aids", "reading", "feedback_shown", "is_tee", "is_mixed",
             "effort_pct", "wanted_balls", "purpose")
    values = {name: getattr(block, name) for name in names}
    # Left to the name where the name says it, so that typing another club changes the kind with it.
    return {**values, "category": "" if category_of(block.club_name) else block.category}
