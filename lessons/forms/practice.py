"""What comes from the private page: a practice, a question, a score, a word about pain."""

from datetime import timedelta

from django import forms
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import StudentMessage

AREAS = [("", "Where?"), *HealthFlag.Area.choices]
OLDEST_DAYS = 35
SCALE = range(11)


class PainFields(forms.Form):
    """The pain question as it is asked everywhere on the private page."""

    same_for_everybody = True

    pain = forms.TypedChoiceField(
        choices=[(number, str(number)) for number in SCALE], coerce=int, empty_value=None, required=False,
        label="Pain now, 0 to 10", help_text="0 is none, 10 is the worst you can think of.",
        widget=forms.RadioSelect, error_messages={"invalid_choice": "Pain was %(value)s; expected 0 to 10."},
    )
    is_new = forms.BooleanField(required=False, label="It is new, or it came while swinging")
    area = forms.ChoiceField(choices=AREAS, required=False, label="Where")
    red_flag = forms.BooleanField(required=False, label="One of these signs is true")

    def clean(self) -> dict:
        values = super().clean()
        hurts = values.get("pain") or values.get("is_new") or values.get("red_flag")
        if (values.get("is_new") or values.get("red_flag")) and values.get("pain") is None:
            self.add_error("pain", "Say how strong it is, from 0 to 10.")
        if hurts and not values.get("area"):
            values["area"] = HealthFlag.Area.OTHER
        return values


class PracticeForm(PainFields):
    """One practice. Made on the phone with its key, so that sending it twice stores it once."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    drill = forms.UUIDField(required=False, widget=forms.HiddenInput)
    practised_at = forms.DateTimeField(required=False, widget=forms.HiddenInput)
    minutes = forms.IntegerField(
        min_value=0, max_value=600, required=False, label="Minutes",
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    balls = forms.IntegerField(
        min_value=0, max_value=1000, required=False, label="Balls",
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    hits = forms.IntegerField(
        min_value=0, max_value=1000, required=False, label="How many passed",
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    fun = forms.TypedChoiceField(
        choices=[(1, "Not much"), (2, "Some"), (3, "A lot")], coerce=int, empty_value=None, required=False,
        label="Was it fun?", widget=forms.RadioSelect,
    )
    note = forms.CharField(max_length=300, required=False, label="A short note")

    field_order = ["key", "drill", "practised_at", "minutes", "balls", "hits", "red_flag", "pain", "area", "is_new",
                   "fun", "note"]

    def clean_practised_at(self):
        moment = self.cleaned_data["practised_at"]
        now = timezone.now()
        if moment is None:
            return now
        if moment > now + timedelta(minutes=10):
            raise forms.ValidationError("This practice lies in the future; check the clock of the phone.")
        if moment < now - timedelta(days=OLDEST_DAYS):
            raise forms.ValidationError(f"This practice is older than {OLDEST_DAYS} days; tell your coach instead.")
        return moment

    def clean(self) -> dict:
        values = super().clean()
        balls, hits = values.get("balls"), values.get("hits")
        if hits is not None and balls is not None and hits > balls:
            self.add_error("hits", f"{hits} passed of {balls} balls; expected {balls} at most.")
        return values


class MessageForm(forms.Form):
    """A question or a score."""

    same_for_everybody = True

    key = forms.UUIDField(widget=forms.HiddenInput)
    kind = forms.ChoiceField(
        choices=[(StudentMessage.Kind.QUESTION, "A question"), (StudentMessage.Kind.SCORE, "A score")],
        initial=StudentMessage.Kind.QUESTION, widget=forms.RadioSelect, label="What is it",
    )
    text = forms.CharField(
        max_length=1000, label="Your words", widget=forms.Textarea(attrs={"rows": 3}),
    )


class PainForm(PainFields):
    """A word about pain, outside of practice."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    text = forms.CharField(max_length=300, required=False, label="In your words")

    field_order = ["key", "red_flag", "pain", "area", "is_new", "text"]

    def __init__(self, *args, **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.fields["pain"].required = True


class PainDayForm(forms.Form):
    """How strong it is today; two calm days running open full swings again."""

    same_for_everybody = True

    pain = forms.TypedChoiceField(
        choices=[(number, str(number)) for number in SCALE], coerce=int, widget=forms.RadioSelect,
        label="Pain today at its worst place, 0 to 10", help_text="0 is none, 10 is the worst you can think of.",
        error_messages={"invalid_choice": "Pain was %(value)s; expected 0 to 10."},
    )


class DeletionForm(forms.Form):
    """A request to delete; it reaches the coach and erases nothing by itself."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    text = forms.CharField(
        max_length=500, required=False, label="What should go: everything, or which part",
        widget=forms.Textarea(attrs={"rows": 2}),
    )


class AnswerForm(forms.Form):
    """The coach's answer to a message."""

    answer = forms.CharField(max_length=1000, label="Answer", widget=forms.Textarea(attrs={"rows": 3}))
