"""Tables that leave the house: no small count stands in them, and none can be worked out from another."""

import csv
import io
import re

import pytest
import time_machine
from django.urls import reverse
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from lessons.queries.academy.count import Count
from lessons.queries.academy.export import FEW, SUPPRESSED, parts, told
from lessons.queries.academy.measures import MEASURES

from . import small


@pytest.fixture
def people(coach, other_coach):
    with time_machine.travel(small.NOON, tick=False), timezone.override("Europe/Dublin"):
        yield small.build(coach, other_coach)


def table(client, name):
    answer = client.get(reverse("lessons:figures_table", args=[name]))
    text = answer.content.decode("utf-8-sig")
    return text, list(csv.DictReader(io.StringIO(text)))


def test_small_counts_and_what_would_give_them_away_are_left_out_of_the_table(people, owner, client):
    client.force_login(owner)
    text, rows = table(client, "figures")
    rows = {row["Figure"]: row for row in rows}
    assert len(rows) == len(MEASURES)
    active = rows["Active"]
    assert (active["Counted"], active["Out of"], active["Ratio"]) == (SUPPRESSED, "6", SUPPRESSED)
    assert rows["Hours given"]["Counted"] == "6.5" and rows["Hours given"]["Out of"] == "104.0"
    assert rows["Did not come"]["Out of, a year before"] == "0"
    assert "Ana" not in text


@pytest.mark.parametrize("name", ["figures", "cohorts", "spread"])
def test_no_table_holds_a_name_or_a_count_below_five(people, owner, client, name):
    client.force_login(owner)
    text, rows = table(client, name)
    assert rows and not set(people) & set(re.findall(r"\w+", text))
    counts = [cell for row in rows for head, cell in row.items() if head and cell.replace(".", "").isdigit()
              and head not in ("Ratio",)]
    assert not [cell for cell in counts if 0 < float(cell) < FEW]


@given(top=st.integers(0, 60), rest=st.integers(0, 60))
def test_whoever_reads_a_row_cannot_tell_a_part_or_a_rest_of_one_to_four(top, rest):
    whole = top + rest
    row = told(Count(top=top, bottom=whole))
    if not (0 < top < FEW or 0 < rest < FEW):
        assert row == (top, whole, None if not whole else round(100 * top / whole, 1))
        return
    assert row[0] == row[2] == SUPPRESSED
    wholes = range(1, FEW) if row[1] == SUPPRESSED else [row[1]]
    fits = {(part, one - part) for one in wholes for part in range(one + 1)
            if told(Count(top=part, bottom=one)) == row}
    assert len({part for part, _ in fits}) > 1 and len({left for _, left in fits}) > 1


@pytest.mark.parametrize(("counts", "cells", "whole"), [
    ([5, 2, 0], [5, SUPPRESSED, 0], SUPPRESSED), ([5, 7, 0], [5, 7, 0], 12),
    ([1, 1, 0], [SUPPRESSED, SUPPRESSED, 0], SUPPRESSED),
])
def test_a_whole_is_left_out_beside_a_part_that_it_would_tell(counts, cells, whole):
    assert parts(counts) == (cells, whole)


def test_money_for_few_lessons_is_left_out():
    assert told(Count(top=250.0, bottom=3, per=1, unit="a lesson")) == (SUPPRESSED, SUPPRESSED, SUPPRESSED)
    assert told(Count(top=250.0, bottom=5, per=1, unit="a lesson")) == (250.0, 5, 50.0)
