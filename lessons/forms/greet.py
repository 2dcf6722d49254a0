"""What is asked at the start of a lesson, and the conditions of the hour."""

import math
from typing import Any

from django import forms

from academy.models import HealthFlag, Venue
from lessons.models import DataSource, Lesson
from lessons.models.lesson import BallType
from metrics import units

from .typed import TypedNumber

WIND_FROM: dict[str, tuple[str, float]] = {
    "ahead": ("into", 180), "ahead_right": ("into, from the right", 225), "right": ("from the right", 270),
    "behind_right": ("helping, from the right", 315), "behind": ("helping", 0),
    "behind_left": ("helping, from the left", 45), "left": ("from the left", 90),
    "ahead_left": ("into, from the left", 135),
}
"""Where the wind comes from -> words, and where it blows to in degrees: 0 down the range, 90 to the right."""
GRADES = tuple(range(11))
"""Pain from 0, none, to 10, the worst, as the student says it."""

WIND_UNITS = {"yards": "mph", "metres": "km/h"}


class GreetForm(forms.Form):
    """One tap answers one question; what is not in the request is not touched."""

    warmed_up = forms.TypedChoiceField(
        choices=[("yes", "Yes"), ("no", "No")], coerce=lambda said: said == "yes", required=False, empty_value=None
    )
    practised = forms.ChoiceField(choices=[("", ""), *Lesson.Practised.choices], required=False)
    played = forms.CharField(max_length=200, required=False)
    no_pain = forms.BooleanField(required=False)
    second_adult = forms.CharField(max_length=80, required=False)

    @property
    def answers(self) -> dict[str, Any]:
        """Return only what was asked just now, as values of the lesson."""
        words = ("practised", "played", "second_adult")
        found = {name: self.cleaned_data[name] for name in words if name in self.data}
        if self.cleaned_data["warmed_up"] is not None:
            found["warmed_up"] = self.cleaned_data["warmed_up"]
        if self.cleaned_data["no_pain"]:
            found["pain_asked"] = True
        return found


