"""Serve the academy's own data on this machine."""

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy.models import Academy
from academy.serving import data_place, prepare_database, serve


class Command(BaseCommand):
    help = "Serve Holdfast with your own data. The first run asks for the academy's name in the browser."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--host", default="127.0.0.1", help="127.0.0.1 is this machine only (default).")
        parser.add_argument("--port", type=int, default=8000)
        parser.add_argument("--no-browser", action="store_true", help="Do not open a browser.")

    def handle(self, *args, host: str, port: int, no_browser: bool, **options) -> None:
        if settings.DEMO:
            raise CommandError("HOLDFAST_DEMO is set; use `manage.py demo` for the demo data.")
        prepare_database(say=self.stdout.write)
        call_command("load_library", stdout=self.stdout)
        academy = Academy.objects.first()
        if academy and academy.is_demo:
            raise CommandError("This database holds the demo academy; real data must lie elsewhere.")
        if host not in {"127.0.0.1", "localhost"} and not settings.HTTPS:
            self.stdout.write("Served without encryption: use it on a network you trust only.")
        self.stdout.write(f"Your data: {data_place()}")
        try:
            serve(host=host, port=port, path="/", open_browser=not no_browser, say=self.stdout.write)
        except OSError as error:
            raise CommandError(f"Port {port} cannot be used ({error.strerror}); try --port {port + 1}.") from error
