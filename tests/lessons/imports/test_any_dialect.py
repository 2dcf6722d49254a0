"""Random tables in random dialects come back with the same values; the quick way and the careful way agree."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from lessons.imports import parse, propose, read_table, reader
from metrics.fields import MIRRORED

from .writer import Written, tables

slow = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))


def read_back(written: Written, *, hand: str = "right"):
    table = read_table(written.data, filename="random.csv")
    proposal = propose(table)
    assert proposal.questions == ()
    return parse(table, columns=proposal.columns, hand=hand)


def demand(written: Written, parsed, *, sign: int = 1) -> None:
    assert parsed.problems == ()
    assert parsed.balls == written.rows
    assert set(parsed.shots) == set(written.values)
    for key, values in written.values.items():
        wanted = np.array([np.nan if value is None else value for value in values])
        turned = wanted * sign if key in MIRRORED else wanted
        np.testing.assert_allclose(parsed.shots[key], turned, rtol=1e-9, atol=1e-9, err_msg=key)


@slow
@given(tables())
def test_a_table_in_any_dialect_comes_back_with_its_values(written: Written) -> None:
    demand(written, read_back(written))


@slow
@given(tables())
def test_a_left_handers_table_comes_back_mirrored_where_directions_are(written: Written) -> None:
    demand(written, read_back(written, hand="left"), sign=-1)


@slow
@given(tables(quotes=False))
def test_the_way_for_big_files_reads_the_same_values(written: Written) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reader, "FAST_FROM_ROWS", 0)
        demand(written, read_back(written))
