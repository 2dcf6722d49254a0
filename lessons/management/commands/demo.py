"""Serve an invented academy, signed in, in one command."""

import shutil

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connections

from academy.models import Academy, Coach
from academy.serving import data_place, prepare_database, serve
from academy.share import issue_entry
from lessons.demo.build import STUDENTS, build

ROLES = {"coach": "runa", "owner": "runa", "second-coach": "piet", "welfare": "ines"}


class Command(BaseCommand):
    help = "Serve Holdfast with an invented academy in a folder of its own, signed in as its coach."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--no-browser", action="store_true", help="Do not open a browser.")
        parser.add_argument("--reset", action="store_true", help="Throw the demo data away and invent it anew.")
        parser.add_argument("--size", choices=list(STUDENTS), default="standard", help="How many students.")
        parser.add_argument("--as", dest="role", choices=list(ROLES), default="coach", help="Whom to sign in as.")
        parser.add_argument("--build-only", action="store_true", help="Prepare the data, print the link, stop.")

    def handle(self, *args, port: int, no_browser: bool, reset: bool, size: str, role: str, build_only: bool,
               **options) -> None:
        if not settings.DEMO:
            raise CommandError("The demo must not touch real data; start it as `python manage.py demo`.")
        if reset:
            self._reset()
        prepare_database(say=self.stdout.write)
        call_command("load_library", stdout=self.stdout)
        if not Academy.objects.exists():
            build(size=size, say=self.stdout.write)
        if not Academy.objects.get().is_demo:
            raise CommandError("This database holds a real academy; the demo will not touch it.")
        self.stdout.write(f"Demo data: {data_place()}")
        path = f"/entry/{issue_entry(coach=Coach.objects.get(username=ROLES[role]))}/"
        if build_only:
            self.stdout.write(f"Sign-in path, good once for 15 minutes: {path}")
            return
        try:
            serve(host="127.0.0.1", port=port, path=path, open_browser=not no_browser, say=self.stdout.write)
        except OSError as error:
            raise CommandError(f"Port {port} cannot be used ({error.strerror}); try --port {port + 1}.") from error

    def _reset(self) -> None:
        if "sqlite" not in settings.DATABASES["default"]["ENGINE"]:
            raise CommandError("--reset works on the embedded database only; empty the PostgreSQL database yourself.")
        connections.close_all()
        for name in settings.DATA_DIR.glob("holdfast.sqlite3*"):
            name.unlink()
        shutil.rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        self.stdout.write("The old demo data is gone.")
