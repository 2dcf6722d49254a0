"""Every sample file is read to the values written beside it. The values were worked out by hand from the
text of the file, with the exact factors of the international yard and foot."""

import json
from pathlib import Path

import numpy as np
import pytest

from lessons.imports import ColumnMatch, ImportRefusal, parse, propose, propose_blocks, read_table

FOLDER = Path(__file__).resolve().parents[3] / "fixtures" / "imports"
CASES = sorted(FOLDER.glob("*.expected.json"))


def names(path: Path) -> str:
    return path.name.removesuffix(".expected.json")


def read(case: Path):
    expected = json.loads(case.read_text(encoding="utf-8"))
    options = expected["options"]
    table = read_table((FOLDER / names(case)).read_bytes(), filename=names(case), decimal=options.pop("decimal", None))
    given = {key: ColumnMatch(heading=heading) for key, heading in expected.get("columns", {}).items()}
    proposal = propose(table, given=given or None)
    return expected, table, proposal, parse(table, columns=proposal.columns, **options)


def test_there_is_a_file_for_each_trap() -> None:
    assert len(CASES) >= 25
    assert {path.name for path in FOLDER.iterdir()} == {n for case in CASES for n in (case.name, names(case))}


@pytest.mark.parametrize("case", [c for c in CASES if '"refused"' not in c.read_text(encoding="utf-8")], ids=names)
def test_a_file_is_read_to_the_values_beside_it(case: Path) -> None:
    expected, table, proposal, parsed = read(case)
    for key, values in expected.get("stored", {}).items():
        wanted = np.array([np.nan if value is None else value for value in values])
        np.testing.assert_allclose(parsed.shots[key], wanted, rtol=1e-12, atol=1e-12, err_msg=key)
    assert parsed.lines.tolist() == expected["lines"]
    assert [{"row": p.row, "column": p.column} for p in parsed.problems] == expected.get("problems", [])
    assert sorted(parsed.broken) == sorted({problem["row"] for problem in expected.get("problems", [])})
    assert [skipped.row for skipped in table.skipped] == expected.get("skipped", [])
    assert [question.about for question in proposal.questions] == expected.get("asks", [])
    assert [question.about for question in parsed.questions] == expected.get("parse_asks", [])
    assert parsed.others == expected.get("others", {})


@pytest.mark.parametrize("case", [c for c in CASES if '"stored"' in c.read_text(encoding="utf-8")], ids=names)
def test_nothing_is_stored_that_is_not_in_the_file(case: Path) -> None:
    expected, _, _, parsed = read(case)
    if not expected.get("asks"):
        assert set(parsed.shots) == set(expected["stored"])


@pytest.mark.parametrize("case", [c for c in CASES if '"categories"' in c.read_text(encoding="utf-8")], ids=names)
def test_club_names_come_to_their_categories(case: Path) -> None:
    expected, _, _, parsed = read(case)
    assert list(parsed.categories) == expected["categories"]


@pytest.mark.parametrize("case", [c for c in CASES if '"when"' in c.read_text(encoding="utf-8")], ids=names)
def test_dates_are_read_in_one_order_for_the_file(case: Path) -> None:
    expected, _, _, parsed = read(case)
    if expected["when"] is None:
        assert parsed.when is None
    else:
        assert parsed.when.astype("datetime64[s]").astype(str).tolist() == expected["when"]


@pytest.mark.parametrize("case", [c for c in CASES if '"refused"' in c.read_text(encoding="utf-8")], ids=names)
def test_what_cannot_be_read_is_refused_with_a_sentence(case: Path) -> None:
    words = json.loads(case.read_text(encoding="utf-8"))["refused"]
    with pytest.raises(ImportRefusal) as refusal:
        read(case)
    assert words in str(refusal.value)
    assert str(refusal.value).endswith(".")


@pytest.mark.parametrize("case", [c for c in CASES if '"blocks"' in c.read_text(encoding="utf-8")], ids=names)
def test_another_club_or_a_long_pause_proposes_a_block(case: Path) -> None:
    expected, _, _, parsed = read(case)
    blocks = propose_blocks(parsed.clubs, parsed.categories, parsed.when)
    assert [[block.start, block.stop] for block in blocks] == expected["blocks"]
