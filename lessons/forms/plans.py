"""Forms of plans: what a proposal is made from, an edited hour, an event."""

from typing import Any

from django import forms
from django.utils import timezone

from metrics.plans.kit import KIT, PLACES
from metrics.plans.lesson import LONGEST, SHORTEST
from metrics.plans.series import FEWEST, MOST

MOODS = [("", "Nothing said"), ("bored", "Bored by it"), ("frightened", "Afraid of it")]
LENGTHS = [(30, "30 minutes"), (45, "45 minutes"), (60, "60 minutes")]
MONTHS = list(enumerate(("January", "February", "March", "April", "May", "June", "July", "August", "September",
                         "October", "November", "December"), 1))


class MadeFromForm(forms.Form):
    """What the student has and said; the record knows the rest."""

    minutes_week = forms.IntegerField(
        label="Minutes a week they will really do", min_value=0, max_value=1200, required=False)
    places = forms.MultipleChoiceField(
        label="Places", choices=list(PLACES.items()), required=False, widget=forms.CheckboxSelectMultiple)
    kit = forms.MultipleChoiceField(
        label="Kit at hand", choices=list(KIT.items()), required=False, widget=forms.CheckboxSelectMultiple)
    mood = forms.ChoiceField(label="What the student told", choices=MOODS, required=False)
    starts_on = forms.DateField(label="Begins on", widget=forms.DateInput(attrs={"type": "date"}))

    def player_values(self) -> dict[str, Any]:
        """Return what goes into the planner's player."""
        values = self.cleaned_data
        return {"minutes_week": values["minutes_week"], "places": tuple(values["places"]), "mood": values["mood"],
                "kit": tuple(values["kit"])}


class SeriesForm(MadeFromForm):
    """A series of visits."""

    visits = forms.IntegerField(label="Visits", min_value=FEWEST, max_value=MOST)


class PracticeForm(MadeFromForm):
    """Practice between visits."""

    def clean_minutes_week(self) -> int:
        minutes = self.cleaned_data["minutes_week"]
        if minutes is None:
            raise forms.ValidationError("Ask for the minutes they will really do; a plan needs them.")
        return minutes


class SeasonForm(MadeFromForm):
    """A year of weeks."""

    first_month = forms.TypedChoiceField(label="Cards are played from", choices=MONTHS, coerce=int)
    last_month = forms.TypedChoiceField(label="until", choices=MONTHS, coerce=int)


FORMS: dict[str, type[MadeFromForm]] = {"series": SeriesForm, "practice": PracticeForm, "season": SeasonForm}


class EventForm(forms.Form):
    """A day to be ready for."""

    name = forms.CharField(label="Event", max_length=120)
    on_date = forms.DateField(label="On", widget=forms.DateInput(attrs={"type": "date"}))

    def clean_on_date(self) -> Any:
        day = self.cleaned_data["on_date"]
        if day < timezone.localdate():
            raise forms.ValidationError(f"{day:%d %B %Y} is past; expected today or later.")
        return day


class HourForm(forms.Form):
    """How long the lesson is, and why the hour was changed."""

    minutes = forms.IntegerField(label="Minutes", min_value=SHORTEST, max_value=LONGEST)
    goal = forms.CharField(label="Goal, one line", max_length=200, required=False)
    reason = forms.CharField(label="Why changed", max_length=300, required=False)


def read_items(data: Any, *, known: dict[str, dict[str, Any]]) -> tuple[list[dict[str, Any]], list[str]]:
    """Return the edited parts in their order, and what is wrong with them as sentences.

    ``order`` names the parts one by one; ``move`` ("key:up", "key:down") exchanges two. A part with 0 minutes is out.
    """
    order = [key for key in data.getlist("order") if key in known] or list(known)
    order = _moved(order, data.get("move", ""))
    items, problems = [], []
    for key in order:
        typed = data.get(f"minutes-{key}", "").strip()
        if not typed.isdecimal() or len(typed) > 3 or int(typed) > LONGEST:
            problems.append(f"{known[key]['title']}: “{typed[:40]}” minutes was found; expected 0 to {LONGEST}.")
            continue
        text = " ".join(data.get(f"text-{key}", "").split())[:300]
        items.append({**known[key], "minutes": int(typed), "text": text or known[key]["text"]})
    return [item for item in items if item["minutes"]], problems


def _moved(order: list[str], move: str) -> list[str]:
    key, _, way = move.partition(":")
    if key not in order or way not in {"up", "down"}:
        return order
    here = order.index(key)
    there = here + (-1 if way == "up" else 1)
    if 0 <= there < len(order):
        order[here], order[there] = order[there], order[here]
    return order
