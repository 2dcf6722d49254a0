"""End what has been kept for long enough. The running server does this once a day; elsewhere a timer does."""

from django.core.management.base import BaseCommand
from django.utils import timezone

from academy import keeping


class Command(BaseCommand):
    help = "End what has been kept for as long as the academy's settings say."

    def handle(self, *args, **options) -> None:
        for key, count in keeping.run(now=timezone.now()).items():
            if count:
                self.stdout.write(f"{keeping.LINES[key].what}: {count}")
        self.stdout.write("Tidied.")
