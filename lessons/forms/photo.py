"""What the photo page sends: where was clicked and how large the rectangle is. Never the picture."""

import json
import math
import re
from typing import Any

import numpy as np
from django import forms
from django.core.exceptions import ValidationError

from lessons.models import SetupObservation
from metrics.photo.types import Clicks, Picture, Rectangle, Sticks

from .typed import TypedNumber

RECTANGLE, STICKS = "rectangle", "sticks"
KINDS = [(RECTANGLE, "four corners of a rectangle"), (STICKS, "an L of two sticks")]
FULL_FRAME_DIAGONAL_MM = math.hypot(36, 24)
"""What the focal length in a photo's own data is counted against."""
_CM = {"": 1.0, "cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54, "ft": 30.48}
GROUPS = ("corners", "feet", "aim")
_SIZE = re.compile(r"\s*(mm|cm|m|in|ft)$", re.IGNORECASE)


class Length(forms.CharField):
    """A length in cm, or with its unit behind it: 150, 1.5 m, 59 in, 5 ft."""

    def clean(self, value: Any) -> float:
        text = super().clean(value).strip()
        match = _SIZE.search(text)
        number = TypedNumber().clean(text[:match.start()] if match else text)
        if number is None:
            raise ValidationError(f"“{text}” was found; expected a length such as 150 cm or 59 in.")
        return number * _CM[match.group(1).lower() if match else ""]


class PhotoForm(forms.Form):
    """The clicks of one photo. ``reading_of`` takes what ``asked`` returns."""

    width = forms.FloatField(min_value=100, max_value=20000)
    height = forms.FloatField(min_value=100, max_value=20000)
    reach = forms.FloatField(min_value=0, max_value=200, required=False)
    kind = forms.ChoiceField(choices=KINDS)
    along = Length(max_length=12, label="Side along the target line")
    across = Length(max_length=12, label="Side across it")
    focal = TypedNumber(label="Focal length")
    phase = forms.ChoiceField(choices=SetupObservation.Phase.choices)
    points = forms.CharField(max_length=4000)

    def clean_points(self) -> dict[str, np.ndarray]:
        try:
            found = json.loads(self.cleaned_data["points"])
            return {name: np.array(found[name], dtype=np.float64).reshape(-1, 2) for name in GROUPS}
        except (ValueError, KeyError, TypeError):
            raise ValidationError("The clicks did not arrive whole. Move one of them and try again.") from None

    def clean(self) -> dict[str, Any]:
        data = super().clean()
        focal = data.get("focal")
        if data.get("kind") == STICKS and "focal" not in self.errors and not (focal and 5 <= focal <= 300):
            self.add_error("focal", "An L of sticks needs the focal length as for 35 mm film; expected 5 to 300 mm.")
        aim = (data.get("points") or {}).get("aim")
        if aim is not None and len(aim) not in (0, 2):
            self.add_error("points", "One end of the aim stick was clicked; expected both ends or none.")
        return data

    def asked(self) -> dict[str, Any]:
        """Return what ``metrics.photo`` reads a photo from."""
        data = self.cleaned_data
        points, size = data["points"], {"along_cm": data["along"], "across_cm": data["across"]}
        diagonal = math.hypot(data["width"], data["height"])
        ground = Rectangle(**size) if data["kind"] == RECTANGLE else Sticks(
            **size, focal_px=data["focal"] * diagonal / FULL_FRAME_DIAGONAL_MM)
        return {
            "picture": self._picture(), "ground": ground,
            "clicks": Clicks(corners=points["corners"], feet=points["feet"],
                             aim=points["aim"] if len(points["aim"]) else None),
        }

    def _picture(self) -> Picture:
        """The photo; a mark that was only clicked is no finer than one pixel of the screen, ``reach`` of the photo."""
        size = {"width_px": self.cleaned_data["width"], "height_px": self.cleaned_data["height"]}
        finest = Picture(**size).sd_px
        return Picture(**size, click_px=max(finest, self.cleaned_data.get("reach") or 0))

    def problems(self) -> list[str]:
        """Return every error as one sentence."""
        return [words if name in {"points", "focal", "__all__"} else f"{self.fields[name].label or name}: {words}"
                for name, errors in self.errors.items() for words in errors]
