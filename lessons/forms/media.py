"""What is sent with pictures and clips: one angle and club, a file before, a file after, how long to keep them."""

import uuid
from typing import Any

from django import forms

from lessons.media.allowed import Allowed
from lessons.media.content import clean
from lessons.media.types import Cleaned, Refused
from lessons.models import Attachment, Block, SetupObservation
from lessons.models.block import AIDS

KEEP = [(30, "1 month"), (90, "3 months"), (180, "6 months"), (365, "12 months")]
ACCEPTED = "image/jpeg,image/png,image/webp,video/mp4,video/quicktime,video/webm"
PHASES = SetupObservation.Phase.values


class CleanedFile(forms.FileField):
    """A file that is judged by its content alone; its name is never looked at."""

    widget = forms.FileInput(attrs={"accept": ACCEPTED})

    def to_python(self, data: Any) -> Any:
        """Leave the name alone: no check of it, no use of it."""
        return None if data in self.empty_values else data

    def clean(self, data: Any, initial: Any = None) -> Cleaned | None:
        sent = super().clean(data, initial)
        if not sent:
            return None
        try:
            return clean(sent.read())
        except Refused as refused:
            raise forms.ValidationError(str(refused)) from refused


class AttachmentForm(forms.Form):
    """One pair, or one half of it. ``halves`` lists what is to be kept."""

    angle = forms.ChoiceField(choices=Attachment.Angle.choices, label="Taken from", widget=forms.RadioSelect)
    block = forms.ChoiceField(label="Club")
    before = CleanedFile(required=False, label="Before the change")
    before_aids = forms.MultipleChoiceField(
        choices=list(AIDS.items()), required=False, label="Aids on the ground or in use, before",
        widget=forms.CheckboxSelectMultiple)
    after = CleanedFile(required=False, label="After the change")
    after_aids = forms.MultipleChoiceField(
        choices=list(AIDS.items()), required=False, label="Aids on the ground or in use, after",
        widget=forms.CheckboxSelectMultiple)
    keep_days = forms.TypedChoiceField(choices=KEEP, coerce=int, initial=180, label="Delete after")
    yes = forms.BooleanField(required=False)
    key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, blocks: list[Block], allowed: Allowed, first_name: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.blocks = {str(block.code): block for block in reversed(blocks)}
        self.allowed = allowed
        self.fields["block"].choices = _clubs(self.blocks)
        self.fields["yes"].label = f"{first_name} was asked and says yes to keeping pictures (for twelve months)"
        if not allowed.may_ask:
            del self.fields["yes"]

    def full_clean(self) -> None:
        """Without a yes nothing is opened: the files are dropped unread."""
        if self.is_bound and not (self.allowed.keep or (self.allowed.may_ask and self.data.get("yes"))):
            self._errors, self.cleaned_data = forms.utils.ErrorDict(), {}
            field = "yes" if self.allowed.may_ask else None
            self.add_error(field, self.allowed.reason)
            return
        super().full_clean()

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if not self.errors and not (values.get("before") or values.get("after")):
            self.add_error("before", "Nothing was chosen; expected a picture or clip before or after the change.")
        return values

    @property
    def halves(self) -> list[dict[str, Any]]:
        """Return what each kept half needs. Each has its own key, so that a second sending stores nothing twice."""
        got = self.cleaned_data
        return [{
            "cleaned": got[phase], "phase": phase, "aids": got[f"{phase}_aids"], "angle": got["angle"],
            "block": self.blocks[got["block"]], "keep_days": got["keep_days"], "key": uuid.uuid5(got["key"], phase),
        } for phase in PHASES if got.get(phase)]


def _clubs(blocks: dict[str, Block]) -> list[tuple[str, str]]:
    """Return each club once, with its newest block. ``blocks`` by code, newest first."""
    named: dict[str, str] = {}
    for code, block in blocks.items():
        named.setdefault(block.club_name, code)
    return [(code, name) for name, code in named.items()]
