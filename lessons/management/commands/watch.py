"""Watch a folder into which a device drops its files."""

import time
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError, CommandParser

from lessons.models import DataSource
from lessons.services.watching import Watcher


class Command(BaseCommand):
    help = (
        "Take in new rows of the delimited files (.csv, .txt, .tsv, .tab) in FOLDER as they are written: into the "
        "lesson that is running, else into the inbox. Stop with Ctrl-C; a restart goes on where it stopped."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("folder", type=Path, metavar="FOLDER")
        parser.add_argument("--source", required=True, help="Name of the source whose columns were matched.")
        parser.add_argument("--every", type=float, default=0.5, help="Seconds between two looks (default 0.5).")
        parser.add_argument("--once", action="store_true", help="Read what is there, and stop.")

    def handle(self, *args, folder: Path, source: str, every: float, once: bool, **options) -> None:
        folder = folder.expanduser()
        if not folder.is_dir():
            raise CommandError(f"There is no folder at {folder}.")
        if not 0.05 <= every <= 3600:
            raise CommandError(f"--every is {every:g}; expected 0.05 to 3600 seconds.")
        known = DataSource.objects.filter(name=source).first()
        if known is None:
            names = ", ".join(DataSource.objects.values_list("name", flat=True)) or "none yet"
            raise CommandError(f"There is no source called “{source}”. Sources: {names}.")
        self._watch(Watcher(folder=folder, source=known, say=self._say), folder=folder, every=every, once=once)

    def _watch(self, watcher: Watcher, *, folder: Path, every: float, once: bool) -> None:
        self._say(f"Watching {folder} for files of {watcher.source}. Ctrl-C stops.")
        try:
            watcher.look()  # The first look only notes sizes; the second reads what stood still.
            while True:
                time.sleep(every)
                watcher.look()
                if once:
                    return
        except FileNotFoundError as error:
            raise CommandError(f"The folder {folder} is gone.") from error
        except KeyboardInterrupt:
            self._say("Stopped. Nothing is lost: the next start goes on from here.")

    def _say(self, sentence: str) -> None:
        self.stdout.write(sentence)
        self.stdout.flush()
