"""A database that the first released commit made comes to the newest form with every row it had."""

import json
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FIRST = ROOT / "fixtures" / "upgrade" / "first.sql"
OPEN_PHONE = ("k" * 32, "data of a student's open page", "2099-01-01 00:00:00")
KEPT_BY_DJANGO = ("django_", "auth_", "sqlite_", "axes_")
"""Tables that a migration may fill or rename as it likes: no record of anybody."""


def manage(home: Path, *command: str) -> str:
    environment = {k: v for k, v in os.environ.items() if k not in {"DATABASE_URL", "HOLDFAST_DEMO"}}
    environment |= {"HOLDFAST_HOME": str(home), "DJANGO_SETTINGS_MODULE": "academy.settings"}
    done = subprocess.run(
        [sys.executable, "manage.py", *command], cwd=ROOT, env=environment, capture_output=True, text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def records(database: Path) -> dict[str, dict[int, dict]]:
    """Return table -> row number -> column -> value of everything that is somebody's record."""
    with closing(sqlite3.connect(database)) as connection:
        connection.row_factory = sqlite3.Row
        names = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {
            name: {row[0]: dict(row) for row in connection.execute(f'SELECT * FROM "{name}"')}
            for name in names if not name.startswith(KEPT_BY_DJANGO)
        }


@pytest.fixture(scope="module")
def upgraded(tmp_path_factory):
    """The data folder before and after the upgrade: (home, records of the first release, records now)."""
    home = tmp_path_factory.mktemp("upgrade")
    database = home / "academy" / "holdfast.sqlite3"
    database.parent.mkdir()
    with closing(sqlite3.connect(database)) as connection:
        connection.executescript(FIRST.read_text())
        connection.execute("INSERT INTO django_session VALUES (?, ?, ?)", OPEN_PHONE)
        connection.commit()
    before = records(database)
    manage(home, "migrate", "-v0")
    return home, before, records(database)


def test_the_first_release_had_a_row_of_each_kind(upgraded):
    _, before, _ = upgraded
    empty = {name for name, rows in before.items() if not rows}
    assert empty == {"academy_coach_groups", "academy_coach_user_permissions", "academy_entrylink"}


def test_every_row_and_every_value_of_the_first_release_is_still_there(upgraded):
    _, before, after = upgraded
    for name, rows in before.items():
        for number, row in rows.items():
            now = after[name][number]
            assert {column: now[column] for column in row if column in now} == {
                column: value for column, value in row.items() if column in now
            }, f"{name}, row {number}"


def test_the_upgraded_database_passes_its_own_checks_and_can_be_read_whole(upgraded, tmp_path):
    home, before, _ = upgraded
    assert "checked" in manage(home, "backup", str(tmp_path))
    archive = tmp_path / "academy.json"
    manage(home, "export_archive", str(archive))
    counts = json.loads(archive.read_text())["counts"]
    assert counts["lessons.shot"] == len(before["lessons_shot"]) == 10
    assert counts["academy.student"] == 2


def test_a_student_s_open_page_stays_open(upgraded):
    home, *_ = upgraded
    with closing(sqlite3.connect(home / "academy" / "holdfast.sqlite3")) as connection:
        rows = connection.execute("SELECT session_key, session_data, expire_date FROM academy_session").fetchall()
    assert rows == [OPEN_PHONE]
