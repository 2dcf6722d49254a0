"""Serving on this machine: migrate, start waitress, open the browser, say where the data lies."""

import pkgutil
import sys
import threading
import time
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MIGRATIONS_MODULE_NAME
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone

from . import keeping
from .backup import BackupError, is_due, make_automatic_backup
from .restoring import mend

Say = Callable[[str], None]


def prepare_database(*, say: Say) -> None:
    """Bring the database to the newest form; a no-op where it is there already. Puts right what a restore that was
    cut off has left."""
    if mended := mend():
        say(mended)
    if _is_newest():
        return
    executor = MigrationExecutor(connection)
    waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    if waiting:
        if executor.loader.applied_migrations and (kept := make_automatic_backup(label="before-update")):
            say(f"Backed up first: {kept.path}")
        say(f"Preparing the database ({len(waiting)} steps) …")
        call_command("migrate", interactive=False, verbosity=0)


def _is_newest() -> bool:
    """Say whether every step that lies in the folders was taken; quicker than planning them, which loads each."""
    taken = set(MigrationRecorder(connection).applied_migrations())
    return all(
        (app.label, step.name) in taken
        for app in apps.get_app_configs() if (folder := Path(app.path, MIGRATIONS_MODULE_NAME)).is_dir()
        for step in pkgutil.iter_modules([str(folder)]) if not step.name.startswith("_")
    )


def data_place() -> str:
    """Say where the data lies, for a person."""
    database = settings.DATABASES["default"]
    if "sqlite" in database["ENGINE"]:
        return str(database["NAME"])
    return f"PostgreSQL {database['NAME']} at {database['HOST'] or 'this machine'}, media in {settings.DATA_DIR}"


def serve(*, host: str, port: int, path: str, open_browser: bool, say: Say) -> None:
    """Serve until interrupted. Raises OSError where the port is taken."""
    import waitress

    from .wsgi import application

    server = waitress.create_server(application, host=host, port=port, **server_options())
    address = f"http://{host}:{port}{path}"
    say(f"Open {address}")
    say("Stop with Ctrl+C.")
    sys.stdout.flush()
    _DailyBackup(say=say).start()
    _HourlyDeletion(say=say).start()
    if open_browser:
        threading.Timer(0.3, webbrowser.open, [address]).start()
    try:
        server.run()
    except KeyboardInterrupt:
        server.close()


def server_options() -> dict[str, Any]:
    """Return how waitress serves. Behind TLS it believes the proxy on this machine what the visitor's address and
    scheme are; otherwise it would strip both, and every page would lead to itself for ever."""
    options: dict[str, Any] = {"threads": 8, "ident": None, "max_request_body_size": settings.MAX_REQUEST_BYTES}
    if settings.HTTPS:
        options |= {"trusted_proxy": "127.0.0.1", "trusted_proxy_headers": {"x-forwarded-for", "x-forwarded-proto"}}
    return options


class _DailyBackup(threading.Thread):
    """Makes a backup once a day while the program runs. Every process may do it: the files are whole and dated."""

    def __init__(self, *, say: Say) -> None:
        super().__init__(daemon=True, name="daily-backup")
        self.say = say

    def run(self) -> None:
        while True:
            if is_due(now=timezone.now()):
                try:
                    make_automatic_backup(label="auto")
                    _tidy()
                except (BackupError, DatabaseError, OSError) as error:  # the next hour tries again
                    self.say(f"No backup today: {error}")
            time.sleep(3600)


class _HourlyDeletion(threading.Thread):
    """Deletes kept pictures that are due: at the start and once an hour, so that a day is never missed by a day."""

    def __init__(self, *, say: Say) -> None:
        super().__init__(daemon=True, name="hourly-deletion")
        self.say = say

    def run(self) -> None:
        while True:
            try:
                call_command("delete_pictures")
            except Exception as error:  # the next hour tries again; serving goes on
                self.say(f"Pictures that are due could not be deleted: {error}")
            finally:
                connection.close()
            time.sleep(3600)


def _tidy() -> None:
    """End what is due, after the day's backup. A thread keeps a connection of its own, which is closed again."""
    try:
        keeping.run(now=timezone.now())
    finally:
        connection.close()
