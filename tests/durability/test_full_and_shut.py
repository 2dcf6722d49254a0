"""A full disk, a folder that cannot be written, two servers on one database, a clock that goes back."""

import os
import re
import resource
from datetime import UTC, datetime

import pytest
import time_machine

from academy import backup
from tests.durability.bench import WRITE

SHUT = """
import os, pathlib, academy.trouble
db.connection.close()
for path in (pathlib.Path({folder!r}), *pathlib.Path({folder!r}).rglob("*")):
    os.chmod(path, 0o555 if path.is_dir() else 0o444)
for above in pathlib.Path({folder!r}).parents[:-2]:
    os.chmod(above, 0o755)
os.setgid(65534)
os.setuid(65534)
"""
"""Shuts the folder and becomes nobody, after everything was imported: root may write anywhere."""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="limits of files and users are set the POSIX way")


def files_no_longer_than(size: int):
    """Return what a new process does first: no file may grow beyond this size, as on a disk that is full."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def heard(process) -> tuple[int, str]:
    """Return how many commits were acknowledged, and the sentence that came instead of the next."""
    out, wrong = process.communicate()
    assert "SAID" in out, out + wrong
    return out.count("stored\n"), re.search("SAID (.*)", out)[1]


def test_a_full_disk_loses_nothing_that_was_stored_and_says_so(place, tell):
    size = place.database.stat().st_size
    acknowledged, said = heard(place.script(WRITE.format(count=5000), preexec_fn=files_no_longer_than(size + 65536)))
    place.whole()
    assert place.balls() == acknowledged > 0
    assert said.startswith("The disk is full.") or said.startswith("The database does not answer."), said
    assert "Nothing of this was stored" in said
    more = place.script(WRITE.format(count=5)).communicate()[0].count("stored\n")
    assert place.balls() == acknowledged + more and more == 5
    tell(f"disk full: {acknowledged} commits, 0 lost, 5 more once there was room")


def test_a_backup_on_a_full_disk_leaves_no_file_and_says_so(place):
    process = place.start("backup", str(place.home / "kept"), preexec_fn=files_no_longer_than(20_000))
    out, wrong = process.communicate()
    assert process.returncode == 1 and "The backup could not be written" in wrong, out + wrong
    assert not list((place.home / "kept").glob("holdfast-*"))
    place.whole()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root may become somebody else")
def test_a_folder_that_cannot_be_written_is_said_and_nothing_is_lost(place, tell):
    code = WRITE.format(count=3)
    first = place.script(code + SHUT.format(folder=str(place.database.parent)) + code[code.index("try:"):])
    acknowledged, said = heard(first)
    assert acknowledged == 3 and said.startswith("The data folder cannot be written"), said
    place.whole()
    assert place.balls() == 3
    tell("read-only folder: 3 commits before, 0 lost, a sentence")


def test_two_servers_on_one_database_wait_for_each_other(place, tell):
    writers = [place.script(WRITE.format(count=60)) for _ in range(2)]
    acknowledged = [writer.communicate()[0].count("stored\n") for writer in writers]
    place.whole()
    assert acknowledged == [60, 60] and place.balls() == 120
    tell("two servers: 120 commits, 0 lost, 0 refused")


@pytest.fixture
def backups(tmp_path, settings, monkeypatch):
    """A data folder whose backups are made of a small file."""
    settings.DATA_DIR, settings.MEDIA_ROOT = tmp_path, tmp_path / "media"
    monkeypatch.setattr(backup, "_is_sqlite", lambda: True)
    monkeypatch.setattr(backup, "_database_path", lambda: tmp_path / backup.DATABASE)
    import sqlite3
    with sqlite3.connect(tmp_path / backup.DATABASE) as connection:
        connection.execute("CREATE TABLE django_migrations (app, name)")
    connection.close()
    return tmp_path / "backups"


def test_a_clock_set_back_overwrites_no_backup_and_drops_the_oldest_not_the_newest(backups):
    with time_machine.travel(datetime(2026, 5, 4, 9, tzinfo=UTC), tick=False) as clock:
        kept = [backup.make_automatic_backup(label="auto").path for _ in range(3)]
        assert len(set(kept)) == 3
        for age, path in enumerate(kept, 1):
            os.utime(path, (1_700_000_000 - age, 1_700_000_000 - age))
        clock.move_to(datetime(2020, 1, 1, tzinfo=UTC))
        made = [backup.make_automatic_backup(label="auto").path for _ in range(backup.KEEP)]
        assert made[-1].exists() and len(list(backups.glob("*.zip"))) == backup.KEEP


def test_a_backup_from_the_future_does_not_stop_the_daily_one(backups):
    made = backup.make_automatic_backup(label="auto").path
    now = datetime.fromtimestamp(made.stat().st_mtime, tz=UTC)
    assert not backup.is_due(now=now)
    os.utime(made, (now.timestamp() + 10**7, now.timestamp() + 10**7))
    assert backup.is_due(now=now)
