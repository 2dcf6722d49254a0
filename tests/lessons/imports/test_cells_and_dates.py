"""One cell at a time: numbers, directions, dates, club names."""

from datetime import datetime

import numpy as np
import pytest

from lessons.imports import AmbiguousFile, ColumnMatch, club_category, parse, read_table
from lessons.imports.dates import decide_order, parse_when
from lessons.imports.dialect import detect_decimal, detect_delimiter
from lessons.imports.numbers import NotANumber, parse_number, plain_column, quick_number


@pytest.mark.parametrize(("text", "mark", "value"), [
    ("12.5", ".", 12.5), ("\u221212,5", ",", -12.5), ("1\u202f234,5", ",", 1234.5), ("1.234.567", ",", 1234567.0),
    ("1'234.5", ".", 1234.5), ("1,234", ".", 1234.0), ("1.234", ",", 1234.0), ("+ 3", ".", 3.0), (".5", ".", 0.5),
    ("4.2°", ".", 4.2), ("\uff11\uff12", ".", 12.0), ("1e3", ".", 1000.0)])
def test_a_number_is_read_with_the_decimal_mark_of_its_file(text: str, mark: str, value: float) -> None:
    assert parse_number(text, decimal=mark) == value


@pytest.mark.parametrize("text", ["", " ", "-", "\u2013", "--", "n/a", "NA", "null", "\u00a0"])
def test_a_cell_that_says_nothing_is_no_number_and_no_problem(text: str) -> None:
    assert parse_number(text, decimal=".") is None


@pytest.mark.parametrize(("text", "mark", "said"), [
    ("145.2", ",", "decimal mark"), ("12,34", ".", "decimal mark"), ("inf", ".", "finite"), ("NaN", ".", "finite"),
    ("1e400", ".", "finite"), ("1_000", ".", "like 145.2"), ("0x1F", ".", "like 145.2"), ("=A1*2", ".", "formula"),
    ("3-4", ".", "like 145.2"), ("1 23", ".", "like 145.2"), ("1,23,456", ".", "decimal mark")])
def test_anything_else_is_refused_and_says_what_was_expected(text: str, mark: str, said: str) -> None:
    with pytest.raises(NotANumber, match=said):
        parse_number(text, decimal=mark)


@pytest.mark.parametrize(("cells", "delimiter", "answer"), [
    (["145,2"], ";", (",", False)), (["145.2"], ";", (".", False)), (["1.234,5"], ";", (",", False)),
    (["1,234.5"], ",", (".", False)), (["0,123"], "\t", (",", False)), (["2,650", "950"], ";", (".", False)),
    (["2.650", "950"], ";", (",", False)), (["2,650", "2,700"], ";", (".", True)), (["2,650"], ",", (".", False)),
    (["1.234.567"], "\t", (",", False)), (["03.04.2026"], ";", (".", False)), (["12", "7"], ";", (".", False)),
    (["145,2", "1.5", "3,2"], ";", (",", False))])
def test_the_decimal_mark_is_decided_for_the_file_or_left_open(cells, delimiter, answer) -> None:
    assert detect_decimal([cells], delimiter=delimiter) == answer


@pytest.mark.parametrize(("text", "delimiter"), [
    ("Club;Carry\n7i;145,2\n7i;146,1", ";"), ("Club,Carry\n7i,145.2", ","), ("Club\tCarry, flat\n7i\t145,2", "\t"),
    ("a|b\n1|2", "|"), ("Name;Carry\nLee, Ana;140,5\nLee, Ana;141,2", ";")])
def test_the_delimiter_is_the_mark_that_cuts_every_line_alike(text: str, delimiter: str) -> None:
    assert detect_delimiter(text.split("\n")) == delimiter


def test_one_column_of_decimal_commas_is_not_cut_in_two() -> None:
    table = read_table(b"Carry (m)\n145,2\n150,3\n", filename="one.csv")
    parsed = parse(table, columns={"carry_m": ColumnMatch(heading="Carry (m)", unit="m")}, hand="right", club="7i")
    assert parsed.shots["carry_m"].tolist() == [145.2, 150.3]


