"""The guided form of a first visit: the conversation, the body, the looks. Everything may be left for later."""

import uuid
from typing import Any

from django import forms

from academy.models import HealthFlag
from lessons.models import Battery
from metrics.plans.battery import ASKED, BODY, CLEARED, LOOK_WORDS, LOOKS, Question

YES_NO = [("yes", "Yes"), ("no", "No")]


def _field(question: Question, *, required: bool = False) -> forms.Field:
    whole = {"label": question.words, "help_text": question.hint, "required": required,
             "error_messages": {"required": "Not answered yet: yes or no."}}
    if question.answer == "yes_no":
        return forms.ChoiceField(choices=YES_NO, widget=forms.RadioSelect, **whole)
    if question.answer == "choice":
        return forms.ChoiceField(choices=question.choices, **whole)
    return forms.CharField(max_length=400, widget=forms.Textarea(attrs={"rows": 2}), **whole)


class AskForm(forms.Form):
    """What is talked about before the first ball."""

    def __init__(self, *args: Any, battery: Battery, **kwargs: Any) -> None:
        super().__init__(*args, initial=battery.asked, **kwargs)
        self.fields |= {one.key: _field(one) for one in ASKED}

    @property
    def answers(self) -> dict[str, str]:
        return {key: said for key, said in self.cleaned_data.items() if said}


class _WithPain(forms.Form):
    """Where it hurts and how strong, once for each form that was sent."""

    pain_key = forms.UUIDField(widget=forms.HiddenInput)
    area = forms.ChoiceField(choices=[("", "nowhere"), *HealthFlag.Area.choices], required=False, label="Pain now")
    severity = forms.TypedChoiceField(
        choices=[("", "–"), *((n, str(n)) for n in range(11))], coerce=int, empty_value=None, required=False,
        label="How strong, 0 to 10")
    is_new = forms.BooleanField(required=False, label="New, or new in this movement")

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if values.get("area") and values.get("severity") is None:
            self.add_error("severity", "Say how strong it is, 0 to 10, as the student says it.")
        if values.get("severity") and not values.get("area"):
            self.add_error("area", "Say where it hurts.")
        return values

    @property
    def pain(self) -> dict[str, Any] | None:
        """Return the pain as columns of a health entry; None where nothing hurts."""
        got = self.cleaned_data
        if not got["area"]:
            return None
        return {"code": got["pain_key"], "area": got["area"], "severity": got["severity"], "is_new": got["is_new"]}


class BodyForm(_WithPain):
    """Injuries and the questions that defer to a clinician, all answered. Read by the assigned coach alone."""

    use_required_attribute = False

    def __init__(self, *args: Any, battery: Battery, **kwargs: Any) -> None:
        super().__init__(*args, initial={**battery.health, "pain_key": uuid.uuid4()}, **kwargs)
        asked = {one.key: _field(one, required=one.answer == "yes_no") for one in BODY}
        self.fields = {**asked, CLEARED.key: _field(CLEARED), **self.fields}

    @property
    def answers(self) -> dict[str, str]:
        """Return what was answered, without the pain, which is an entry of its own."""
        keys = [one.key for one in (*BODY, CLEARED)]
        return {key: self.cleaned_data[key] for key in keys if self.cleaned_data[key]}


class LookForm(_WithPain):
    """Five looks, easy, limited or pain; the first pain ends them."""

    def __init__(self, *args: Any, battery: Battery, **kwargs: Any) -> None:
        super().__init__(*args, initial={**battery.looked, "pain_key": uuid.uuid4()}, **kwargs)
        looks = {
            one.key: forms.ChoiceField(
                choices=list(LOOK_WORDS.items()), widget=forms.RadioSelect, required=False, label=one.title,
                help_text=one.how)
            for one in LOOKS
        }
        self.fields = {**looks, **self.fields}

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if "pain" in self.looks.values() and not values.get("area") and not self.errors:
            self.add_error("area", "A look hurt: say where and how strong. The looks end here.")
        return values

    @property
    def looks(self) -> dict[str, str]:
        return {one.key: self.cleaned_data[one.key] for one in LOOKS if self.cleaned_data.get(one.key)}
