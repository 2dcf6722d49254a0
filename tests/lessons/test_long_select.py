"""A long choice is written and checked as Django's own is."""

import pytest
from django import forms
from django.test.html import parse_html

from lessons.forms.long_select import LongChoice

OPTIONS = (("", "none"), ("a", "A & B"), ('b"<', "<B>"))


class Ours(forms.Form):
    one = LongChoice(options=OPTIONS, initial="a", label="One")


class Theirs(forms.Form):
    one = forms.ChoiceField(choices=OPTIONS, required=False, initial="a", label="One")


@pytest.mark.parametrize("sent", [None, {}, {"one": ""}, {"one": "a"}, {"one": 'b"<'}, {"one": "<script>"}])
def test_it_is_written_and_checked_like_djangos_own(sent):
    ours, theirs = Ours(sent), Theirs(sent)
    assert parse_html(str(ours["one"])) == parse_html(str(theirs["one"]))
    assert ours.errors == theirs.errors
    assert getattr(ours, "cleaned_data", None) == getattr(theirs, "cleaned_data", None)


def test_only_the_chosen_option_is_selected():
    assert str(Ours({"one": "a"})["one"]).count(" selected") == 1
