"""What the command ``analyse`` is told beside the balls: read strictly, refused with a sentence."""

import json

import pytest
from django.core.management import CommandError, call_command

from lessons.analyse.beside import read_beside
from lessons.imports import UnreadableFile
from metrics.rules.types import BallCall, Health


@pytest.fixture
def said(tmp_path):
    def write(content: object) -> object:
        path = tmp_path / "beside.json"
        path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
        return path
    return write


def test_sides_are_said_as_right_and_left_and_turned_for_a_left_hander(said):
    path = said({"calls": [{"start": "right", "curve": "hard left", "contact": "thin"}, {}]})
    assert read_beside(path, hand="right").calls == (BallCall(start=1, curve=-2, contact="thin"), BallCall())
    assert read_beside(path, hand="left").calls == (BallCall(start=-1, curve=2, contact="thin"), BallCall())


def test_health_setup_and_usual_values_reach_the_rules(said):
    known = read_beside(said({"pain": 5, "sore": ["low_back"], "setup": {"feet_deg": 7}, "usual": {"carry_m": 140}}),
                        hand="right").known
    assert known["health"] == Health(max_pain=5, areas=("low_back",))
    assert (known["setup"], known["own_medians"]) == ({"feet_deg": 7}, {"carry_m": 140})


@pytest.mark.parametrize(("content", "words"), [
    ({"feet": 7}, "'feet' is not a known key"), ({"setup": {"feet": 7}}, "'feet' is not a known key"),
    ({"setup": {"feet_deg": "7"}}, "'feet_deg' is '7'; expected a number"),
    ({"calls": [{"start": "sideways"}]}, "'start' is 'sideways'; expected one of 'line'"),
    ({"calls": [{"contact": "perfect"}]}, "'contact' is 'perfect'"), ("{", "is not JSON"),
    ([1], "expected an object"), ({"moved": {"checkpoint": "feet_deg", "before": 1}}, "'after' is nothing"),
])
def test_what_is_not_understood_is_refused_with_where_and_what(said, content, words):
    with pytest.raises(UnreadableFile, match=words):
        read_beside(said(content), hand="right")


def test_without_a_file_the_club_and_the_calls_are_asked_for(said):
    with pytest.raises(CommandError, match="--club and calls in --beside are needed") as refusal:
        call_command("analyse", "--hand", "right", "--intent", "straight")
    assert refusal.value.returncode == 2


def test_called_balls_of_a_file_with_two_clubs_are_asked_about(said, tmp_path):
    balls = tmp_path / "two.csv"
    balls.write_text("Club,Carry (m)\nDriver,200\n7i,140\n")
    with pytest.raises(CommandError, match="say it with --only-club"):
        call_command("analyse", str(balls), "--hand", "right", "--intent", "straight", "--beside",
                     str(said({"calls": [{"contact": "thin"}]})))


def test_the_words_of_called_balls_have_no_numbers_and_no_file(said, capsys):
    path = said({"calls": [{"start": "right", "curve": "left"}] * 8})
    call_command("analyse", "--club", "driver", "--hand", "right", "--intent", "straight", "--beside", str(path))
    text = capsys.readouterr().out
    assert text.startswith("8 balls called by eye, right-handed") and "8 of 8 called" in text
    assert "Numbers (" not in text and "How the file was read" not in text


def test_pain_is_the_first_and_only_thing_said(said, tmp_path, capsys):
    balls = tmp_path / "balls.csv"
    balls.write_text("Club path (deg)\n" + "7.0\n" * 10)
    call_command("analyse", str(balls), "--club", "driver", "--hand", "right", "--intent", "straight", "--beside",
                 str(said({"pain": 6})))
    text = capsys.readouterr().out
    assert "not medical advice" in text and "What can be done instead: Putting" in text and "averaged" not in text
