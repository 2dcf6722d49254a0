"""The power goes: what was written and not yet synced is lost, page by page as chance has it.

A file system under SQLite (apsw, a VFS in Python) that keeps every unsynced write to itself. At the cut each of them
is dropped or lands, by a seeded coin. SQLite here is apsw's own; the pragmas are those the program sets.
"""

import random
import sqlite3
from contextlib import closing

import apsw
import pytest

from academy.environment import sqlite as settings_for

CUTS = 40


class Cut(Exception):
    """The power went."""


class Disk(apsw.VFS):
    """Counts syncs, and cuts the power before the chosen one."""

    def __init__(self, name: str, cut_at: int, coin: random.Random) -> None:
        super().__init__(name, "")
        self.name, self.cut_at, self.coin, self.syncs, self.files = name, cut_at, coin, 0, []

    def xOpen(self, name, flags):  # noqa: N802  the names are SQLite's
        file = File(self, name, flags)
        self.files.append(file)
        return file

    def sync(self, file: "File") -> None:
        self.syncs += 1
        if self.syncs == self.cut_at:
            for other in self.files:
                other.lose(self.coin)
            raise Cut
        file.land()


class File(apsw.VFSFile):
    """One file whose writes wait for a sync."""

    def __init__(self, disk: Disk, name, flags) -> None:
        self.disk, self.waiting, self.length = disk, [], None
        super().__init__("", name, flags)

    def xRead(self, amount, offset):  # noqa: N802
        size = self.xFileSize()
        data = bytearray(max(0, min(amount, size - offset)))
        stored = min(len(data), max(0, super().xFileSize() - offset))
        data[:stored] = super().xRead(stored, offset) if stored else b""
        for place, piece in self.waiting:
            start, end = max(place, offset), min(place + len(piece), offset + len(data))
            if start < end:
                data[start - offset:end - offset] = piece[start - place:end - place]
        return bytes(data)

    def xWrite(self, data, offset):  # noqa: N802
        self.waiting.append((offset, bytes(data)))
        self.length = max(self.xFileSize(), offset + len(data))

    def xTruncate(self, size):  # noqa: N802
        self.land()
        super().xTruncate(size)

    def xFileSize(self):  # noqa: N802
        ends = [place + len(piece) for place, piece in self.waiting]
        return max([super().xFileSize(), *ends])

    def xSync(self, flags):  # noqa: N802
        self.disk.sync(self)
        super().xSync(flags)

    def land(self) -> None:
        for place, piece in self.waiting:
            super().xWrite(piece, place)
        self.waiting = []

    def lose(self, coin: random.Random) -> None:
        for place, piece in self.waiting:
            if coin.random() < 0.5:
                super().xWrite(piece, place)
        self.waiting = []


def work(path, disk: Disk, pragmas: str) -> int:
    """Store ball after ball in a commit of its own until the power goes; return how many were acknowledged."""
    acknowledged = 0
    try:
        with closing(apsw.Connection(str(path), vfs=disk.name)) as connection:
            list(connection.execute(pragmas))
            while True:
                connection.execute("BEGIN IMMEDIATE")
                connection.execute("INSERT INTO ball (carry_m, raw) VALUES (?, ?)", (acknowledged, "x" * 3000))
                connection.execute("UPDATE block SET balls = balls + 1")
                connection.execute("COMMIT")
                acknowledged += 1
    except (Cut, apsw.Error):
        return acknowledged


def run(tmp_path, synchronous: str) -> tuple[int, int, int]:
    """Cut the power at forty different syncs; return acknowledged commits, lost ones, and damaged databases."""
    pragmas = settings_for(tmp_path)["OPTIONS"]["init_command"]
    assert f"synchronous={synchronous}" in pragmas
    stored = lost = damaged = 0
    for cut in range(1, CUTS + 1):
        path = tmp_path / f"{synchronous}-{cut}.sqlite3"
        with closing(sqlite3.connect(path)) as fresh:
            fresh.executescript("CREATE TABLE ball (id INTEGER PRIMARY KEY, carry_m, raw);"
                                "CREATE TABLE block (balls); INSERT INTO block VALUES (0);")
        acknowledged = work(path, Disk(f"{synchronous}{cut}", cut, random.Random(cut)), pragmas)
        stored += acknowledged
        try:
            with closing(sqlite3.connect(path)) as connection:
                damaged += connection.execute("PRAGMA integrity_check").fetchone() != ("ok",)
                rows = connection.execute("SELECT count(*) FROM ball").fetchone()[0]
                damaged += connection.execute("SELECT balls FROM block").fetchone()[0] != rows
                lost += max(0, acknowledged - rows)
        except sqlite3.DatabaseError:
            damaged += 1
    return stored, lost, damaged


def test_a_power_cut_at_any_sync_loses_no_acknowledged_commit_and_damages_nothing(tmp_path, tell):
    stored, lost, damaged = run(tmp_path, "FULL")
    assert (lost, damaged) == (0, 0) and stored > CUTS
    tell(f"power cut: {CUTS} runs, {stored} acknowledged commits, {lost} lost, {damaged} damaged")


@pytest.mark.filterwarnings("ignore")
def test_the_cut_is_a_real_one_as_a_database_that_never_syncs_shows(tmp_path):
    """With syncing off the same work loses commits: otherwise the test above could not fail."""
    path = tmp_path / "off.sqlite3"
    with closing(sqlite3.connect(path)) as fresh:
        fresh.execute("CREATE TABLE ball (carry_m)")
    disk = Disk("off", 10**9, random.Random(1))
    connection = apsw.Connection(str(path), vfs=disk.name)
    list(connection.execute("PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=OFF"))
    for number in range(20):
        connection.execute("INSERT INTO ball VALUES (?)", (number,))
    for file in disk.files:
        file.waiting = []
    with closing(sqlite3.connect(path)) as left:
        assert left.execute("SELECT count(*) FROM ball").fetchone()[0] < 20
