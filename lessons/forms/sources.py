"""Adding a source of numbers, and saying what happens to the balls that wait."""

from typing import Any

from django import forms

from lessons.models import Block, DataSource, Lesson


class SourceForm(forms.ModelForm):
    """A device or program that sends balls."""

    class Meta:
        model = DataSource
        fields = ["name", "file_sign", "carry_provenance", "is_indoor_model"]
        help_texts = {"is_indoor_model": ""}
        labels = {
            "name": "What you call it", "file_sign": "What plus means for directions",
            "carry_provenance": "How its carry comes about", "is_indoor_model": "Indoors: the ball hits a net",
        }


class InboxForm(forms.Form):
    """Which balls, and where they go. The place is a lesson (a block for each club) or one of its blocks."""

    do = forms.ChoiceField(choices=[(one, one) for one in ("assign", "discard", "back")])
    balls = forms.ModelMultipleChoiceField(
        queryset=None, to_field_name="code", error_messages={"required": "Choose at least one ball."}
    )
    place = forms.ChoiceField(required=False, label="Into")

    def __init__(self, *args: Any, balls: Any, places: list[tuple[str, Lesson, Block | None]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["balls"].queryset = balls
        self._places = {name: (lesson, block) for name, lesson, block in places}
        self.fields["place"].choices = [("", "Choose a lesson or block"), *((name, name) for name in self._places)]

    def clean(self) -> dict[str, Any]:
        values = super().clean()
        if values.get("do") == "assign" and not values.get("place") and "place" not in self.errors:
            self.add_error("place", "Choose the lesson or block these balls belong to.")
        return values

    @property
    def chosen(self) -> tuple[Lesson, Block | None]:
        return self._places[self.cleaned_data["place"]]
