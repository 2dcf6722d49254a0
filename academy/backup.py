"""Backups of the embedded database and the media: made while running, and checked. academy.restoring brings them back.

A backup is one zip file with the database, the media and a manifest. It is written under another name and
renamed when it is complete, so that a file called ``holdfast-….zip`` is always a whole one. PostgreSQL has its
own tools for this (pg_dump); these functions refuse it with a sentence.
"""

import hashlib
import json
import os
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.utils import timezone

FORMAT = 1
DATABASE = "holdfast.sqlite3"
MANIFEST = "manifest.json"
KEEP = 14
"""Automatic backups kept; those made by hand are never removed."""


class BackupError(Exception):
    """The backup or restore cannot be done; the text says why and what was expected."""


@dataclass(frozen=True, kw_only=True)
class Report:
    """What a backup holds: its file, when it was made, and rows a table."""

    path: Path
    made_at: datetime
    rows: dict[str, int]
    media_files: int


def make_backup(*, folder: Path, label: str = "") -> Report:
    """Copy the running database in one step, check the copy, pack it with the media. Raises BackupError."""
    database = _database_path()
    if not database.exists():
        raise BackupError(f"There is no database at {database} yet.")
    now = timezone.now()
    name = _free_name(folder, f"holdfast-{now:%Y%m%d-%H%M%S}", f"{'-' + label if label else ''}.zip")
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.TemporaryDirectory(dir=folder, prefix=".partial-") as scratch:
            copy = Path(scratch) / DATABASE
            _copy_database(database, copy)
            rows = check_database(path=copy)
            media = _media_files()
            packed = Path(scratch) / name
            _pack(packed, copy, media, {
                "format": FORMAT, "made_at": now.isoformat(), "rows": rows, "database_sha256": digest(copy),
                "migrations": _migrations(copy), "demo": settings.DEMO,
            })
            os.replace(packed, folder / name)
            sync_folder(folder)
    except (OSError, sqlite3.OperationalError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise BackupError(f"The backup could not be written to {folder}: {why}.") from error
    return Report(path=folder / name, made_at=now, rows=rows, media_files=len(media))


def make_automatic_backup(*, label: str) -> Report | None:
    """Make a backup in the data folder and drop the oldest automatic ones; None where there is nothing yet."""
    if not _is_sqlite() or not _database_path().exists():
        return None
    report = make_backup(folder=backups_folder(), label=label)
    # By the time they were written, not by name, and never the new one: the clock may have been set back.
    made = sorted(backups_folder().glob("holdfast-*-auto*.zip"), key=lambda path: path.stat().st_mtime)
    for path in [one for one in made if one != report.path][:-(KEEP - 1)] if label.startswith("auto") else []:
        path.unlink()
    return report


def is_due(*, now: datetime) -> bool:
    """Say whether the day's backup is to be made; one from the future, before a clock was set back, does not count."""
    newest = newest_backup()
    return newest is None or not timedelta(0) <= now - newest <= timedelta(hours=24)


def newest_backup() -> datetime | None:
    """Return when the newest backup in the data folder was made, for the page that shows its age."""
    made = [path.stat().st_mtime for path in backups_folder().glob("holdfast-*.zip")]
    return datetime.fromtimestamp(max(made), tz=timezone.get_current_timezone()) if made else None


def backups_folder() -> Path:
    return settings.DATA_DIR / "backups"


def read_manifest(*, path: Path) -> dict:
    """Return a backup's manifest. Raises BackupError for anything that is not a whole backup of a known format."""
    try:
        with zipfile.ZipFile(path) as archive:
            manifest = json.loads(archive.read(MANIFEST))
    except FileNotFoundError as error:
        raise BackupError(f"There is no file at {path}.") from error
    except (OSError, zipfile.BadZipFile, KeyError, ValueError) as error:
        raise BackupError(f"{path} is not a backup of Holdfast, or it is damaged.") from error
    if manifest.get("format", 0) > FORMAT:
        raise BackupError("This backup was made by a newer version; update the program first.")
    return manifest


def check_database(*, path: Path) -> dict[str, int]:
    """Return the rows of each table after SQLite's own integrity and foreign-key checks. Raises BackupError."""
    with closing(sqlite3.connect(path)) as connection:
        try:
            verdict = connection.execute("PRAGMA integrity_check").fetchone()[0]
            orphans = connection.execute("PRAGMA foreign_key_check").fetchall()
            if verdict != "ok" or orphans:
                raise BackupError(f"The database does not pass its own check: {verdict}, {len(orphans)} lost links.")
            tables = [row[0] for row in connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
            )]
            return {
                table: connection.execute(f'SELECT COUNT(*) FROM "{table}"').fetchone()[0] for table in tables
            }
        except sqlite3.DatabaseError as error:
            raise BackupError(f"{path.name} is not a whole database: {error}.") from error


def _free_name(folder: Path, begin: str, end: str) -> str:
    """Return a name that no file has; a clock that was set back may come to the same second twice."""
    names = (f"{begin}{f'-{number}' if number else ''}{end}" for number in range(10_000))
    return next(name for name in names if not (folder / name).exists())


def _is_sqlite() -> bool:
    return "sqlite" in settings.DATABASES["default"]["ENGINE"]


def _database_path() -> Path:
    if not _is_sqlite():
        raise BackupError("This academy is on PostgreSQL; back it up with pg_dump.")
    return Path(settings.DATABASES["default"]["NAME"])


def _copy_database(source: Path, target: Path) -> None:
    """One step, not page by page: with somebody writing, a stepped copy starts again and again."""
    with closing(sqlite3.connect(f"file:{source}?mode=ro", uri=True)) as origin, closing(
        sqlite3.connect(target)
    ) as copy:
        origin.backup(copy)


def _media_files() -> list[Path]:
    root = Path(settings.MEDIA_ROOT)
    return sorted(path for path in root.rglob("*") if path.is_file()) if root.exists() else []


def _pack(target: Path, database: Path, media: list[Path], manifest: dict) -> None:
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        archive.write(database, DATABASE)
        for path in media:
            archive.write(path, f"media/{path.relative_to(settings.MEDIA_ROOT)}", zipfile.ZIP_STORED)
        archive.writestr(MANIFEST, json.dumps({**manifest, "media_files": len(media)}, indent=1))
    with open(target, "rb") as file:
        os.fsync(file.fileno())
    target.chmod(0o600)


def _migrations(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return [f"{app}.{name}" for app, name in connection.execute("SELECT app, name FROM django_migrations")]


def digest(path: Path) -> str:
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def sync_folder(folder: Path) -> None:
    """Make the new name itself survive a power cut."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
