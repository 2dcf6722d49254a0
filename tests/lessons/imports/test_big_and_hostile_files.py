"""Many rows, too many bytes, archives that blow up: read column by column, or refused with a sentence."""

import io
import subprocess
import sys
import zipfile

import numpy as np
import openpyxl
import pytest

from lessons.imports import AmbiguousFile, UnreadableFile, parse, propose, read_table, structure, workbook
from lessons.imports.table import Frame


def rows(count: int) -> list[str]:
    chance = np.random.default_rng(3)
    numbers = chance.normal([150.0, 6500.0, 1.0], [8, 300, 2], (count, 3)).round(2)
    return [f"7i,{a},{b},{c}" for a, b, c in numbers.tolist()]


HEAD = "Club,Carry (m),Spin (rpm),Club path (deg)"


def read(lines: list[str], hand: str = "right"):
    table = read_table("\n".join([HEAD, *lines]).encode(), filename="big.csv")
    return table, parse(table, columns=propose(table).columns, hand=hand)


def test_a_file_of_many_rows_is_converted_by_columns_and_keeps_its_raw_lines() -> None:
    lines = rows(5000)
    table, parsed = read(lines)
    assert isinstance(table.cells, Frame)
    assert parsed.balls == 5000
    assert parsed.raw[4321] == lines[4321]
    assert parsed.lines[4321] == 4323
    assert parsed.shots["carry_m"][4321] == float(lines[4321].split(",")[1])


def test_the_traps_of_small_files_are_seen_in_big_ones_too() -> None:
    lines = rows(5000)
    lines[100] = "7i,\u2212150.0,6500,1"
    lines[2000] = "7i,150,6500,1,77"
    lines[2500] = "7i,150,6500"
    lines[2600] = "7i,150,6500,2.5 L"
    lines[2700] = "Average,150,6500,1"
    lines[2800] = "7i,Infinity,6500,1"
    lines[2900] = "7i,,6500,1"
    lines[3000] = ""
    lines += ["Average,150,6500,1", "Exported today"]
    table, parsed = read(lines)
    assert [problem.row for problem in parsed.problems] == [102, 2002, 2502, 2802]
    assert sorted(skipped.row for skipped in table.skipped) == [2702, 5002, 5003]
    at = {int(line): index for index, line in enumerate(parsed.lines)}
    assert parsed.shots["club_path_deg"][at[2602]] == -2.5
    assert np.isnan(parsed.shots["carry_m"][at[2902]])
    assert parsed.balls == 5000 - 6
    assert 3002 not in at


def test_decimal_commas_in_a_big_file_are_not_thousands() -> None:
    lines = [line.replace(",", ";").replace(".", ",") for line in rows(3000)]
    lines[1500] = "7i;1.450;6500,5;1,0"
    lines[1600] = "7i;145.2;6500,5;1,0"
    table = read_table("\n".join([HEAD.replace(",", ";"), *lines]).encode(), filename="big.csv")
    parsed = parse(table, columns=propose(table).columns, hand="right")
    assert [(p.row, p.text) for p in parsed.problems] == [(1502, "1.450"), (1602, "145.2")]
    assert "between 0 and 350 m" in parsed.problems[0].expected
    assert "decimal mark" in parsed.problems[1].expected


def test_a_small_file_is_read_without_loading_pandas() -> None:
    code = ("import sys; from lessons.imports import read_table, propose; "
            "propose(read_table(b'Club,Carry (m)\\n7i,140.5\\n', filename='x')); print('pandas' in sys.modules)")
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"


def test_too_many_bytes_and_too_many_columns_are_refused() -> None:
    with pytest.raises(UnreadableFile, match="at most 0 MB"):
        read_table(b"Club,Carry (m)\n7i,140\n", filename="x.csv", max_bytes=10)
    wide = ",".join(f"Column {place}" for place in range(1000))
    with pytest.raises(UnreadableFile, match="1000 columns"):
        read_table(f"{wide}\n{wide}\n1{',1' * 999}\n".encode(), filename="x.csv")


