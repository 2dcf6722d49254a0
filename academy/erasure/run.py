"""Doing it: one transaction for the rows, then the files, then the empty space of the database."""

from datetime import date, timedelta
from pathlib import Path
from uuid import UUID

from django.conf import settings
from django.db import connection, transaction
from django.utils import timezone

from academy.backup import KEEP
from academy.models import Coach, Erasure, Session, Student
from academy.share import adult_age

from .history import scrub_history
from .rows import Extent, extent_of, portions

LIST = "erased.txt"
"""In the data folder, not in the database: a restored backup does not know whom it has to forget again."""


class CannotErase(Exception):
    """The record has to stay for now; the text is for the person who asked."""


def preview(*, student: Student) -> Extent:
    """Return what would go."""
    return extent_of(student)


def horizon(today: date) -> date:
    """Return the day after which no automatic backup holds what is erased today: one a day, KEEP of them; those
    made before an update are kept for ``backup_days``, see academy.keeping."""
    from academy.keeping import days_kept

    return today + timedelta(days=max(KEEP, days_kept("backups") or 0) + 1)


def refuse_where_kept(student: Student) -> None:
    """Raise CannotErase while something about this person is open that others are answerable for. The sentence
    does not say what: not everybody who may erase may know."""
    concerns = student.concerns.filter(closed_at__isnull=True).exists()
    incidents = hasattr(student, "incidents") and student.incidents.filter(closed_on__isnull=True).exists()
    if concerns or incidents:
        raise CannotErase(
            "Something about this person is still open, and the academy is answerable for it. Speak with your "
            "welfare lead, and erase the record afterwards."
        )


def erase(*, student: Student, by: Coach | None) -> Erasure:
    """Erase a person. Raises CannotErase. What is left is one line with their code and counts."""
    refuse_where_kept(student)
    if by is not None and not by.is_owner and student.is_junior(adult_age=adult_age()):
        raise CannotErase("A junior’s record is erased by the owner of the academy alone.")
    names = [student.name, student.email, student.phone]
    with transaction.atomic():
        _overwrite()
        student = Student.objects.select_for_update().get(pk=student.pk)
        found = extent_of(student)
        names += [name for guardian in student.guardians.all() if guardian.pk in found.keys[type(guardian)]
                  for name in (guardian.name, guardian.email, guardian.phone)]
        _end_open_pages(student)
        scrub_history(found=found, names=[name for name in names if name])
        _delete(found)
        kept, _ = Erasure.objects.update_or_create(student_code=student.code, defaults={
            "rows": found.rows, "files": len(found.files), "created_by": by,
            "backups_until": horizon(timezone.localdate()),
        })
        _remember(student.code)
    for path in (*found.files, *_mails_to([name for name in names if name and "@" in name])):
        path.unlink(missing_ok=True)
    _forget_empty_space()
    return kept


def again() -> int:
    """Erase whom an older backup has brought back; return how many. For after a restore."""
    path = settings.DATA_DIR / LIST
    codes = [UUID(line) for line in path.read_text().split()] if path.exists() else []
    found = list(Student.objects.filter(code__in=codes))
    for student in found:
        student.concerns.update(closed_at=timezone.now())
        if hasattr(student, "incidents"):
            student.incidents.filter(closed_on__isnull=True).update(closed_on=timezone.localdate())
        erase(student=student, by=None)
    return len(found)


def _delete(found: Extent) -> None:
    """Keys are checked when the transaction ends, so the order of the tables does not matter."""
    for column, keys in found.emptied:
        for part in portions(keys):
            column.model._base_manager.filter(pk__in=part).update(**{column.name: None})
    for model, keys in found.keys.items():
        for part in portions(keys):
            rows = model._base_manager.filter(pk__in=part)
            rows._raw_delete(rows.db)


def _end_open_pages(student: Student) -> None:
    links = set(student.links.values_list("pk", flat=True))
    for session in Session.objects.filter(coach__isnull=True).iterator():
        if session.get_decoded().get("private_link") in links:
            session.delete()


def _overwrite() -> None:
    """Let SQLite fill what it deletes with zeroes instead of only forgetting where it was."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA secure_delete = ON")


def _forget_empty_space() -> None:
    """Write the database anew: earlier versions of a row may lie in space that was freed long ago."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with connection.cursor() as cursor:
            cursor.execute("VACUUM")
            cursor.execute("PRAGMA secure_delete = OFF")


def _remember(code: UUID) -> None:
    path = settings.DATA_DIR / LIST
    with open(path, "a") as file:
        file.write(f"{code}\n")
    path.chmod(0o600)


def _mails_to(addresses: list[str]) -> list[Path]:
    """Return the mails in the outbox folder that name one of the addresses."""
    outbox = Path(getattr(settings, "EMAIL_FILE_PATH", "") or settings.DATA_DIR / "outbox")
    mails = outbox.glob("*.log") if outbox.exists() else ()
    return [path for path in mails if any(one in path.read_text(errors="replace") for one in addresses)]


