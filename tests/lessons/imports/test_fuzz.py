"""Whatever bytes come, the answer is rows or a sentence, never a traceback. Each search is boxed in time."""

import random
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessons.imports import ImportRefusal, parse, preview_rows, propose, read_table, reader

FOLDER = Path(__file__).resolve().parents[3] / "fixtures" / "imports"
FILES = sorted(path for path in FOLDER.iterdir() if not path.name.endswith(".expected.json"))
SECONDS = 3.0
loose = settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
PIECES = ["Club", "Carry", "Carry (yd)", "Spin", "12.3 L", "\u2212", "1,234", "1.234,5", "NaN", "1e999", "=1+1", '"',
          ";", ",", "\t", "|", "\n", "\r", "7i", "Driver", "Average", "[mph]", "", " ", "\u00a0", "\x00", "(", ")",
          "Date", "13/04/2026", "Player", "'", "sep=;", "\ufeff", "9" * 400, "٣", "½", "%", "°"]


def answer(data: bytes) -> None:
    """Take a file all the way; a refusal has to be a sentence."""
    try:
        table = read_table(data, filename="any")
        proposal = propose(table)
        parsed = parse(table, columns=proposal.columns, hand="left", club="7i")
        preview_rows(table, proposal.columns, hand="left")
    except ImportRefusal as refusal:
        assert len(str(refusal)) > 20
        assert str(refusal)[0].isupper() or str(refusal)[0] in "“"
        return
    assert parsed.balls + len(parsed.broken) == parsed.rows
    assert all(problem.expected for problem in parsed.problems)


@loose
@given(st.binary(max_size=400))
def test_any_bytes_end_in_rows_or_a_sentence(data: bytes) -> None:
    answer(data)


@loose
@given(st.lists(st.sampled_from(PIECES), max_size=60))
def test_any_mixture_of_the_pieces_of_tables_ends_in_rows_or_a_sentence(pieces: list[str]) -> None:
    answer("".join(pieces).encode("utf-8", "replace"))


@loose
@given(st.lists(st.sampled_from([piece for piece in PIECES if piece != '"']), max_size=60))
def test_the_way_for_big_files_ends_in_rows_or_a_sentence(pieces: list[str]) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reader, "FAST_FROM_ROWS", 0)
        answer("".join(pieces).encode())


def test_damaged_copies_of_real_files_end_in_rows_or_a_sentence() -> None:
    chance, end = random.Random(17), time.monotonic() + SECONDS
    tried = 0
    while time.monotonic() < end:
        data = bytearray(chance.choice(FILES).read_bytes())
        for _ in range(chance.randint(1, 6)):
            if not data:
                break
            place = chance.randrange(len(data))
            match chance.randrange(3):
                case 0:
                    data[place] = chance.randrange(256)
                case 1:
                    del data[place : place + chance.randint(1, 30)]
                case 2:
                    data[place:place] = bytes(chance.randrange(256) for _ in range(chance.randint(1, 8)))
        answer(bytes(data))
        tried += 1
    assert tried > 20
