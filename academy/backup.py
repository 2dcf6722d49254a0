"""Backups of the embedded database and the media: made while running, checked, and restored whole.

A backup is one zip file with the database, the media and a manifest. It is written under another name and
renamed when it is complete, so that a file called ``holdfast-….zip`` is always a whole one. PostgreSQL has its
own tools for this (pg_dump); these functions refuse it with a sentence.
"""

import hashlib
import json
import os
import shutil
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.db import connections
from django.db.migrations.loader import MigrationLoader
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
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    now = timezone.now()
    name = f"holdfast-{now:%Y%m%d-%H%M%S}{'-' + label if label else ''}.zip"
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=".partial-") as scratch:
            copy = Path(scratch) / DATABASE
            _copy_database(database, copy)
            rows = check_database(path=copy)
            media = _media_files()
            packed = Path(scratch) / name
            _pack(packed, copy, media, {
                "format": FORMAT, "made_at": now.isoformat(), "rows": rows, "database_sha256": _digest(copy),
                "migrations": _migrations(copy), "demo": settings.DEMO,
            })
            os.replace(packed, folder / name)
            _sync_folder(folder)
    except OSError as error:
        raise BackupError(f"The backup could not be written to {folder}: {error.strerror}.") from error
    return Report(path=folder / name, made_at=now, rows=rows, media_files=len(media))


def make_automatic_backup(*, label: str) -> Report | None:
    """Make a backup in the data folder and drop the oldest automatic ones; None where there is nothing yet."""
    if not _is_sqlite() or not _database_path().exists():
        return None
    report = make_backup(folder=backups_folder(), label=label)
    old = sorted(backups_folder().glob("holdfast-*-auto*.zip"))[:-KEEP] if label.startswith("auto") else []
    for path in old:
        path.unlink()
    return report


def newest_backup() -> datetime | None:
    """Return when the newest backup in the data folder was made, for the page that shows its age."""
    found = sorted(backups_folder().glob("holdfast-*.zip")) if backups_folder().exists() else []
    return datetime.fromtimestamp(found[-1].stat().st_mtime, tz=timezone.get_current_timezone()) if found else None


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


def restore(*, path: Path) -> Path | None:
    """Put a backup in place of the data and return where the old data was set aside (None where there was none).

    Everything is unpacked and checked beside the data first; only then are the names exchanged.
    """
    manifest = read_manifest(path=path)
    if manifest["demo"] != settings.DEMO:
        raise BackupError("A backup of the demo cannot replace real data, nor the other way round.")
    _refuse_newer(manifest)
    home = settings.DATA_DIR
    with tempfile.TemporaryDirectory(dir=home, prefix=".restore-") as scratch:
        fresh = Path(scratch)
        _unpack(path, fresh)
        if _digest(fresh / DATABASE) != manifest["database_sha256"]:
            raise BackupError("The database in this backup does not match its checksum; nothing was changed.")
        if check_database(path=fresh / DATABASE) != manifest["rows"]:
            raise BackupError("The row counts of this backup do not match its manifest; nothing was changed.")
        connections.close_all()
        aside = _set_aside(home)
        os.replace(fresh / DATABASE, home / DATABASE)
        if (fresh / "media").exists():
            os.replace(fresh / "media", settings.MEDIA_ROOT)
        _sync_folder(home)
    return aside


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


def _unpack(path: Path, target: Path) -> None:
    """Unpack only what a backup holds; a name that leads outside is refused."""
    with zipfile.ZipFile(path) as archive:
        for info in archive.infolist():
            inside = (target / info.filename).resolve()
            known = info.filename in {DATABASE, MANIFEST} or info.filename.startswith("media/")
            if not known or not inside.is_relative_to(target.resolve()):
                raise BackupError(f"The backup holds “{info.filename}”, which does not belong there.")
        try:
            archive.extractall(target)
        except (zipfile.BadZipFile, OSError) as error:
            raise BackupError(f"The backup is damaged ({error}); nothing was changed.") from error


def _set_aside(home: Path) -> Path | None:
    """Move the present data out of the way and return where it lies now."""
    present = [path for path in (*home.glob(f"{DATABASE}*"), Path(settings.MEDIA_ROOT)) if path.exists()]
    if not present:
        return None
    aside = home / f"set-aside-{timezone.now():%Y%m%d-%H%M%S-%f}"
    aside.mkdir(mode=0o700)
    for path in present:
        shutil.move(path, aside / path.name)
    return aside


def _migrations(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return [f"{app}.{name}" for app, name in connection.execute("SELECT app, name FROM django_migrations")]


def _refuse_newer(manifest: dict) -> None:
    known = {f"{app}.{name}" for app, name in MigrationLoader(None, ignore_no_migrations=True).disk_migrations}
    unknown = [
        name for name in manifest["migrations"] if name not in known and name.split(".")[0] in {"academy", "lessons"}
    ]
    if unknown:
        raise BackupError("This backup was made by a newer version; update the program first.")


def _digest(path: Path) -> str:
    with open(path, "rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _sync_folder(folder: Path) -> None:
    """Make the new name itself survive a power cut."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
