"""Make a checked backup while the program runs."""

from getpass import getpass
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy.backup import BackupError, backups_folder, make_backup
from academy.backup_seal import SHORTEST_PASSPHRASE, seal_file


class Command(BaseCommand):
    help = "Write a checked backup of database and media to FOLDER (default: backups in the data folder)."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", nargs="?", type=Path, help="Where to write it.")
        parser.add_argument("--passphrase", action="store_true", help="Ask for a passphrase and seal the file.")

    def handle(self, *args, folder: Path | None, passphrase: bool, **options) -> None:
        try:
            words = _asked() if passphrase else ""
            report = make_backup(folder=(folder or backups_folder()).expanduser())
            path = seal_file(path=report.path, passphrase=words) if passphrase else report.path
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(
            f"{path}: {sum(report.rows.values())} rows in {len(report.rows)} tables, "
            f"{report.media_files} media files, checked."
        )


def _asked() -> str:
    words = getpass("Passphrase: ")
    if len(words) < SHORTEST_PASSPHRASE:
        raise BackupError(f"The passphrase is too short; expected {SHORTEST_PASSPHRASE} characters or more.")
    if getpass("Once more: ") != words:
        raise BackupError("The two do not agree; nothing was written.")
    return words
