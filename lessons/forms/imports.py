"""Choosing a file, and saying how it is to be read."""

import codecs
from dataclasses import replace

from django import forms

from lessons.imports.reader import MAX_BYTES
from lessons.imports.table import Table
from lessons.imports.types import ROLES
from lessons.models.batch import FileSign
from lessons.models.shot import CarryProvenance
from lessons.services.import_choices import Choices
from lessons.services.import_sources import other_reading, taken_words
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.units import UNITS

from .long_select import LongChoice

COLUMN_CHOICES = (("", "not used"), *((key, spec.label) for key, spec in FIELDS.items()), *ROLES.items())
_UNITS = sorted({unit for units in UNITS.values() for unit in units if unit})
UNIT_CHOICES = (("", "as found"), *((unit, unit) for unit in _UNITS))
DATE_ORDERS = [("", "as found"), ("dmy", "day, month, year"), ("mdy", "month, day, year"), ("ymd", "year, month, day")]


WORDS = ("source_name", "file_sign", "provenance", "club", "player", "date_order", "decimal")
TICKS = ("apart", "second_pass", "replaces")
"""What is said of a whole file: names of the form's fields and of the choices they make."""


class FileForm(forms.Form):
    """A file, or pasted rows with their headings."""

    file = forms.FileField(required=False, label="Shot file")
    pasted = forms.CharField(
        required=False, label="Or paste rows with their headings", strip=False,
        widget=forms.Textarea(attrs={"rows": 4, "spellcheck": "false", "autocomplete": "off"}),
    )

    sheet = forms.CharField(required=False, max_length=80, label="Sheet, where a workbook has several")
    encoding = forms.CharField(required=False, max_length=30, label="Encoding, where letters look wrong")

    def clean_encoding(self) -> str:
        name = self.cleaned_data["encoding"].strip()
        try:
            return codecs.lookup(name).name if name else ""
        except LookupError as error:
            raise forms.ValidationError(f"“{name}” is no encoding; expected a name such as cp1252.") from error

    def clean(self) -> dict:
        values = super().clean()
        upload = values.get("file")
        if upload and upload.size > MAX_BYTES:
            raise forms.ValidationError(
                f"The file has {upload.size / 1e6:,.0f} MB; at most {MAX_BYTES / 1e6:,.0f} MB can be read at once."
            )
        if "file" not in self.errors and not upload and not (values.get("pasted") or "").strip():
            raise forms.ValidationError("Choose a file, or paste rows with their headings.")
        return values

    def content(self) -> tuple[bytes, str]:
        """Return the bytes and a name for them."""
        upload = self.cleaned_data["file"]
        if upload:
            return upload.read(), upload.name
        return self.cleaned_data["pasted"].encode(), "pasted rows"


class ReadingForm(forms.Form):
    """How one file is to be read: a field and a unit for each column, and what holds for the whole file."""

    source_name = forms.CharField(
        required=False, max_length=80, label="Remember this reading as",
        help_text="The name of the device or program; its next file needs no matching.",
    )
    file_sign = forms.ChoiceField(choices=FileSign.choices, label="Plus in directions means", widget=forms.RadioSelect)
    provenance = forms.ChoiceField(choices=CarryProvenance.choices, required=False, label="Carry was")
    club = forms.CharField(required=False, max_length=40, label="Club, where the file names none")
    player = forms.ChoiceField(required=False, label="Player")
    date_order = forms.ChoiceField(choices=DATE_ORDERS, required=False, label="Dates are written")
    decimal = forms.ChoiceField(
        choices=[("", "as found"), (".", "point"), (",", "comma")], required=False, label="Decimal mark"
    )

    apart = forms.BooleanField(required=False, label="These are other balls than the stored ones: take all of them in")
    second_pass = forms.BooleanField(required=False, label="The clock was put back that night: read the second time")
    replaces = forms.BooleanField(required=False, label="Its files look like this one from now on")

    def __init__(self, *args, table: Table, choices: Choices, players: list[str], clubs: list[str], **kwargs) -> None:
        super().__init__(*args, **kwargs)
        self.table, self.choices, self.unknown = table, choices, clubs
        for place, name in enumerate(clubs):
            self.fields[f"club_{place}"] = forms.ChoiceField(
                choices=[("", "leave these rows out"), *CATEGORIES.items()], required=False, label=f"“{name}” is a"
            )
        self.fields["player"].choices = [("", "everybody"), *((name, name) for name in players)]
        matched = {match["heading"]: (key, match.get("unit")) for key, match in choices.columns.items()}
        for place, heading in enumerate(table.headings):
            key, unit = matched.get(heading, ("", ""))
            self.fields[f"field_{place}"] = LongChoice(
                options=COLUMN_CHOICES, initial=key, label=f"{heading} holds"
            )
            self.fields[f"unit_{place}"] = LongChoice(
                options=UNIT_CHOICES, initial=unit or "", label=f"Unit of {heading}"
            )
        for name in (*WORDS, *TICKS):
            self.fields[name].initial = getattr(choices, name)

    def clean(self) -> dict:
        values = super().clean()
        taken: dict[str, str] = {}
        for place, heading in enumerate(self.table.headings):
            key = values.get(f"field_{place}")
            if key and key in taken:
                self.add_error(
                    f"field_{place}", f"{dict(COLUMN_CHOICES)[key]} is “{taken[key]}” already; choose one of the two."
                )
            if key:
                taken.setdefault(key, heading)
            unit = values.get(f"unit_{place}")
            if key in FIELDS and unit and unit not in UNITS[FIELDS[key].dimension]:
                expected = ", ".join(u or "no unit" for u in UNITS[FIELDS[key].dimension])
                self.add_error(f"unit_{place}", f"“{unit}” is no unit of this; expected {expected}.")
        if not any(key in FIELDS for key in taken):
            raise forms.ValidationError("No column holds a number of a ball yet; match at least one.")
        self._refuse_another_sources_name(values)
        return values

    def _refuse_another_sources_name(self, values: dict) -> None:
        choices = replace(self.choices, replaces=bool(values.get("replaces")))
        other = other_reading(name=values.get("source_name", ""), table=self.table, choices=choices)
        if other is not None:
            self.add_error("source_name", taken_words(other))

    def decided(self) -> Choices:
        """Return the choices with what was said here."""
        values = self.cleaned_data
        columns = {
            values[f"field_{place}"]: {"heading": heading, "unit": values[f"unit_{place}"] or None}
            for place, heading in enumerate(self.table.headings) if values.get(f"field_{place}")
        }
        named = {name: values[f"club_{i}"] for i, name in enumerate(self.unknown) if values.get(f"club_{i}")}
        return replace(self.choices, columns=columns, confirmed=True, club_names={
            **self.choices.club_names, **named}, **{name: values[name] or "" for name in WORDS},
            **{name: bool(values[name]) for name in TICKS})

    def words(self) -> list:
        """Return the boxes of what holds for the whole file."""
        return [self[name] for name in WORDS]

    def clubs(self) -> list:
        """Return the boxes that ask what an unknown club is."""
        return [self[f"club_{place}"] for place in range(len(self.unknown))]

    def columns(self) -> list:
        """Return for the template: heading, its field box, its unit box."""
        return [
            (heading, self[f"field_{place}"], self[f"unit_{place}"])
            for place, heading in enumerate(self.table.headings)
        ]
