"""Make a checked backup while the program runs."""

from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy.backup import BackupError, backups_folder, make_backup


class Command(BaseCommand):
    help = "Write a checked backup of database and media to FOLDER (default: backups in the data folder)."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", nargs="?", type=Path, help="Where to write it.")

    def handle(self, *args, folder: Path | None, **options) -> None:
        try:
            report = make_backup(folder=(folder or backups_folder()).expanduser())
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(
            f"{report.path}: {sum(report.rows.values())} rows in {len(report.rows)} tables, "
            f"{report.media_files} media files, checked."
        )
