"""Read a record back in."""

import json
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from lessons import archive


class Command(BaseCommand):
    help = "Read an archive in: all of it, or nothing. A whole academy goes into an empty database only."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")

    def handle(self, *args, file: Path, **options) -> None:
        try:
            document = json.loads(file.expanduser().read_text(encoding="utf-8"), parse_constant=_no_number)
        except OSError as error:
            raise CommandError(f"{file} could not be read: {error.strerror}.") from error
        except (ValueError, RecursionError) as error:
            raise CommandError(f"{file} is no JSON document: {error}.") from error
        try:
            stored = archive.read_in(document)
        except archive.ArchiveError as error:
            raise CommandError(f"{error} Nothing was changed.") from error
        self.stdout.write(f"{file}: {sum(stored.values())} rows stored in {sum(map(bool, stored.values()))} tables.")
        if stored.get("academy.coach"):
            self.stdout.write("The coaches came without passwords: manage.py changepassword NAME.")


def _no_number(name: str) -> None:
    raise ValueError(f"it holds {name}, which is no number")
