"""A library that cannot be used says where, what was found and what was expected."""

import copy

import pytest

from metrics.rules.library import parse_library
from metrics.rules.reader import LibraryError
from tests.library.shipped import documents


@pytest.fixture
def data():
    return copy.deepcopy(documents())


def first_condition(data):
    return data["patterns/flight"][0]["routes"][0]["conditions"][0]



@pytest.mark.parametrize("change, said", [
    (lambda d: first_condition(d).update(watch="four"), "'watch' is 'four'; expected a number"),
    (lambda d: first_condition(d).update(watch=9), "'strong' 6 lies before 'watch' 9"),
    (lambda d: first_condition(d).update(wtach=4), "'wtach' is not a known key"),
    (lambda d: first_condition(d).update(mark="certain"), "expected one of 'source'"),
    (lambda d: first_condition(d).pop("source"), "'source' is nothing; expected a text"),
    (lambda d: first_condition(d).pop("watch"), "without 'watch'"),
    (lambda d: d["patterns/flight"][0].update(clubs=["trowel"]), "'clubs' names 'trowel'"),
    (lambda d: d["patterns/flight"][0].update(drills=["no-such"]), "names 'no-such', which the library does not have"),
    (lambda d: d["patterns/flight"][0]["routes"][0].update(conditions=[]), "expected a list of objects, at least one"),
    (lambda d: d["patterns/flight"].append(d["patterns/flight"][0]), "'over_draw' is there twice"),
    (lambda d: d["drills"][0].update(steps=[]), "'steps' is []; expected a list with at least one text"),
    (lambda d: d["setup_windows"][0].update(range=[3, 1]), "expected two numbers, the lower one first"),
    (lambda d: d["setup_effects"][0].update(step=0), "expected a step other than 0"),
    (lambda d: d["setup_effects"][0].update(reach=1), "'reach' is 1; expected at least one step"),
    (lambda d: d.pop("safety"), "The library lacks safety"),
    (lambda d: d.update(drills={}), "drills: expected a list of objects"),
])
def test_a_spoilt_library_is_refused_with_a_sentence(data, change, said):
    change(data)
    with pytest.raises(LibraryError) as refused:
        parse_library(documents=data)
    assert said in str(refused.value)


def test_the_sentence_names_the_place(data):
    first_condition(data).update(watch=True)
    with pytest.raises(LibraryError, match=r"patterns/flight\[0\], over_draw, routes\[0\], conditions\[0\]"):
        parse_library(documents=data)


def test_an_academy_can_add_a_pattern_and_a_drill_of_its_own(data):
    own = {**copy.deepcopy(data["patterns/flight"][0]), "slug": "our_hook", "drills": ["our-drill", "face-map"]}
    drill = {**copy.deepcopy(data["drills"][0]), "slug": "our-drill", "patterns": ["our_hook"]}
    library = parse_library(documents={**data, "patterns/own": [own], "drills/own": [drill]})
    assert "our_hook" in library.patterns and "our-drill" in library.drills
