"""A drill or a pattern of the academy's own, written in a form and turned into an entry as the files have them."""

import copy
from typing import Any

from django import forms
from django.utils.text import slugify

from lessons.library import entry_data, shipped_data, stored_library
from lessons.queries.drills import PLACES
from lessons.queries.library import thresholds
from metrics.rules.records import Pattern

from .typed import TypedNumber

MARK = "common practice"
BESIDE, INSTEAD = "beside", "instead"


def own_slug(name: str) -> str:
    """Return the slug of an own entry: it can never be that of a shipped one."""
    return f"own-{slugify(name)}"[:40].rstrip("-")


class OwnDrillForm(forms.Form):
    """A drill of the academy's own. Everything its card shows is asked for."""

    name = forms.CharField(max_length=80, label="Name")
    why = forms.CharField(max_length=200, label="What it is good for, in one sentence")
    patterns = forms.MultipleChoiceField(label="For which patterns", widget=forms.SelectMultiple(attrs={"size": 8}))
    places = forms.MultipleChoiceField(label="Where", widget=forms.CheckboxSelectMultiple, choices=[
        (place, place) for place in PLACES if place])
    kit = forms.CharField(max_length=120, required=False, label="With what, separated by commas")
    minutes = forms.IntegerField(min_value=1, max_value=120, label="Minutes")
    balls = forms.IntegerField(min_value=0, max_value=200, label="Balls")
    dose = forms.CharField(max_length=120, label="Dose")
    setup = forms.CharField(max_length=300, label="Set up")
    steps = forms.CharField(max_length=1500, label="Steps, one a line", widget=forms.Textarea(attrs={"rows": 5}))
    harder = forms.CharField(max_length=200, label="Harder")
    easier = forms.CharField(max_length=200, label="Easier")
    cue = forms.CharField(max_length=120, label="Cue")
    measure = forms.CharField(max_length=200, label="What is measured")
    pass_mark = forms.CharField(max_length=200, label="Passed with")
    caution = forms.CharField(max_length=200, label="Care")
    areas = forms.MultipleChoiceField(
        required=False, label="Not with a sore", widget=forms.CheckboxSelectMultiple)

    def __init__(self, *args: Any, by: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        library = stored_library()
        self.by = by
        self.fields["patterns"].choices = [(slug, found.title) for slug, found in library.patterns.items()]
        self.fields["areas"].choices = [(area, caution.label) for area, caution in library.cautions.items()]

    def clean_steps(self) -> list[str]:
        return [line.strip() for line in self.cleaned_data["steps"].splitlines() if line.strip()]

    def clean_kit(self) -> list[str]:
        return [item.strip() for item in self.cleaned_data["kit"].split(",") if item.strip()]

    @property
    def entry(self) -> dict[str, Any]:
        """Return the drill as the library's files write one."""
        got = self.cleaned_data
        return {**got, "slug": own_slug(got["name"]), "code": "OWN", "mark": MARK, "source": f"own, {self.by}"}


class OwnPatternForm(forms.Form):
    """A pattern of the academy's own, made from one of the library: other words, other numbers, other drills."""

    place = forms.ChoiceField(label="Where it stands", widget=forms.RadioSelect, initial=BESIDE, choices=[
        (BESIDE, "beside the one it is made from: both are looked for"),
        (INSTEAD, "in its place: yours alone is looked for, until you take it out")])
    title = forms.CharField(max_length=160, label="What it is called")
    seen = forms.CharField(max_length=600, label="What is seen", widget=forms.Textarea(attrs={"rows": 2}))
    mechanism = forms.CharField(max_length=600, label="Why it happens", widget=forms.Textarea(attrs={"rows": 2}))
    caution = forms.CharField(max_length=300, label="Care")
    minimum_n = forms.IntegerField(min_value=1, max_value=100, label="Judged from how many balls")
    drills = forms.MultipleChoiceField(label="Drills", widget=forms.SelectMultiple(attrs={"size": 8}))

    def __init__(self, *args: Any, base: Pattern, by: str, **kwargs: Any) -> None:
        names = ("title", "seen", "mechanism", "caution", "minimum_n")
        start = {**{name: getattr(base, name) for name in names}, "title": "", "drills": base.drills}
        super().__init__(*args, initial=start, **kwargs)
        self.base, self.by = base, by
        if shipped_data(kind="pattern", slug=base.slug) is None:
            del self.fields["place"]  # one of the academy's own is edited beside itself
        self.fields["drills"].choices = [(slug, drill.name) for slug, drill in stored_library().drills.items()]
        self.rows = thresholds(base, [])
        for place, row in enumerate(self.rows):
            unit = f" ({row.unit})" if row.unit else ""
            self.fields[f"watch_{place}"] = TypedNumber(
                required=True, initial=f"{row.watch:g}", label=f"{row.label}, {row.route}: speaks from{unit}")

    @property
    def replaces(self) -> bool:
        """Whether it takes the place of the shipped pattern."""
        return self.cleaned_data.get("place") == INSTEAD

    @property
    def entry(self) -> dict[str, Any]:
        """Return the pattern as the library's files write one."""
        got = self.cleaned_data
        data = copy.deepcopy(entry_data(kind="pattern", slug=self.base.slug))
        names = ("title", "seen", "mechanism", "caution", "minimum_n", "drills")
        slug = self.base.slug if self.replaces else own_slug(got["title"])
        data |= {**{name: got[name] for name in names}, "slug": slug, "code": "OWN",
                 "mark": MARK, "source": f"own, {self.by}, made from “{self.base.title}”"}
        for place, threshold in enumerate(self.rows):
            _set(data, threshold.target, got[f"watch_{place}"], f"own, {self.by}")
        return data


def _set(data: dict[str, Any], target: str, watch: float, source: str) -> None:
    """Write one threshold into the route and quantity that its target names; a strong limit moves along."""
    _, _, route_key, quantity = target.split("/")
    route = next(route for route in data["routes"] if route["key"] == route_key)
    for condition in route["conditions"]:
        before = condition.get("watch")
        if condition["quantity"] == quantity and before not in (None, watch):
            if condition.get("strong") is not None:
                condition["strong"] = round(condition["strong"] + watch - before, 6)
            condition |= {"watch": watch, "mark": MARK, "source": source}
