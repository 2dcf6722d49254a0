"""Turn a person's second factor off, on the machine itself: for a lost phone and lost codes."""

from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy.models import Coach
from academy.second_factor import turn_off


class Command(BaseCommand):
    help = "Turn off the second step of signing in for one person."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", help="The name they sign in with.")

    def handle(self, *args, name: str, **options) -> None:
        coach = Coach.objects.filter(username=name).first()
        if coach is None:
            raise CommandError(f"Nobody signs in as “{name}”.")
        if not turn_off(coach=coach):
            raise CommandError(f"{name} has no second factor.")
        self.stdout.write(f"{name} signs in with the password alone now.")
