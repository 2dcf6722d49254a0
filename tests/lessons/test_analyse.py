"""The command ``analyse``: a file in, words or JSON out, no database, exit 2 with a sentence where it must ask."""

import json
import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import numpy as np
import pytest
from django.core.management import CommandError, call_command
from scipy import stats

ROOT = Path(__file__).resolve().parents[2]
IMPORTS = ROOT / "fixtures" / "imports"
HEAD = "Club,Club speed (mph),Club path (deg),Face angle (deg),Attack angle (deg),Carry (yd),Side (yd)"


def balls(*, club: str = "Driver", path: float = 7.0, face: float = 3.5, count: int = 12, sign: int = 1,
          seed: int = 4) -> list[str]:
    """Return rows of one club; ``sign`` −1 turns every direction round, as for a left-hander."""
    chance = np.random.default_rng(seed)
    lines = []
    for _ in range(count):
        p, f = chance.normal(path, 0.8), chance.normal(face, 0.6)
        lines.append(f"{club},{chance.normal(96, 1):.1f},{sign * p:.2f},{sign * f:.2f},{chance.normal(-1, 0.8):.2f},"
                     f"{chance.normal(225, 4):.1f},{sign * (f - p) * 3:.1f}")
    return lines


@pytest.fixture
def draw(tmp_path: Path) -> Path:
    path = tmp_path / "draw.csv"
    path.write_text("\n".join([HEAD, *balls()]))
    return path


def run(*args: object) -> str:
    out = StringIO()
    call_command("analyse", *map(str, args), stdout=out, stderr=StringIO())
    return out.getvalue()


def as_json(*args: object) -> dict:
    return json.loads(run(*args, "--json"))


def shell(*args: object, home: Path) -> subprocess.CompletedProcess:
    """Run the real command line, as a person does."""
    environment = {**os.environ, "HOLDFAST_HOME": str(home), "DJANGO_SETTINGS_MODULE": "academy.settings"}
    return subprocess.run([sys.executable, str(ROOT / "manage.py"), "analyse", *map(str, args)], capture_output=True,
                          text=True, env=environment, cwd=home, check=False)


