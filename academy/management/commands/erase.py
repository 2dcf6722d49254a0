"""Erase a person for good, on the machine itself."""

from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy import erasure
from academy.models import Student


class Command(BaseCommand):
    help = "Erase one student: every row, file and trace. It cannot be undone."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("code", help="The code in the address of their page.")
        parser.add_argument("--yes", action="store_true", help="Do not ask.")

    def handle(self, *args, code: str, yes: bool, **options) -> None:
        student = next((one for one in Student.objects.all() if str(one.code) == code), None)
        if student is None:
            raise CommandError(f"There is no student with the code {code}.")
        if not yes and input(f"Erase {student.name} for good? Type the name: ") != student.name:
            raise CommandError("Nothing was erased.")
        try:
            kept = erasure.erase(student=student, by=None)
        except erasure.CannotErase as error:
            raise CommandError(str(error)) from error
        self.stdout.write(
            f"Erased: {kept.rows} entries, {kept.files} files. Automatic backups hold them until {kept.backups_until}."
        )
