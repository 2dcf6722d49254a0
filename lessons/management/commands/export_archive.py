"""Write a record as one JSON document."""

import json
import os
from pathlib import Path

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from academy.models import Student
from lessons import archive


class Command(BaseCommand):
    help = "Write the academy's whole record, or one student's, to FILE as JSON that goes in again."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")
        parser.add_argument("--student", metavar="CODE", help="One student: the code in the address of their page.")
        parser.add_argument(
            "--sharing", action="store_true",
            help="Without private notes, health, messages and history. It still names people.",
        )

    def handle(self, *args, file: Path, student: str | None, sharing: bool, **options) -> None:
        document = archive.write(student=_student(student) if student else None, sharing=sharing)
        file = file.expanduser()
        part = file.with_name(f".{file.name}.part")
        try:
            # For nobody else's eyes, and never half a file under the name that was asked for.
            with open(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8") as out:
                json.dump(document, out, ensure_ascii=False, allow_nan=False)
                out.flush()
                os.fsync(out.fileno())
            os.replace(part, file)
        except OSError as error:
            raise CommandError(f"{file} could not be written: {error.strerror}.") from error
        self.stdout.write(f"{file}: {sum(document['counts'].values())} rows in {len(document['counts'])} tables.")


def _student(code: str) -> Student:
    try:
        return Student.objects.get(code=code)
    except (Student.DoesNotExist, ValidationError) as error:
        raise CommandError(f"There is no student with the code {code}.") from error
