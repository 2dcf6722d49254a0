"""Giving the lesson sheet away."""

import uuid
from typing import Any

from django import forms


class SheetForm(forms.Form):
    """One act of sending; the key makes a double click one mail."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    with_link = forms.BooleanField(required=False, label="With a new private link to the page")
    copy_to_child = forms.BooleanField(required=False, label="A copy to the child’s own address, then without a link")

    def __init__(self, *args: Any, only_here: bool = False, **kwargs: Any) -> None:
        """``only_here``: the program is reached under an address that no other machine knows."""
        super().__init__(*args, initial={"key": uuid.uuid4()}, **kwargs)
        if only_here:
            self.fields["with_link"].help_text = "This address opens on this machine only; a link in a mail would not."