class PainForm(forms.Form):
    """Where it hurts, how strong, and whether it is new or one of the emergency signs."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    area = forms.ChoiceField(choices=HealthFlag.Area.choices, label="Where")
    severity = forms.TypedChoiceField(
        choices=[(grade, str(grade)) for grade in GRADES], coerce=int, widget=forms.RadioSelect,
        label="How strong, 0 to 10, as the student says it",
    )
    is_new = forms.BooleanField(required=False, label="New, or new while swinging")
    red_flag = forms.BooleanField(required=False, label="One of the emergency signs above")


class HeaderForm(forms.Form):
    """The conditions of the hour. Wind only as measured; felt wind is a tick."""

    venue = forms.ModelChoiceField(Venue.objects.all(), to_field_name="code", required=False, empty_label="not noted")
    new_venue = forms.CharField(max_length=80, required=False, label="Another place")
    device = forms.ModelChoiceField(
        DataSource.objects.all(), to_field_name="code", required=False, empty_label="eyes only", label="Read with"
    )
    ball_type = forms.ChoiceField(choices=BallType.choices, required=False, label="Ball")
    altitude_m = TypedNumber(
        label="Height of the place above the sea", help_text="Kept with the place; to 50 m is enough."
    )
    indoor = forms.BooleanField(required=False, label="The place is indoors")
    temperature_c = TypedNumber(label="Temperature")
    pressure_hpa = TypedNumber(
        label="Air pressure at the place", help_text="Only a station reading, not one reduced to sea level."
    )
    wind_speed = TypedNumber(label="Wind, if measured")
    wind_from = forms.ChoiceField(
        choices=[("", "–"), *((key, words) for key, (words, _) in WIND_FROM.items())], required=False,
        label="Wind comes",
    )
    is_windy = forms.BooleanField(required=False, label="Windy, as felt")

    def __init__(self, *args: Any, lesson: Lesson, system: str, **kwargs: Any) -> None:
        kwargs.setdefault("initial", _initial(lesson, system))
        super().__init__(*args, **kwargs)
        self.lesson, self.wind_unit = lesson, WIND_UNITS[system]

    def clean_temperature_c(self) -> float | None:
        value = self.cleaned_data["temperature_c"]
        if value is not None and not -40 <= value <= 60:
            raise forms.ValidationError(f"{value:g} °C was found; expected -40 to 60 °C.")
        return value

    def clean_altitude_m(self) -> float | None:
        value = self.cleaned_data["altitude_m"]
        if value is not None and not -430 <= value <= 5000:
            raise forms.ValidationError(f"{value:g} m was found; expected -430 to 5000 m.")
        return value

    def clean_pressure_hpa(self) -> float | None:
        value = self.cleaned_data["pressure_hpa"]
        if value is not None and not 500 <= value <= 1100:
            raise forms.ValidationError(f"{value:g} hPa was found; expected 500 to 1100 hPa.")
        return value

    def clean_wind_speed(self) -> float | None:
        value = self.cleaned_data["wind_speed"]
        if value is not None and not 0 <= value <= 120:
            raise forms.ValidationError(f"{value:g} {self.wind_unit} was found; expected 0 to 120 {self.wind_unit}.")
        return value

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if values.get("wind_speed") and not values.get("wind_from"):
            self.add_error("wind_from", "Say where the wind comes from, or leave the speed empty.")
        return values

    @property
    def place(self) -> dict[str, Any]:
        """Return what was newly said of the place itself; what only stood there from before is left alone, because
        it may belong to the place that was chosen before."""
        said = {"altitude_m": self.cleaned_data["altitude_m"], "indoor": self.cleaned_data["indoor"]}
        return {name: value for name, value in said.items() if name in self.changed_data}

    @property
    def values(self) -> dict[str, Any]:
        """Return values of the lesson, wind in m/s and player-relative."""
        got, left = self.cleaned_data, self.lesson.student.left_handed
        along, cross = _components(got["wind_speed"], got["wind_from"], self.wind_unit, left)
        return {
            "venue": got["venue"], "device": got["device"], "ball_type": got["ball_type"],
            "temperature_c": got["temperature_c"], "pressure_hpa": got["pressure_hpa"], "is_windy": got["is_windy"],
            "wind_along_mps": along, "wind_cross_mps": cross,
        }


def _components(speed: float | None, comes: str, unit: str, left_handed: bool) -> tuple[float | None, float | None]:
    if speed is None:
        return None, None
    mps = units.to_si(value=speed, unit=unit, dimension="speed")
    angle = math.radians(WIND_FROM[comes][1]) if comes else 0.0
    right = mps * math.sin(angle)
    return round(mps * math.cos(angle), 3), round(-right if left_handed else right, 3)


def _initial(lesson: Lesson, system: str) -> dict[str, Any]:
    found: dict[str, Any] = {
        "venue": lesson.venue.code if lesson.venue else None, "device": lesson.device.code if lesson.device else None,
        "ball_type": lesson.ball_type, "is_windy": lesson.is_windy,
        "temperature_c": _text(lesson.temperature_c), "pressure_hpa": _text(lesson.pressure_hpa),
        "altitude_m": _text(lesson.venue.altitude_m) if lesson.venue else "",
        "indoor": lesson.venue.indoor if lesson.venue else False,
    }
    along, cross = lesson.wind_along_mps, lesson.wind_cross_mps
    if along is not None or cross is not None:
        across = cross or 0.0
        seen = -across if lesson.student.left_handed else across
        towards = math.degrees(math.atan2(seen, along or 0.0)) % 360
        speed = units.from_si(value=math.hypot(along or 0, across), unit=WIND_UNITS[system], dimension="speed")
        found |= {"wind_speed": f"{speed:.0f}", "wind_from": _nearest(towards)}
    return found


def _text(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def _nearest(towards: float) -> str:
    return min(WIND_FROM, key=lambda key: abs((WIND_FROM[key][1] - towards + 180) % 360 - 180))
