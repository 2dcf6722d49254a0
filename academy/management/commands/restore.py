"""Put a backup in place of the data; the old data is set aside, never deleted."""

from getpass import getpass
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy import erasure
from academy.backup import BackupError
from academy.backup_seal import is_sealed
from academy.restoring import restore
from academy.serving import prepare_database


class Command(BaseCommand):
    help = "Replace the data by a backup after checking it. Stop the server first."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args, file: Path, **options) -> None:
        try:
            file = file.expanduser()
            aside = restore(path=file, passphrase=getpass("Passphrase: ") if is_sealed(file) else "")
        except BackupError as error:
            raise CommandError(str(error)) from error
        prepare_database(say=self.stdout.write)
        if forgotten := erasure.again():
            self.stdout.write(f"People who were erased since that backup, erased again: {forgotten}.")
        self.stdout.write(f"Restored from {file}.")
        if aside:
            self.stdout.write(f"The data from before lies in {aside}.")
