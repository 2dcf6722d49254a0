"""The lines of a long file are those of the text, whoever cuts, picks or changes them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.imports import lines as module
from lessons.imports.lines import Lines

TEXTS = st.text(alphabet="aé,;\n字", min_size=1, max_size=60)


def all_of(text):
    return text.removesuffix("\n").split("\n")


@given(text=TEXTS)
def test_lines_are_those_that_splitting_the_text_gives(text):
    assert list(Lines.of(text.encode())) == all_of(text)


@given(text=TEXTS, at_once=st.integers(1, 9))
def test_it_does_not_matter_how_many_bytes_are_looked_at_together(text, at_once):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "AT_ONCE", at_once)
        lines = Lines.of(text.encode())
        assert list(lines) == all_of(text)
        assert lines.counts_of(",").tolist() == [line.count(",") for line in all_of(text)]


@given(text=TEXTS, data=st.data())
def test_picked_and_changed_lines_are_read_as_a_file_as_they_are_read_singly(text, data):
    lines = Lines.of(text.encode())
    mask = np.array(data.draw(st.lists(st.booleans(), min_size=len(lines), max_size=len(lines))), dtype=bool)
    changes = data.draw(st.dictionaries(st.integers(0, len(lines) - 1), st.text(alphabet="x字", max_size=3)))
    expected = [changes.get(index, line) for index, line in enumerate(all_of(text)) if mask[index]]
    picked = lines.with_changes(changes).picked(mask)
    assert list(picked) == expected
    if expected:
        assert picked.as_file().read().decode() == "".join(f"{line}\n" for line in expected)


def test_a_slice_is_lines_again():
    lines = Lines.of(b"a\nb\nc\nd")
    assert list(lines[1:3]) == ["b", "c"] and isinstance(lines[1:3], Lines)
