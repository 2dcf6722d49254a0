"""Put the shipped library into the database; safe to run again."""

from django.core.management.base import BaseCommand

from lessons.library import load_shipped


class Command(BaseCommand):
    help = "Load the shipped patterns, drills and setup windows. Your own entries and values stay as they are."

    def handle(self, *args, **options) -> None:
        counts = load_shipped()
        self.stdout.write(
            f"Library: {counts['patterns']} patterns, {counts['drills']} drills, "
            f"{counts['changed']} entries new or changed."
        )