def test_the_command_line_prints_json_and_leaves_no_database(draw: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    done = shell(draw, "--club", "driver", "--hand", "right", "--intent", "draw", "--aids", "none", "--level", "12",
                 "--json", home=home)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["file"]["balls"] == 12
    assert list(home.rglob("*.sqlite3")) == []


def test_the_json_has_exactly_the_documented_keys(draw: Path) -> None:
    found = as_json(draw, "--club", "driver", "--hand", "right", "--intent", "draw")
    assert set(found) == {"file", "blocks"}
    assert set(found["file"]) == {"rows", "balls", "columns", "problems"}
    block = found["blocks"][0]
    assert set(block) == {"club", "n", "numbers", "gate", "findings", "in_window", "watching", "needs", "warnings",
                          "notes", "considered"}
    assert all(set(number) == {"mean", "sd", "n", "interval95", "unit"} for number in block["numbers"].values())
    finding = block["findings"][0]
    assert set(finding) == {"pattern", "state", "evidence", "checks", "drills", "raised_by_setup", "title", "explain",
                            "caveat", "own_goal", "would_change", "warnings", "why_not"}
    assert all(set(check) == {"checkpoint", "window", "reason", "value", "then_check"} for check in finding["checks"])


def test_the_numbers_are_those_of_the_file(draw: Path) -> None:
    found = as_json(draw, "--club", "driver", "--hand", "right", "--intent", "draw")
    column = [float(line.split(",")[5]) * 0.9144 for line in balls()]
    carry = found["blocks"][0]["numbers"]["carry_m"]
    low, high = stats.t.interval(0.95, len(column) - 1, loc=np.mean(column), scale=stats.sem(column))
    assert carry["mean"] == pytest.approx(np.mean(column))
    assert carry["sd"] == pytest.approx(np.std(column, ddof=1))
    assert carry["interval95"] == pytest.approx([low, high])
    assert (carry["n"], carry["unit"]) == (12, "m")
    assert found["file"]["columns"]["carry_m"] == "Carry (yd)"


def test_a_path_too_far_out_with_a_closing_face_is_found_with_checks_and_drills(draw: Path) -> None:
    block = as_json(draw, "--club", "driver", "--hand", "right", "--intent", "draw")["blocks"][0]
    finding = block["findings"][0]
    assert (block["club"], finding["pattern"], finding["state"]) == ("driver", "over_draw", "supported")
    assert 1 <= len(finding["checks"]) <= 3
    assert finding["drills"]
    assert all(line["sentence"] for line in finding["evidence"])


def test_a_left_handers_mirror_image_gives_the_same_findings(draw: Path, tmp_path: Path) -> None:
    mirrored = tmp_path / "left.csv"
    mirrored.write_text("\n".join([HEAD, *balls(sign=-1)]))
    right = as_json(draw, "--club", "driver", "--hand", "right", "--intent", "draw")["blocks"][0]
    left = as_json(mirrored, "--club", "driver", "--hand", "left", "--intent", "draw")["blocks"][0]
    assert left["numbers"] == right["numbers"]
    assert [(f["pattern"], f["state"], [c["checkpoint"] for c in f["checks"]]) for f in left["findings"]] == [
        (f["pattern"], f["state"], [c["checkpoint"] for c in f["checks"]]) for f in right["findings"]]


def test_a_file_in_the_players_own_signs_is_not_mirrored(draw: Path) -> None:
    right = as_json(draw, "--club", "driver", "--hand", "right", "--intent", "draw")["blocks"][0]
    own = as_json(draw, "--club", "driver", "--hand", "left", "--intent", "draw", "--file-sign", "player")
    left = own["blocks"][0]
    assert left["numbers"] == right["numbers"]
    wrong = as_json(draw, "--club", "driver", "--hand", "left", "--intent", "draw")["blocks"][0]
    assert wrong["numbers"]["club_path_deg"]["mean"] == -right["numbers"]["club_path_deg"]["mean"]


def test_each_club_of_the_file_is_a_block_and_club_fills_only_what_is_not_named(tmp_path: Path) -> None:
    path = tmp_path / "two.csv"
    path.write_text("\n".join([HEAD, *balls(), *balls(club="7i", path=1.5, face=0.7), *balls(club="", count=3),
                               *balls(club="7 Iron", count=2)]))
    found = as_json(path, "--club", "driver", "--hand", "right", "--intent", "draw")
    assert [(block["club"], block["n"]) for block in found["blocks"]] == [("driver", 15), ("mid_iron", 14)]
    only = as_json(path, "--club", "7i", "--hand", "right", "--intent", "draw", "--only-club")
    assert [block["club"] for block in only["blocks"]] == ["mid_iron"]
    path.write_text("\n".join([HEAD, *balls(), *balls(club="7i")]))
    with pytest.raises(CommandError, match="no balls with PW; it has Driver"):
        run(path, "--club", "PW", "--hand", "right", "--intent", "draw", "--only-club")


def test_too_few_balls_are_said_instead_of_judged(tmp_path: Path) -> None:
    path = tmp_path / "few.csv"
    path.write_text("\n".join([HEAD, *balls(count=1)]))
    args = (path, "--hand", "right", "--intent", "straight")
    block = as_json(*args)["blocks"][0]
    assert block["findings"] == []
    assert "more before" in block["needs"][0]
    assert block["numbers"]["carry_m"]["sd"] is None
    assert block["numbers"]["carry_m"]["interval95"] is None
    said = run(*args)
    assert "Not enough balls yet." in said
    assert "Numbers" not in said


def test_the_words_begin_with_the_finding_and_end_with_how_the_file_was_read(draw: Path) -> None:
    said = run(draw, "--club", "driver", "--hand", "left", "--intent", "draw", "--file-sign", "player",
               "--aids", "sticks")
    assert said.index("Supported:") < said.index("Look first:") < said.index("Drills:") < said.index("Numbers")
    assert "12 balls read of 12 rows, left-handed, intent draw, aids: sticks." in said
    assert "“Carry (yd)” means carry, in yd" in said
    assert "+ is the slice side, left of the target for this player" in said


def test_problems_are_listed_and_good_rows_survive(tmp_path: Path) -> None:
    path = tmp_path / "mixed.csv"
    lines = balls()
    lines[3] = "Driver,96.1,seven,3.4,-1.0,225.0,-10"
    path.write_text("\n".join([HEAD, *lines]))
    found = as_json(path, "--hand", "right", "--intent", "draw")
    assert (found["file"]["rows"], found["file"]["balls"]) == (12, 11)
    problem = found["file"]["problems"][0]
    assert (problem["row"], problem["column"], problem["text"]) == (5, "Club path (deg)", "seven")
    assert "Row 5, Club path (deg): found “seven”" in run(path, "--hand", "right", "--intent", "draw")


def test_a_column_map_decides_what_the_headings_leave_open(tmp_path: Path) -> None:
    path, chart = tmp_path / "speed.csv", tmp_path / "map.json"
    path.write_text("Speed,Path,Reach\n96,5.0,225\n97,6.0,226\n95,5.5,224\n")
    args = ("--club", "driver", "--hand", "right", "--intent", "draw")
    with pytest.raises(CommandError, match="“Speed” could be club speed or ball speed") as refusal:
        run(path, *args)
    assert refusal.value.returncode == 2
    chart.write_text(json.dumps({"club_speed_mps": {"heading": "Speed", "unit": "mph"}, "club_path_deg": "Path",
                                 "carry_m": {"heading": "Reach", "unit": "Yards"}}))
    found = as_json(path, *args, "--columns", chart)
    assert found["file"]["columns"] == {"club_speed_mps": "Speed", "club_path_deg": "Path", "carry_m": "Reach"}
    assert found["blocks"][0]["numbers"]["carry_m"]["mean"] == pytest.approx(225 * 0.9144)


@pytest.mark.parametrize(("content", "said"), [
    ('{"carry": "Reach"}', "“carry” in the column map is no field"),
    ("[1]", "must be an object"), ("{", "is not JSON"),
    ('{"carry_m": "Distance"}', "The file has no column “Distance”"),
    ('{"carry_m": {"heading": "Reach", "unit": "mph"}}', "is not a unit of distance"),
    ('{"carry_m": "Reach", "total_m": "Reach"}', "to two fields"), ('{"carry_m": 5}', "must be a heading")])
def test_a_column_map_that_does_not_fit_is_refused_with_a_sentence(tmp_path: Path, content: str, said: str) -> None:
    path, chart = tmp_path / "x.csv", tmp_path / "map.json"
    path.write_text("Reach\n225\n226\n")
    chart.write_text(content)
    with pytest.raises(CommandError, match=said) as refusal:
        run(path, "--club", "driver", "--hand", "right", "--intent", "draw", "--columns", chart)
    assert refusal.value.returncode == 2


@pytest.mark.parametrize(("name", "said"), [
    ("duplicate_headings.csv", "could each be carry"), ("binary.csv", "This is not text"),
    ("empty.csv", "The file is empty"),
    ("no_units_open.csv", "say which of yd, m"), ("several_players_unsaid.csv", "several players"),
    ("decimal_open.csv", "--decimal"), ("headings_only.csv", "no balls"), ("missing.csv", "cannot be opened")])
def test_what_is_ambiguous_or_unreadable_ends_with_2_and_a_sentence_on_standard_error(
        tmp_path: Path, name: str, said: str) -> None:
    done = shell(IMPORTS / name, "--club", "7i", "--hand", "right", "--intent", "straight", "--json", home=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_open_answers_can_be_given_as_options() -> None:
    known = ("--hand", "right", "--intent", "straight")
    found = as_json(IMPORTS / "decimal_open.csv", "--club", "7i", *known, "--decimal", ".")
    assert found["blocks"][0]["numbers"]["spin_rpm"]["mean"] == pytest.approx((2650 + 2981) / 2)
    chosen = as_json(IMPORTS / "several_players_unsaid.csv", *known, "--player", "tom")
    assert chosen["file"]["balls"] == 1


def test_a_file_without_clubs_needs_the_option(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_text("Carry (m)\n140\n141\n")
    with pytest.raises(CommandError, match="say which club"):
        run(path, "--hand", "right", "--intent", "straight")
    with pytest.raises(CommandError, match="“trowel” is no club"):
        run(path, "--club", "trowel", "--hand", "right", "--intent", "straight")


@pytest.mark.parametrize("level", ["99", "good"])
def test_a_level_that_is_none_is_refused(draw: Path, level: str) -> None:
    with pytest.raises(CommandError, match="handicap index"):
        run(draw, "--hand", "right", "--intent", "draw", "--level", level)
