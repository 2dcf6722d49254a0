"""Bringing a backup back: checked beside the data first, put in place so that a cut at any moment leaves a whole
academy, the one from before or the one from the backup. The old data is set aside, never deleted.
"""

import json
import os
import shutil
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from pathlib import Path

from django.conf import settings
from django.db import connections
from django.db.migrations.loader import MigrationLoader
from django.utils import timezone

from .backup import DATABASE, MANIFEST, BackupError, check_database, digest, read_manifest, sync_folder
from .backup_seal import is_sealed, unseal_file

MARKER = "restore-under-way.json"
"""Says where the old data lies while names are exchanged; there only then."""


def restore(*, path: Path, passphrase: str = "") -> Path | None:
    """Put a backup in place of the data and return where the old data was set aside (None where there was none)."""
    home = settings.DATA_DIR
    mend()
    try:
        with tempfile.TemporaryDirectory(dir=home, prefix=".restore-") as scratch:
            fresh = Path(scratch)
            if is_sealed(path):
                path = unseal_file(path=path, passphrase=passphrase, into=fresh / "opened.zip")
            _unpack_checked(path, fresh)
            connections.close_all()
            return _exchange(fresh, home)
    except OSError as error:
        raise BackupError(f"The backup could not be put in place: {error.strerror}. The data is as it was.") from error


def mend() -> str:
    """Put right what a restore that was cut off has left; return a sentence, empty where there was nothing.

    The database itself is exchanged last and in one step, so until then everything goes back to how it was.
    """
    home = settings.DATA_DIR
    marker = home / MARKER
    if not marker.exists():
        return ""
    aside = home / json.loads(marker.read_text() or "{}").get("aside", "none")
    old_media, media = aside / "media", Path(settings.MEDIA_ROOT)
    if (home / f"{DATABASE}.fresh").exists():
        if old_media.exists():
            shutil.rmtree(media, ignore_errors=True)
            os.replace(old_media, media)
        (home / f"{DATABASE}.fresh").unlink()
        said = "A restore was cut off. The data from before it is in place; restore again if you still want to."
    else:
        said = "A restore was cut off at its very end: the data of the backup is in place."
    marker.unlink()
    for left in home.glob(".restore-*"):
        shutil.rmtree(left, ignore_errors=True)
    return said


def _unpack_checked(path: Path, fresh: Path) -> None:
    manifest = read_manifest(path=path)
    if manifest["demo"] != settings.DEMO:
        raise BackupError("A backup of the demo cannot replace real data, nor the other way round.")
    _refuse_newer(manifest)
    _unpack(path, fresh)
    if digest(fresh / DATABASE) != manifest["database_sha256"]:
        raise BackupError("The database in this backup does not match its checksum; nothing was changed.")
    if check_database(path=fresh / DATABASE) != manifest["rows"]:
        raise BackupError("The row counts of this backup do not match its manifest; nothing was changed.")


def _exchange(fresh: Path, home: Path) -> Path | None:
    """Marker, old data aside, media, and at last the database by one rename; then the marker goes."""
    database, media = home / DATABASE, Path(settings.MEDIA_ROOT)
    aside = home / f"set-aside-{timezone.now():%Y%m%d-%H%M%S-%f}"
    had = database.exists() or media.exists()
    _settle(database)
    os.replace(fresh / DATABASE, home / f"{DATABASE}.fresh")
    aside.mkdir(mode=0o700)
    _write(home / MARKER, json.dumps({"aside": aside.name}))
    sync_folder(home)
    if database.exists():
        os.link(database, aside / DATABASE)
    if media.exists():
        os.replace(media, aside / "media")
    if (fresh / "media").exists():
        os.replace(fresh / "media", media)
    sync_folder(aside)
    os.replace(home / f"{DATABASE}.fresh", database)
    sync_folder(home)
    (home / MARKER).unlink()
    if not had:
        aside.rmdir()
    return aside if had else None


def _settle(database: Path) -> None:
    """Finish what a killed server left in the old database's journal: it must not be applied to the new one."""
    if database.exists():
        with closing(sqlite3.connect(database)) as connection:
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    for ending in ("-journal", "-wal", "-shm"):
        database.with_name(database.name + ending).unlink(missing_ok=True)


def _write(path: Path, text: str) -> None:
    with open(path, "w") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())


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


def _refuse_newer(manifest: dict) -> None:
    known = {f"{app}.{name}" for app, name in MigrationLoader(None, ignore_no_migrations=True).disk_migrations}
    unknown = [
        name for name in manifest["migrations"] if name not in known and name.split(".")[0] in {"academy", "lessons"}
    ]
    if unknown:
        raise BackupError("This backup was made by a newer version; update the program first.")
