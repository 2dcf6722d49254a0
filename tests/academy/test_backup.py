"""Backup and restore, done for real in a data folder of their own by the commands themselves."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def migrated(tmp_path_factory):
    """A data folder with a migrated database that holds an academy and a media file."""
    home = tmp_path_factory.mktemp("migrated")
    run(home, "migrate", "-v0")
    database = home / "academy" / "holdfast.sqlite3"
    with sqlite3.connect(database) as connection:
        connection.execute(
            "INSERT INTO academy_academy (id, name, timezone, units, language, emergency_number, defibrillator_place,"
            " link_days, adult_age, is_demo, house_rules)"
            " VALUES (1, 'Saltmarsh', 'UTC', 'yards', 'en', '112', '', 180, 18, 0, '{}')"
        )
    connection.close()
    (home / "academy" / "media").mkdir()
    (home / "academy" / "media" / "swing.png").write_bytes(b"pretend picture")
    return home


@pytest.fixture
def home(migrated, tmp_path):
    """A copy of it for one test."""
    shutil.copytree(migrated, tmp_path, dirs_exist_ok=True)
    return tmp_path


def run(home: Path, *command: str, expect: int = 0) -> str:
    environment = {k: v for k, v in os.environ.items() if k not in {"DATABASE_URL", "HOLDFAST_DEMO"}}
    environment |= {"HOLDFAST_HOME": str(home), "DJANGO_SETTINGS_MODULE": "academy.settings"}
    done = subprocess.run(
        [sys.executable, "manage.py", *command], cwd=ROOT, env=environment, capture_output=True, text=True,
        check=False,
    )
    assert done.returncode == expect, done.stdout + done.stderr
    return done.stdout + done.stderr


def backup_file(home: Path) -> Path:
    run(home, "backup", str(home / "kept"))
    return next((home / "kept").glob("holdfast-*.zip"))


def tables(home: Path) -> dict:
    with sqlite3.connect(home / "academy" / "holdfast.sqlite3") as connection:
        names = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type='table'")]
        content = {name: connection.execute(f'SELECT * FROM "{name}"').fetchall() for name in sorted(names)}
    connection.close()
    return content


def test_a_restored_backup_has_every_row_of_every_table_and_every_file(home):
    before = tables(home)
    kept = backup_file(home)
    (home / "academy" / "holdfast.sqlite3").unlink()
    (home / "academy" / "media" / "swing.png").write_bytes(b"something else")
    said = run(home, "restore", str(kept))
    assert tables(home) == before
    assert (home / "academy" / "media" / "swing.png").read_bytes() == b"pretend picture"
    assert "The data from before lies in" in said


def test_restoring_sets_the_present_data_aside_instead_of_deleting_it(home):
    kept = backup_file(home)
    run(home, "restore", str(kept))
    aside = next((home / "academy").glob("set-aside-*"))
    assert (aside / "holdfast.sqlite3").exists()


def test_a_damaged_backup_is_refused_and_the_data_stays(home):
    kept = backup_file(home)
    broken = home / "broken.zip"
    content = bytearray(kept.read_bytes())
    content[len(content) // 3] ^= 0xFF
    broken.write_bytes(content)
    before = tables(home)
    said = run(home, "restore", str(broken), expect=1)
    assert "damaged" in said or "checksum" in said
    assert tables(home) == before


def test_a_file_that_is_no_backup_is_refused_with_a_sentence(home):
    other = home / "notes.txt"
    other.write_text("not a backup")
    assert "is not a backup of Holdfast" in run(home, "restore", str(other), expect=1)


def test_a_backup_of_a_newer_format_is_refused(home):
    kept = backup_file(home)
    newer = home / "newer.zip"
    with zipfile.ZipFile(kept) as source, zipfile.ZipFile(newer, "w") as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "manifest.json":
                data = json.dumps(json.loads(data) | {"format": 99}).encode()
            target.writestr(name, data)
    assert "newer version" in run(home, "restore", str(newer), expect=1)


def test_a_backup_that_reaches_outside_its_folder_is_refused(home):
    kept = backup_file(home)
    nasty = home / "nasty.zip"
    with zipfile.ZipFile(kept) as source, zipfile.ZipFile(nasty, "w") as target:
        for name in source.namelist():
            target.writestr(name, source.read(name))
        target.writestr("media/../../../escaped.txt", "out")
    assert "does not belong there" in run(home, "restore", str(nasty), expect=1)
    assert not (home.parent / "escaped.txt").exists()


def test_the_folder_never_shows_a_half_written_backup(home):
    kept = backup_file(home)
    assert [path.name for path in (home / "kept").iterdir()] == [kept.name]


SEALED = """
from pathlib import Path
from academy.backup import BackupError
from academy.backup_seal import seal_file
from academy.restoring import restore
sealed = seal_file(path=Path({path!r}), passphrase="a heron on the ninth green")
for words in ("a heron on the tenth green", "a heron on the ninth green"):
    try:
        print("restored", restore(path=sealed, passphrase=words) is not None)
    except BackupError as refused:
        print(refused)
"""


def test_a_sealed_backup_is_put_in_place_by_its_passphrase_alone(home):
    before = tables(home)
    sealed = SEALED.format(path=str(backup_file(home)))
    with sqlite3.connect(home / "academy" / "holdfast.sqlite3") as connection:
        connection.execute("UPDATE academy_academy SET name = 'Elsewhere'")
    connection.close()
    said = run(home, "shell", "-c", sealed)
    assert "The passphrase is not the one" in said and "restored True" in said
    assert tables(home) == before
