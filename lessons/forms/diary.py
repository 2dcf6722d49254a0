"""Forms of the diary: an hour, its move, its cancellation, a class, the waiting list, a coach's hours."""

from dataclasses import replace
from typing import Any

from django import forms
from django.utils import timezone

from academy.models import Coach, Student, Venue
from lessons.models import GroupClass, Lesson, WorkingHours
from lessons.models.diary import CancelReason
from lessons.queries.clashes import Slot
from lessons.repeats import weekly

MOMENT = {"type": "datetime-local", "step": "300"}
DAY, CLOCK = {"type": "date"}, {"type": "time"}
KINDS = [choice for choice in Lesson.Kind.choices if choice[0] in ("lesson", "test", "course")]


class SlotForm(forms.Form):
    """An hour, a coach and a place. ``anyway`` is asked only where something speaks against it."""

    starts_at = forms.DateTimeField(
        label="When", widget=forms.DateTimeInput(attrs=MOMENT, format="%Y-%m-%dT%H:%M")
    )
    minutes = forms.IntegerField(min_value=10, max_value=360, initial=60, label="Minutes")
    coach = forms.ModelChoiceField(Coach.objects.none(), to_field_name="code", label="Coach", empty_label=None)
    venue = forms.ModelChoiceField(
        Venue.objects.none(), to_field_name="code", required=False, label="Place", empty_label="as last time"
    )
    bay = forms.CharField(max_length=20, required=False, label="Bay")
    anyway = forms.BooleanField(required=False, widget=forms.HiddenInput, label="All the same")

    def __init__(self, *args: Any, coaches: list[Coach], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["coach"].queryset = Coach.objects.filter(pk__in=[coach.pk for coach in coaches])
        self.fields["venue"].queryset = Venue.objects.all()

    def slot(self, *, student: Student | None) -> Slot:
        """Return the hour that is wanted, for the query that looks for clashes."""
        names = ("coach", "starts_at", "minutes", "venue", "bay")
        return Slot(student=student, **{name: self.cleaned_data[name] for name in names})

    def values(self) -> dict[str, Any]:
        """Return what the services take."""
        return {name: value for name, value in self.cleaned_data.items() if name != "anyway"}

    def ask_anyway(self) -> None:
        """Show the box to go on all the same."""
        self.fields["anyway"].widget = forms.CheckboxInput()


class BookingForm(SlotForm):
    """A student's hour, once or every week."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    student = forms.ModelChoiceField(Student.objects.none(), to_field_name="code", empty_label="choose a student")
    kind = forms.ChoiceField(choices=KINDS, label="What")
    times = forms.IntegerField(
        min_value=1, max_value=30, initial=1, label="How many times", help_text="The same hour again and again."
    )
    every = forms.ChoiceField(
        choices=[(1, "every week"), (2, "every second week")], label="How often", required=False, initial=1
    )
    field_order = ["key", "student", "starts_at", "minutes", "coach", "kind", "venue", "bay", "times", "every"]

    def __init__(self, *args: Any, students: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["student"].queryset = students

    def clean_every(self) -> int:
        return int(self.cleaned_data["every"] or 1)

    def slots(self) -> list[Slot]:
        """Return every hour that would be booked."""
        first = self.slot(student=self.cleaned_data["student"])
        repeats = weekly(first=first.starts_at, times=self.cleaned_data["times"], every=self.cleaned_data["every"],
                         zone=timezone.get_current_timezone())
        return [replace(first, starts_at=moment) for moment in repeats.moments]


class MoveForm(SlotForm):
    """A new hour for a lesson, for this one or for the later ones of its series too."""

    whole_series = forms.BooleanField(required=False, label="This one and all later ones of the series")

    def __init__(self, *args: Any, series: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["venue"].empty_label = "none noted"
        if not series:
            del self.fields["whole_series"]


class CancelForm(forms.Form):
    """Why a lesson or a class does not take place."""

    reason = forms.ChoiceField(choices=[("", "choose a reason"), *CancelReason.choices[1:]], label="Why")
    note = forms.CharField(max_length=200, required=False, label="Note", help_text="No health details here.")
    whole_series = forms.BooleanField(required=False, label="This one and all later ones of the series")

    def __init__(self, *args: Any, series: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not series:
            del self.fields["whole_series"]


class ClassForm(SlotForm):
    """A class."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    name = forms.CharField(max_length=80, label="Name of the class")
    capacity = forms.IntegerField(min_value=1, max_value=60, initial=6, label="Places")
    helpers = forms.IntegerField(min_value=0, max_value=20, initial=0, label="Adults besides the coach")
    field_order = ["key", "name", "starts_at", "minutes", "coach", "capacity", "helpers", "venue", "bay"]


class JoinForm(forms.Form):
    """Somebody who joins a class, or waits for a place in it."""

    student = forms.ModelChoiceField(Student.objects.none(), to_field_name="code", empty_label="choose a student")

    def __init__(self, *args: Any, students: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["student"].queryset = students


class WaitingForm(JoinForm):
    """Somebody who would come if an hour became free."""

    coach = forms.ModelChoiceField(Coach.objects.none(), to_field_name="code", label="With", empty_label=None)
    wish = forms.CharField(max_length=120, required=False, label="When", help_text="Such as: Tuesdays after four.")
    until = forms.DateField(required=False, label="Until", widget=forms.DateInput(attrs=DAY))

    def __init__(self, *args: Any, coaches: list[Coach], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["coach"].queryset = Coach.objects.filter(pk__in=[coach.pk for coach in coaches])


class HoursForm(forms.ModelForm):
    """When a coach can be booked on one weekday."""

    class Meta:
        model = WorkingHours
        fields = ["weekday", "opens", "closes"]
        labels = {"weekday": "Day", "opens": "From", "closes": "To"}
        widgets = {"opens": forms.TimeInput(attrs=CLOCK), "closes": forms.TimeInput(attrs=CLOCK)}

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        opens, closes = values.get("opens"), values.get("closes")
        if opens and closes and closes <= opens:
            self.add_error("closes", f"{closes:%H:%M} is not after {opens:%H:%M}; expected a later time.")
        return values


def local_text(lesson: Lesson | GroupClass) -> str:
    """Return a moment as the field for moments shows it."""
    return f"{timezone.localtime(lesson.starts_at):%Y-%m-%dT%H:%M}"