def test_a_quote_that_never_closes_does_not_swallow_the_file() -> None:
    rows = "\n".join(f'7i,{140 + i}.5,ok' for i in range(20))
    table = read_table(f'Club,Carry (m),Note\n7i,139.5,"open\n{rows}\n'.encode(), filename="open.csv")
    assert table.rows == 21


@pytest.mark.parametrize(("text", "order", "moment"), [
    ("03/04/2026", "dmy", datetime(2026, 4, 3)), ("03/04/2026", "mdy", datetime(2026, 3, 4)),
    ("2026-03-04T10:23:11.5Z", "dmy", datetime(2026, 3, 4, 10, 23, 11, 500000)),
    ("04-03-2026", "dmy", datetime(2026, 3, 4)), ("4. März 2026 9:05", "dmy", datetime(2026, 3, 4, 9, 5)),
    ("March 4, 2026 12:05 AM", "mdy", datetime(2026, 3, 4, 0, 5)), ("2026年3月4日", "dmy", datetime(2026, 3, 4)),
    ("31/02/2026", "dmy", None), ("13/04/2026", "mdy", None), ("2026-03-04 25:00", "ymd", None),
    ("soon", "dmy", None)])
def test_a_date_is_read_in_the_order_of_its_file(text: str, order: str, moment: datetime | None) -> None:
    assert parse_when(text, order=order) == moment


def test_the_order_of_a_date_is_decided_by_the_whole_file() -> None:
    assert decide_order(["03/04/2026", "13/04/2026"]) == "dmy"
    assert decide_order(["03/04/2026", "04/13/2026"]) == "mdy"
    assert decide_order(["03/04/2026", "05/06/2026"]) is None
    assert decide_order(["03.04.2026"]) == "dmy"
    assert decide_order(["2026-04-03", "4 March 2026"]) == "ymd"
    with pytest.raises(AmbiguousFile, match="do not agree"):
        decide_order(["13/04/2026", "04/13/2026"])


@pytest.mark.parametrize(("name", "category"), [
    ("Eisen 7", "mid_iron"), ("7番アイアン", "mid_iron"), ("Bois 3", "fairway"), ("Holz 5", "fairway"),
    ("Fer 9", "short_iron"),
    ("ドライバー", "driver"), ("PW", "wedge_full"), ("Hybride", "hybrid_long_iron"), ("Hierro 4", "hybrid_long_iron"),
    ("järn 8", "short_iron"), ("trowel", None), ("", None), ("7", "mid_iron")])
def test_clubs_are_known_by_what_people_call_them(name: str, category: str | None) -> None:
    assert club_category(name, names={}) == category


def test_a_sign_and_a_direction_together_are_refused() -> None:
    table = read_table(b"Side (m)\n-3 L\n3 L\n", filename="x.csv")
    parsed = parse(table, columns={"side_m": ColumnMatch(heading="Side (m)", unit="m")}, hand="right", club="7i")
    assert parsed.shots["side_m"].tolist() == [-3.0]
    assert parsed.problems[0].row == 2
    assert "either a sign or a direction" in parsed.problems[0].sentence()


def test_a_numeric_club_column_is_read_as_names() -> None:
    data = "Club,Carry (m)\n" + "7,140.5\n8,130.5\n" * 1500
    parsed = parse(read_table(data.encode(), filename="big.csv"), columns={
        "club": ColumnMatch(heading="Club"), "carry_m": ColumnMatch(heading="Carry (m)", unit="m")}, hand="right")
    assert parsed.balls == 3000
    assert parsed.categories[:2] == ["mid_iron", "short_iron"]
    assert np.isclose(parsed.shots["carry_m"].mean(), 135.5)


@pytest.mark.parametrize("mark", [".", ","])
@pytest.mark.parametrize("odd", [
    "", "nan", "inf", "1e400", "1_0", "0x1", "1.5", "1,5", "1e5", "-3", "+3", " 4", "\uff11", "--1", "1e", ".", "5 m",
])
def test_a_plain_column_is_read_as_its_cells_are_one_by_one(odd: str, mark: str) -> None:
    cells = ["7", odd, "-2"]
    try:
        singly = [quick_number(cell, decimal=mark) for cell in cells]
    except ValueError:
        singly = None
    together = plain_column(cells, decimal=mark)
    assert together is None or together == singly
    assert together is not None or singly is None or odd in ("", " 4", "\uff11")
