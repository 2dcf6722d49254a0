"""A watched folder: every row once, whatever happens to the files and to the program."""

import os
import time
from io import BytesIO, StringIO

import pytest
from django.core.management import CommandError, call_command
from openpyxl import Workbook

from lessons.models import DataSource, Lesson, LiveBall, Shot, WatchedFile
from lessons.services import history
from lessons.services.watching import Watcher, take_file
from tests import factories

HEAD = b"Club,Club Path (deg),Carry (yd)\n"
COLUMNS = {
    "club": {"heading": "Club", "unit": None}, "club_path_deg": {"heading": "Club Path (deg)", "unit": "°"},
    "carry_m": {"heading": "Carry (yd)", "unit": "yd"},
}


@pytest.fixture
def source(academy):
    return DataSource.objects.create(name="Bay 3", columns=COLUMNS)


@pytest.fixture
def lesson(student, source):
    lesson = factories.make_lesson(student=student, device=source)
    factories.make_block(lesson=lesson)
    return lesson


@pytest.fixture
def watcher(tmp_path, source):
    said: list[str] = []
    watcher = Watcher(folder=tmp_path, source=source, say=said.append)
    watcher.said = said
    return watcher


def look(watcher) -> int:
    """Look twice: a file is read once it stood still between two looks."""
    return watcher.look() + watcher.look()


def workbook(*rows: tuple) -> bytes:
    """Write a workbook the way a device's program does."""
    book, kept = Workbook(), BytesIO()
    for row in (("Club", "Club Path (deg)", "Carry (yd)"), *rows):
        book.active.append(row)
    book.save(kept)
    return kept.getvalue()


def test_a_workbook_is_read_once_it_is_left_alone_and_again_when_it_is_longer(watcher, tmp_path, lesson):
    file = tmp_path / "day.xlsx"
    file.write_bytes(workbook(("Driver", 5.1, 210), ("Driver", 6.3, 221)))
    assert look(watcher) == 0, "it may be half written"
    os.utime(file, (time.time() - 60,) * 2)
    assert look(watcher) == 2
    file.write_bytes(workbook(("Driver", 5.1, 210), ("Driver", 6.3, 221), ("Driver", 4.8, 205)))
    os.utime(file, (time.time() - 30,) * 2)
    assert look(watcher) == 1 and look(watcher) == 0
    assert paths() == [5.1, 6.3, 4.8]


def paths() -> list[float]:
    return list(Shot.objects.order_by("pk").values_list("club_path_deg", flat=True))


