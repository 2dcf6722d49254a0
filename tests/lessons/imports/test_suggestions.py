"""Columns and units are proposed with a score and a reason, and what is open is asked."""

import json

import pytest

from lessons.imports import (
    ROLES,
    ColumnMatch,
    KnownSource,
    as_mapping,
    columns_from_json,
    fingerprint,
    preview_rows,
    propose,
    read_table,
    recognise,
    suggest,
)
from lessons.imports.columns import match_headings
from lessons.imports.words import FIELD_WORDS, FOOTER_WORDS, OPEN_WORDS, ROLE_WORDS, plain_words
from metrics.fields import FIELDS


def table(text: str):
    return read_table(text.encode(), filename="x.csv")


def test_every_field_and_role_has_words_of_the_trade() -> None:
    assert set(FIELD_WORDS) == set(FIELDS)
    assert set(ROLE_WORDS) == set(ROLES)


def test_the_words_stand_in_the_form_in_which_they_are_looked_up_and_mean_one_thing() -> None:
    phrases = [p for words in (*FIELD_WORDS.values(), *ROLE_WORDS.values(), tuple(OPEN_WORDS)) for p in words]
    assert [p for p in (*phrases, *FOOTER_WORDS) if plain_words(p) != p] == []
    assert sorted({p for p in phrases if phrases.count(p) > 1}) == []


@pytest.mark.parametrize(("heading", "field"), [
    ("Club Speed (mph)", "club_speed_mps"), ("BALL_SPEED", "ball_speed_mps"),
    ("Angle of attack [deg]", "attack_angle_deg"),
    ("Schlägerkopfgeschwindigkeit", "club_speed_mps"), ("Vitesse de balle (km/h)", "ball_speed_mps"),
    ("Ángulo de ataque", "attack_angle_deg"), ("Velocità palla", "ball_speed_mps"),
    ("Bollhastighet", "ball_speed_mps"),
    ("Balsnelheid", "ball_speed_mps"), ("Velocidade do taco", "club_speed_mps"), ("打ち出し角", "launch_angle_deg"),
    ("클럽 스피드", "club_speed_mps"), ("Écart latéral", "side_m"), ("face_to_path_deg", "face_to_path_deg"),
    ("Total Spin", "spin_rpm"), ("Total Distance", "total_m"), ("Hang Time", "flight_time_s"), ("Shot Date", "date")])
def test_a_heading_in_any_of_the_languages_finds_its_field(heading: str, field: str) -> None:
    matches, questions = match_headings([heading])
    assert list(matches) == [field]
    assert questions == []
    assert matches[field].score >= 0.8
    assert heading in matches[field].why


@pytest.mark.parametrize("heading", ["Side Spin", "Carry Std Dev", "Swing Plane", "Curve", "Avg Carry", "Ball", "Loft",
                                     "Total Side Spin", "Carry (mph)", "Notes", "#"])
def test_a_heading_that_only_resembles_a_field_is_left_alone(heading: str) -> None:
    assert match_headings([heading]) == ({}, [])


def test_a_heading_that_fits_two_fields_is_asked_about_unless_both_have_better_ones() -> None:
    matches, questions = match_headings(["Speed", "Club path"])
    assert list(matches) == ["club_path_deg"]
    assert [q.about for q in questions] == ["Speed"]
    assert "club speed or ball speed" in questions[0].sentence
    assert match_headings(["Speed", "Club Speed", "Ball Speed"])[1] == []


def test_two_headings_for_one_field_are_asked_about() -> None:
    matches, questions = match_headings(["Carry", "Carry distance"])
    assert matches == {}
    assert questions[0].choices == ("Carry", "Carry distance")


def test_a_weaker_name_stands_back_behind_the_right_one() -> None:
    assert match_headings(["Backspin", "Spin rate"])[0]["spin_rpm"].heading == "Spin rate"
    alone = match_headings(["Backspin"])[0]["spin_rpm"]
    assert alone.score < 0.7
    assert "leave a part of it out" in alone.why


