"""Tables leave as CSV that no spreadsheet runs, and come back as they went."""

import csv
import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.imports import csv_bytes, csv_text, parse, plain_text, propose, read_table, safe_text
from metrics.fields import FIELDS

DANGEROUS = ["=HYPERLINK(\"x\")", "+1+1", "-2", "@SUM(A1)", "\t=1", "\r=1", "'=1", "''-1", "＝1"]


@pytest.mark.parametrize("text", DANGEROUS)
def test_text_that_a_spreadsheet_would_run_gets_an_apostrophe(text: str) -> None:
    row = next(iter(csv.reader(io.StringIO(csv_text({"a": [text]}).split("\r\n", 1)[1], newline=""))))
    assert row[0] == "'" + text
    assert plain_text(row[0]) == text


@given(st.text())
def test_any_text_comes_back_as_it_was(text: str) -> None:
    assert plain_text(safe_text(text)) == text


def test_numbers_stay_numbers_and_text_is_quoted() -> None:
    out = csv_text({"name": ["Ana; =1+1", None], "side_m": [-3.5, float("nan")], "n": [3, 0]})
    assert out == '"name","side_m","n"\r\n"Ana; =1+1",-3.5,3\r\n,,0\r\n'


def test_infinite_numbers_and_uneven_columns_are_refused() -> None:
    with pytest.raises(ValueError, match="carry_m holds an infinite number"):
        csv_text({"carry_m": [float("inf")]})
    with pytest.raises(ValueError, match="shorter"):
        csv_text({"a": [1], "b": []})


def test_balls_come_back_from_their_export_to_the_last_digit() -> None:
    chance = np.random.default_rng(7)
    shots = {key: chance.uniform(max(field.lower, -99), min(field.upper, 9999), 30) for key, field in FIELDS.items()}
    shots["spin_rpm"][3] = np.nan
    clubs = ["7i", "Driver", "=PW"] * 10
    data = csv_bytes({"club": clubs, **shots})
    table = read_table(data, filename="out.csv")
    back = parse(table, columns=propose(table).columns, hand="left", file_sign="player",
                 club_names={"=PW": "wedge_full"})
    assert list(back.clubs) == clubs
    assert back.problems == ()
    for key, values in shots.items():
        np.testing.assert_array_equal(back.shots[key], values, err_msg=key)