def test_rows_go_into_the_lesson_as_they_are_written(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\n")
    assert look(watcher) == 1
    with file.open("ab") as more:
        more.write(b"Driver,6.3,221\nDriver,4.8,205\n")
    assert look(watcher) == 2
    assert look(watcher) == 0
    assert paths() == [5.1, 6.3, 4.8]
    assert Shot.objects.first().carry_m == pytest.approx(210 * 0.9144)  # international yard, exact since 1959
    assert watcher.said == [
        "day.csv: 1 ball into the lesson of Edda Marlow.", "day.csv: 2 balls into the lesson of Edda Marlow.",
    ]


def test_a_restart_doubles_nothing(watcher, tmp_path, lesson, source):
    (tmp_path / "day.csv").write_bytes(HEAD + b"Driver,5.1,210\nDriver,5.1,210\n")
    assert look(watcher) == 2
    assert look(Watcher(folder=tmp_path, source=source, say=print)) == 0
    assert paths() == [5.1, 5.1]


def test_two_balls_alike_are_two_balls(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\n")
    look(watcher)
    with file.open("ab") as more:
        more.write(b"Driver,5.0,209\n")
    assert look(watcher) == 1
    assert len(paths()) == 2


def test_a_half_written_row_waits_for_its_end(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\nDriver,6.")
    assert look(watcher) == 1
    with file.open("ab") as more:
        more.write(b"3,221\n")
    assert look(watcher) == 1
    assert paths() == [5.1, 6.3]


def test_a_last_row_without_an_end_counts_once_the_file_is_left_alone(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\nDriver,6.3,221")
    assert look(watcher) == 1
    old = time.time() - 60
    os.utime(file, (old, old))
    assert look(watcher) == 1
    assert paths() == [5.1, 6.3]


def test_an_average_below_the_balls_that_is_written_anew_doubles_nothing(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\nAverage,5.1,210\n")
    look(watcher)
    file.write_bytes(HEAD + b"Driver,5.1,210\nDriver,6.3,221\nAverage,5.7,215\n")
    assert look(watcher) == 1
    assert paths() == [5.1, 6.3]


def test_another_file_under_the_old_name_is_read_from_its_start(watcher, tmp_path, lesson):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\nDriver,6.3,221\n")
    look(watcher)
    file.write_bytes(HEAD + b"Driver,-1.5,180\nDriver,-2.5,181\nDriver,-3.5,182\n")
    assert look(watcher) == 3
    assert paths() == [5.1, 6.3, -1.5, -2.5, -3.5]


def test_between_lessons_rows_wait_in_the_inbox_once(watcher, tmp_path, source):
    file = tmp_path / "day.csv"
    file.write_bytes(HEAD + b"Driver,5.1,210\n7 iron,-2.0,150\n")
    assert look(watcher) == 2
    file.write_bytes(b"Club,Carry (yd),Club Path (deg)\n")
    file.write_bytes(b"# new title\n" + HEAD + b"Driver,5.1,210\n7 iron,-2.0,150\nDriver,4.4,200\n")
    assert look(watcher) == 1
    assert [(ball.category, ball.numbers["club_path_deg"]) for ball in LiveBall.objects.order_by("pk")] == [
        ("driver", 5.1), ("mid_iron", -2.0), ("driver", 4.4),
    ]


def test_what_came_is_one_change_of_the_lesson_and_can_be_taken_back(watcher, tmp_path, lesson, coach):
    (tmp_path / "day.csv").write_bytes(HEAD + b"Driver,5.1,210\n")
    look(watcher)
    assert str(history.undo_last(by=coach, lesson=lesson)) == "day.csv: 1 ball taken in"
    assert look(watcher) == 0


def test_headings_that_were_never_matched_are_said_once_and_nothing_is_stored(watcher, tmp_path, lesson):
    (tmp_path / "odd.csv").write_bytes(b"Alpha,Beta\n1,2\n3,4\n")
    assert look(watcher) + look(watcher) == 0
    assert len(watcher.said) == 1
    assert "Its headings are not those of Bay 3" in watcher.said[0]


def test_other_files_and_hidden_ones_are_left_alone(watcher, tmp_path, lesson):
    (tmp_path / "picture.png").write_bytes(b"\x89PNG")
    (tmp_path / ".day.csv").write_bytes(HEAD + b"Driver,5.1,210\n")
    assert look(watcher) == 0
    assert not watcher.said


def test_a_file_in_utf_16_grows_like_any_other(source, lesson):
    text = HEAD.decode() + "Driver,5.1,210\n"
    assert take_file(source=source, name="day.csv", data=text.encode("utf-16"))[0] == 1
    assert take_file(source=source, name="day.csv", data=(text + "Driver,6.3,221\n").encode("utf-16"))[0] == 1
    assert paths() == [5.1, 6.3]


def test_balls_and_how_far_was_read_are_stored_together_or_not_at_all(source, lesson, monkeypatch):
    def fail(*args, **kwargs):
        raise RuntimeError("power cut")

    monkeypatch.setattr(WatchedFile, "save", fail)
    with pytest.raises(RuntimeError):
        take_file(source=source, name="day.csv", data=HEAD + b"Driver,5.1,210\n")
    assert not Shot.objects.exists()


@pytest.mark.parametrize(("folder", "name", "sentence"), [
    ("missing", "Bay 3", "There is no folder"), (".", "Bay 9", "There is no source called “Bay 9”. Sources: Bay 3."),
])
def test_the_command_says_what_is_missing(tmp_path, source, folder, name, sentence):
    with pytest.raises(CommandError, match=sentence):
        call_command("watch", str(tmp_path / folder), "--source", name)


def test_the_command_prints_what_it_does(tmp_path, lesson):
    (tmp_path / "day.csv").write_bytes(HEAD + b"Driver,5.1,210\n")
    out = StringIO()
    call_command("watch", str(tmp_path), "--source", "Bay 3", "--once", "--every", "0.05", stdout=out)
    assert "1 ball into the lesson of Edda Marlow" in out.getvalue()
    assert Lesson.objects.get().device.name == "Bay 3"
