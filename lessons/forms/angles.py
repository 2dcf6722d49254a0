"""What the page of angles sends: how the photo was taken, where the camera stood, and the clicked places."""

import json
from typing import Any

import numpy as np
from django import forms
from django.core.exceptions import ValidationError

from lessons.models import Attachment, SetupObservation
from metrics.photo.angles import PLACES, UPRIGHT
from metrics.photo.types import Picture

ANGLES = [(value, label) for value, label in Attachment.Angle.choices if value in PLACES]
SPOTS = {
    "face_on": "hand high, square to the target line, opposite the ball",
    "down_line": "hand high, on the line from the toes or hands to the target",
}
ELSEWHERE = "elsewhere"
SPOT_CHOICES = [("square", "There"), (ELSEWHERE, "Somewhere else")]


class AnglesForm(forms.Form):
    """The clicks on one photo. ``asked`` is what ``metrics.photo.angles`` reads them from."""

    width = forms.FloatField(min_value=100, max_value=20000)
    height = forms.FloatField(min_value=100, max_value=20000)
    reach = forms.FloatField(min_value=0, max_value=200, required=False)
    angle = forms.ChoiceField(choices=ANGLES, error_messages={
        "required": "Say whether the photo was taken face-on or down the line; from elsewhere no angle can be read."})
    spot = forms.ChoiceField(choices=SPOT_CHOICES, error_messages={
        "required": "Say where the camera stood: an angle in a picture is the body’s only from one place."})
    distance = forms.CharField(max_length=30, required=False)
    phase = forms.ChoiceField(choices=SetupObservation.Phase.choices)
    points = forms.CharField(max_length=4000)

    def clean_spot(self) -> str:
        if self.cleaned_data["spot"] == ELSEWHERE:
            raise ValidationError("From there an angle in the picture is not the body’s. Put the camera where it "
                                  "belongs and take the photo again.")
        return self.cleaned_data["spot"]

    def clean_points(self) -> dict[str, np.ndarray]:
        known = {name for names in PLACES.values() for name in names} | set(UPRIGHT)
        try:
            sent = json.loads(self.cleaned_data["points"])
            found = {name: np.array(at, dtype=np.float64).reshape(2) for name, at in sent.items() if name in known}
        except (ValueError, TypeError, AttributeError):
            raise ValidationError("The clicks did not arrive whole. Move one of them and try again.") from None
        if not all(np.isfinite(point).all() for point in found.values()):
            raise ValidationError("The clicks did not arrive whole. Move one of them and try again.")
        return found

    @property
    def asked(self) -> dict[str, Any]:
        got = self.cleaned_data
        size = {"width_px": got["width"], "height_px": got["height"]}
        picture = Picture(**size, click_px=max(Picture(**size).sd_px, got.get("reach") or 0))
        return {"picture": picture, "angle": got["angle"], "clicks": got["points"]}

    @property
    def camera(self) -> str:
        """Where the camera stood, for the record."""
        got = self.cleaned_data
        place = "face-on, hand high" if got["angle"] == "face_on" else "down the line, hand high"
        return f"{place}, {got['distance'].strip()}" if got["distance"].strip() else place

    def problems(self) -> list[str]:
        """Return every error as one sentence."""
        named = {"width": "Width of the photo: ", "height": "Height of the photo: "}
        return [named.get(name, "") + words for name, errors in self.errors.items() for words in errors]
