"""kill -9 while balls are stored, a file is taken in, the database is migrated, a backup is made or brought back."""

import shutil
import sqlite3
import time
from contextlib import closing

from tests.durability.bench import IMPORT, ROOT, WRITE, kill_after, moments

FIRST = ROOT / "fixtures" / "upgrade" / "first.sql"
NOTED = """
from django.core.management import call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder
plain = MigrationRecorder.record_applied
def record(self, app, name):
    print("noted" if connection.in_atomic_block else f"LATE {app} {name}", flush=True)
    plain(self, app, name)
MigrationRecorder.record_applied = record
call_command("migrate", verbosity=0)
"""


def test_no_acknowledged_ball_is_lost_when_the_writer_is_killed(place, tell):
    acknowledged = 0
    for moment in moments(3, longest=0.05):
        acknowledged += kill_after(place.script(WRITE.format(count=10_000)), acknowledged=40, then=moment)
        place.whole()
        assert acknowledged <= place.balls() <= acknowledged + 3
        acknowledged = place.balls()
    tell(f"killed while storing balls: 3 runs, {acknowledged} commits, 0 lost")


def test_a_file_that_was_taken_in_is_there_whole_or_not_at_all(place, tell):
    acknowledged = 0
    for moment in moments(3, longest=0.3):
        acknowledged += kill_after(place.script(IMPORT.format(count=1000)), acknowledged=3, then=moment)
        place.whole()
        with closing(sqlite3.connect(place.database)) as connection:
            sizes = {row[0] for row in connection.execute("SELECT count(*) FROM lessons_shot GROUP BY batch_id")}
            files = connection.execute("SELECT count(*) FROM lessons_importbatch WHERE stored_at IS NOT NULL")
            stored = files.fetchone()[0]
            connection.execute("DELETE FROM lessons_importbatch WHERE 0")
        assert sizes == {50}
        assert stored >= 3
        for table in ("lessons_shot", "lessons_importbatch", "lessons_block", "academy_change"):
            with closing(sqlite3.connect(place.database)) as connection:
                connection.execute("PRAGMA foreign_keys = OFF")
                connection.execute(f"DELETE FROM {table}")
                connection.commit()
    tell(f"killed while files were taken in: 3 runs, {acknowledged} files, 0 lost, 0 half")


def test_a_migration_that_was_killed_goes_on_and_keeps_every_row(place, tell):
    with closing(sqlite3.connect(place.home / "first.sqlite3")) as connection:
        connection.executescript(FIRST.read_text())
        before = connection.execute("SELECT count(*), sum(carry_m) FROM lessons_shot").fetchone()
    for moment in moments(3, longest=6.0):
        shutil.copy(place.home / "first.sqlite3", place.database)
        process = place.start("migrate", "-v0")
        time.sleep(moment)
        process.kill()
        process.communicate()
        place.whole()
        place.run("migrate", "-v0")
        place.whole()
        with closing(sqlite3.connect(place.database)) as connection:
            assert connection.execute("SELECT count(*), sum(carry_m) FROM lessons_shot").fetchone() == before
    tell(f"killed while migrating: 3 runs, {before[0] * 3} balls, 0 lost")


def test_a_step_of_a_migration_is_noted_in_the_transaction_that_makes_it(place):
    place.database.unlink()
    said, wrong = place.script(NOTED).communicate()
    assert said.count("noted") > 20, wrong
    assert "LATE" not in said


def test_a_killed_backup_leaves_no_half_file_under_a_whole_name(place, tell):
    for moment in moments(3, longest=4.0):
        process = place.start("backup", str(place.home / "kept"))
        time.sleep(moment)
        process.kill()
        process.communicate()
    place.run("backup", str(place.home / "kept"))
    kept = sorted((place.home / "kept").glob("holdfast-*.zip"))
    for path in kept:
        assert "Restored" in place.run("restore", str(path))
    place.whole()
    tell(f"killed while backing up: 3 runs, {len(kept)} whole files, 0 half")


def test_a_killed_restore_leaves_the_data_from_before_or_the_backups(place, tell):
    place.script(WRITE.format(count=3)).communicate()
    place.run("backup", str(place.home / "kept"))
    kept = next((place.home / "kept").glob("holdfast-*.zip"))
    place.script(WRITE.format(count=2)).communicate()
    found = []
    for moment in moments(4, longest=5.0):
        process = place.start("restore", str(kept))
        time.sleep(moment)
        process.kill()
        process.communicate()
        place.whole()
        found.append(place.balls())
        assert found[-1] in {3, 5}
    place.run("restore", str(kept))
    assert place.balls() == 3
    tell(f"killed while restoring: 4 runs, whole each time, balls {found}, 0 lost")