@pytest.mark.parametrize(("speed", "carry", "units"), [(41, 194, ("m/s", "m")), (148, 196, ("km/h", "m"))])
def test_units_are_proposed_where_only_one_reading_fits_a_ball(speed: float, carry: float, units) -> None:
    found = propose(table(f"Club Speed,Carry\n{speed},{carry}\n{speed + 1},{carry + 3}\n"))
    assert found.questions == ()
    assert (found.matches["club_speed_mps"].unit, found.matches["carry_m"].unit) == units
    assert "no unit stated" in found.matches["carry_m"].why


def test_yards_and_metres_beside_miles_per_hour_are_asked_about() -> None:
    found = propose(table("Club Speed,Carry\n92,212\n93,215\n"))
    assert found.matches["club_speed_mps"].unit == "mph"
    assert [(q.about, q.choices) for q in found.questions] == [("carry_m", ("yd", "m"))]


def test_a_stated_unit_speaks_for_its_neighbours() -> None:
    found = propose(table("Carry (yd),Total,Side,Apex\n212,230,-5,90\n215,233,2,88\n"))
    assert found.questions == ()
    assert [found.matches[key].unit for key in ("carry_m", "total_m", "side_m", "apex_m")] == ["yd", "yd", "yd", "ft"]


def test_numbers_that_no_ball_can_have_in_any_unit_are_asked_about() -> None:
    found = propose(table("Club Speed,Carry\n5000,9000\n5100,9100\n"))
    assert {q.about for q in found.questions} == {"club_speed_mps", "carry_m"}


def test_low_point_without_a_unit_is_asked_about() -> None:
    assert [q.about for q in propose(table("Club,Low Point\n7i,1.5\n7i,2.0\n")).questions] == ["low_point_cm"]


def test_suggest_is_the_matches_of_the_proposal() -> None:
    read = table("Club,Carry (m),Shot\n7i,140,1\n7i,141,2\n")
    assert suggest(read) == propose(read).matches
    assert propose(read).unmatched == ("Shot",)


def test_the_preview_shows_the_raw_text_beside_the_value() -> None:
    read = table("Club,Side (yd),Carry (yd)\n7i,12.3 L,150\n7i,R 4,long\n7i,1,152\n7i,1,153\n")
    rows = preview_rows(read, propose(read).columns, hand="left")
    assert [row.row for row in rows] == [2, 3, 4]
    side, carry = rows[0].cells[1], rows[0].cells[0]
    assert (side.text, side.value, side.unit) == ("12.3 L", pytest.approx(12.3 * 0.9144), "m")
    assert carry.value == pytest.approx(150 * 0.9144)
    assert rows[1].cells[0].value is None
    assert "a number like" in rows[1].cells[0].expected


def test_a_source_is_known_again_by_its_headings() -> None:
    first = table("Club,Carry (yd),Path\n7i,150,1\n")
    known = KnownSource(key="bay 4", fingerprint=fingerprint(first), columns={
        "carry_m": ColumnMatch(heading="Carry (yd)", unit="yd"),
        "club_path_deg": ColumnMatch(heading="Path", unit="°")})
    again = recognise(table("club;PATH;carry (yd)\n7i;1;150\n"), [known])
    assert again.exact
    assert again.columns["club_path_deg"].heading == "PATH"
    changed = recognise(table("Club,Carry (yd),Path,Smash\n7i,150,1,1.3\n"), [known])
    assert not changed.exact
    assert changed.new == ("Club", "Smash")
    assert recognise(table("Tee,Time (s)\n1,2\n"), [known]) is None


def test_a_match_survives_json() -> None:
    columns = {"carry_m": ColumnMatch(heading="Carry (yd)", unit="yd"), "club": ColumnMatch(heading="Club")}
    assert columns_from_json(json.loads(json.dumps(as_mapping(columns)))) == columns