def book(**sheets: list[list]) -> bytes:
    made = openpyxl.Workbook()
    made.remove(made.active)
    for title, lines in sheets.items():
        page = made.create_sheet(title)
        for line in lines:
            page.append(line)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


BALLS = [["Club", "Carry (yd)"], ["7i", 150.5], ["7i", 151.0]]


def test_the_sheet_with_the_headings_of_the_trade_is_read() -> None:
    table = read_table(book(Cover=[["Hello"], ["you"]], Balls=BALLS), filename="x.xlsx")
    assert table.rows == 2
    assert "not read: Cover" in table.notes[0]


def test_two_sheets_of_balls_are_asked_about_and_can_be_chosen() -> None:
    data = book(Monday=BALLS, Tuesday=[*BALLS, ["7i", 149]])
    with pytest.raises(AmbiguousFile, match="Monday, Tuesday"):
        read_table(data, filename="x.xlsx")
    assert read_table(data, filename="x.xlsx", sheet="Tuesday").rows == 3
    with pytest.raises(UnreadableFile, match="no filled sheet “Friday”"):
        read_table(data, filename="x.xlsx", sheet="Friday")


def test_an_archive_that_would_blow_up_is_not_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "x")
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * 60_000_000)
    opened = []
    monkeypatch.setattr(openpyxl, "load_workbook", lambda *a, **k: opened.append(1))
    with pytest.raises(UnreadableFile, match="would unpack to 60 MB"):
        read_table(out.getvalue(), filename="x.xlsx")
    assert opened == []


def test_other_archives_and_torn_workbooks_are_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("balls.csv", "Club,Carry\n")
    with pytest.raises(UnreadableFile, match="an archive, not an .xlsx workbook"):
        read_table(out.getvalue(), filename="x.zip")
    with pytest.raises(UnreadableFile, match="damaged"):
        read_table(book(Balls=BALLS)[:2000], filename="x.xlsx")
    with pytest.raises(UnreadableFile, match="no sheet with anything"):
        read_table(book(Empty=[]), filename="x.xlsx")


def test_a_workbook_with_too_many_rows_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "MAX_ROWS", 2)
    with pytest.raises(UnreadableFile, match="more than 2 rows"):
        read_table(book(Balls=BALLS), filename="x.xlsx")


def test_a_workbook_that_claims_cells_without_end_is_refused_before_they_fill_the_memory(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(workbook, "MAX_CELLS", 60)
    claims = {
        "rows that begin far to the right": [*BALLS, *[[None] * 14 + [1]] * 4],
        "one wide row among many": [*BALLS, *[[1]] * 10, [None] * 14 + [1]],
        "many sheets": BALLS,
    }
    for name, lines in claims.items():
        sheets = 11 if name == "many sheets" else 1
        with pytest.raises(UnreadableFile, match="more than 60 cells"):
            read_table(book(**{f"S{place}": lines for place in range(sheets)}), filename="x.xlsx")


def test_rows_that_are_not_there_count_as_well(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "MAX_CELLS", 60)
    made = openpyxl.Workbook()
    made.active.cell(row=100, column=1, value=1)
    out = io.BytesIO()
    made.save(out)
    with pytest.raises(UnreadableFile, match="more than 60 cells"):
        read_table(out.getvalue(), filename="x.xlsx")


def test_a_row_of_fifty_thousand_names_is_refused_without_reading_them_all(monkeypatch: pytest.MonkeyPatch) -> None:
    read = []
    monkeypatch.setattr(structure, "known_word", lambda cell: bool(read.append(cell)))
    wide = ",".join(f"c{place}" for place in range(50_000))
    with pytest.raises(UnreadableFile, match="50000 columns"):
        read_table(f"{wide}\n1{',1' * 49_999}\n".encode(), filename="x.csv")
    assert len(set(read)) < 1000


@pytest.mark.parametrize("name", ["undefined", "punycode", "idna"])
def test_an_encoding_that_cannot_read_the_file_is_refused_with_a_sentence(name: str) -> None:
    with pytest.raises(UnreadableFile, match=f"not text in {name}"):
        read_table("Club,Carry (m)\n7i,140…\n".encode(), filename="x.csv", encoding=name)
