"""A restore that is cut off after each of its steps, one by one: the data from before, or the backup's, never half."""

import os
import sqlite3
from contextlib import closing
from types import SimpleNamespace

import pytest

from academy import backup, restoring


class Cut(BaseException):
    """The power goes."""


@pytest.fixture
def folder(tmp_path, settings, monkeypatch):
    """A data folder with a database that says “now”, its picture, and a backup of both that says “then”."""
    settings.DATA_DIR, settings.MEDIA_ROOT = tmp_path, tmp_path / "media"
    # Not by the setting: the test run's own database must not be closed.
    monkeypatch.setattr(backup, "_database_path", lambda: tmp_path / backup.DATABASE)
    monkeypatch.setattr(restoring, "connections", SimpleNamespace(close_all=lambda: None))
    write(tmp_path, "then")
    made = backup.make_backup(folder=tmp_path / "kept").path
    write(tmp_path, "now")
    return tmp_path, made


def write(folder, word: str) -> None:
    with closing(sqlite3.connect(folder / backup.DATABASE)) as connection:
        connection.execute("CREATE TABLE IF NOT EXISTS django_migrations (app, name)")
        connection.execute("CREATE TABLE IF NOT EXISTS said (word)")
        connection.execute("DELETE FROM said")
        connection.execute("INSERT INTO said VALUES (?)", [word])
        connection.commit()
    (folder / "media").mkdir(exist_ok=True)
    (folder / "media" / "picture").write_text(word)


def read(folder) -> tuple[str, str]:
    with closing(sqlite3.connect(folder / backup.DATABASE)) as connection:
        word = connection.execute("SELECT word FROM said").fetchone()[0]
    return word, (folder / "media" / "picture").read_text()


@pytest.mark.parametrize("step", range(5))
def test_cut_off_at_any_step_both_halves_are_of_one_time(folder, step):
    home, made = folder
    patch = pytest.MonkeyPatch()
    done, real = [], {name: getattr(os, name) for name in ("replace", "link")}

    def counted(name):
        def act(*args, **options):
            if len(done) == step:
                raise Cut
            done.append(name)
            return real[name](*args, **options)
        return act

    for name in real:
        patch.setattr(restoring.os, name, counted(name))
    with pytest.raises(Cut):
        restoring.restore(path=made)
    patch.undo()
    restoring.mend()
    assert read(home) in {("now", "now"), ("then", "then")}
    assert not (home / restoring.MARKER).exists()
    restoring.restore(path=made)
    assert read(home) == ("then", "then")
