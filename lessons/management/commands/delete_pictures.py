"""Delete kept pictures and clips that are due: past their day, taken out, or no longer allowed."""

from django.core.management.base import BaseCommand

from lessons.services.media import delete_due


class Command(BaseCommand):
    help = "Delete pictures and clips whose day has come or whose consent has ended. Runs by itself while serving."

    def handle(self, *args, **options) -> None:
        gone = delete_due()
        if gone or options["verbosity"] > 1:
            self.stdout.write(f"Deleted {gone} picture{'' if gone == 1 else 's'} or clips that were due.")
