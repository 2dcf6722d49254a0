"""The keypad: left is left on the range, and what is stored is the player's side."""

import pytest

from lessons.queries.keypad import contact_keys, flight_name, seen_words, shape_keys


def test_nine_keys_lie_as_on_a_number_pad():
    assert [key.digit for key in shape_keys(left_handed=False)] == [7, 8, 9, 4, 5, 6, 1, 2, 3]


def test_for_a_right_hander_the_left_column_is_the_hook_side():
    keys = {key.digit: key for key in shape_keys(left_handed=False)}
    assert keys[9].value == "1,-1" and keys[9].name == "push draw"
    assert keys[4].value == "-1,0" and keys[4].name == "pull"


def test_for_a_left_hander_the_same_key_means_the_same_flight_on_the_range_and_the_mirrored_call():
    right = {key.digit: key for key in shape_keys(left_handed=False)}
    left = {key.digit: key for key in shape_keys(left_handed=True)}
    for digit in right:
        assert left[digit].words == right[digit].words
        assert left[digit].path == right[digit].path
        assert [int(v) for v in left[digit].value.split(",")] == [-int(v) for v in right[digit].value.split(",")]
    assert left[9].name == "pull fade"


@pytest.mark.parametrize(
    ("start", "curve", "name"), [(0, 0, "straight"), (-1, 2, "pull slice"), (0, -1, "draw"), (None, -2, "hook")]
)
def test_flights_have_their_trade_names(start, curve, name):
    assert flight_name(start, curve) == name


def test_words_are_what_is_seen_from_behind():
    assert seen_words(1, -2, left_handed=False) == "starts right, curves a lot left"
    assert seen_words(1, -2, left_handed=True) == "starts left, curves a lot right"


def test_every_contact_has_a_key_of_its_own():
    keys = [key.key for key in contact_keys()]
    assert len(keys) == len(set(keys)) == 8
