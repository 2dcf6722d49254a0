"""Everything that is kept about a student and is theirs to have: an overview, a file for machines, one to read.

The coach's own working notes are not part of it; the page says so and says whom to ask. Row numbers, digests of
links and other people's records are left out.
"""

from typing import Any

from django.db.models import QuerySet
from django.utils import timezone
from django.utils.formats import date_format

from academy.models import Student
from lessons.models import (
    Attachment,
    Block,
    CourseShot,
    PracticeDays,
    Prescription,
    SetupLook,
    SetupObservation,
    Shot,
    SkillBall,
)
from metrics.fields import FIELDS

STUDENT = (
    "name", "hand", "born_on", "email", "phone", "handicap_index", "is_beginner", "height_cm", "shoulder_width_cm",
    "units", "language", "practice_minutes_week", "status", "created_at",
)
SHOT = (
    "block__lesson__starts_at", "block__position", "number", "hit_at", "called_start", "called_curve",
    "called_height", "contact", "is_mishit", "excluded_reason", *FIELDS,
)


def _parts(student: Student) -> list[tuple[str, str, QuerySet, tuple[str, ...]]]:
    """Return for each part: its name in the file, its name for people, its rows, its columns."""
    lessons = student.lessons.order_by("starts_at")
    blocks = Block.objects.filter(lesson__student=student, removed_at__isnull=True)
    setups = SetupObservation.objects.filter(lesson__student=student, removed_at__isnull=True)
    changes = Prescription.objects.filter(lesson__student=student, removed_at__isnull=True)
    shots = Shot.objects.present().filter(block__lesson__student=student).order_by("hit_at", "pk")
    return [
        ("goals", "Goals", student.goals.all(), ("kind", "text", "quantity", "club__name", "category",
                                                  "test", "lower", "upper", "by_date", "ended_on")),
        ("clubs", "Clubs", student.clubs.all(), ("name", "category", "loft_deg", "from_date", "to_date")),
        ("wanted_flights", "Flights you want", student.intents.all(), ("category", "shape")),
        ("guardians", "Guardians", student.guardians.all(), ("name", "email", "phone")),
        ("consents", "Consents", student.consents.all(),
         ("item", "given_by_name", "given_on", "expires_on", "withdrawn_on")),
        ("health", "Health entries", student.health_flags.all(),
         ("area", "severity", "is_new", "red_flag", "text", "reported_at", "cleared_at")),
        ("pain_days", "Days with a word about pain", student.pain_readings.all(), ("said_on", "severity")),
        ("lessons", "Lessons", lessons,
         ("starts_at", "minutes", "kind", "status", "goal", "student_note", "next_date", "next_measure", "played",
          "practised", "second_adult")),
        ("changes", "Changes agreed", changes, ("lesson__starts_at", "change", "cue", "stop_sign")),
        ("setups", "Setup numbers", setups,
         ("lesson__starts_at", "category", "checkpoint", "phase", "value", "method")),
        ("repeated_setups", "Setups without a ball", SetupLook.objects.filter(
            series__lesson__student=student, series__removed_at__isnull=True, removed_at__isnull=True),
         ("series__lesson__starts_at", "series__club_name", "series__aids", "number", "checkpoint", "value",
          "method")),
        ("pictures", "Pictures and clips", Attachment.objects.filter(lesson__student=student, removed_at__isnull=True),
         ("lesson__starts_at", "angle", "club_name", "phase", "aids", "delete_on")),
        ("blocks", "Blocks of balls", blocks,
         ("lesson__starts_at", "position", "club_name", "intent", "aids", "purpose")),
        ("balls", "Balls", shots, SHOT),
        ("drills", "Drills given", student.assignments.filter(removed_at__isnull=True),
         ("card__name", "dose", "starts_on", "ends_on")),
        ("practice", "Practices", student.practice.all(),
         ("practised_at", "minutes", "balls", "hits", "pain", "fun", "note")),
        ("rounds", "Rounds", student.rounds.filter(removed_at__isnull=True), (
            "played_on", "course", "holes", "adjusted_gross", "course_rating", "slope", "pcc", "official_differential",
            "official_index", "fairways", "greens", "putts", "penalties")),
        ("short_game", "Balls of short-game tests", SkillBall.objects.filter(
            test__student=student, test__removed_at__isnull=True, removed_at__isnull=True),
         ("test__begun_at", "test__design", "number", "target_m", "done", "value_m", "side", "contact")),
        ("course_shots", "Shots on the course", CourseShot.objects.filter(
            lesson__student=student, removed_at__isnull=True),
         ("lesson__starts_at", "hole", "number", "lie", "club", "club_advised", "aim", "committed", "result", "cause",
          "half_a_shot")),
        ("batteries", "First visit and test batteries", student.batteries.filter(removed_at__isnull=True),
         ("begun_on", "finished_on", "asked", "health", "looked")),
        ("events", "Events you want to be ready for", student.events.filter(removed_at__isnull=True),
         ("on_date", "name")),
        ("plans", "Plans of visits and seasons", student.plans.filter(removed_at__isnull=True).exclude(
            kind="practice"), ("kind", "title", "version", "starts_on", "ended_on", "reason")),
        ("practice_plans", "Practice plans", student.plans.filter(kind="practice", removed_at__isnull=True),
         ("title", "starts_on", "ended_on", "body__weeks")),
        ("practice_days", "Days of practice", PracticeDays.objects.filter(student=student), ("weekdays", "at")),
        ("messages", "Messages", student.messages.all(),
         ("kind", "text", "written_by", "sent_at", "answer", "answered_at")),
        ("links", "Private links", student.links.all(),
         ("created_at", "expires_at", "revoked_at", "first_seen_at", "last_seen_at")),
    ]


def overview(*, student: Student) -> list[dict[str, Any]]:
    """Return how many entries of each part there are. One query a part."""
    return [{"name": label, "count": rows.count()} for _, label, rows, _ in _parts(student)]


def everything(*, student: Student) -> dict[str, Any]:
    """Return the whole record as plain JSON values. One query a part, and one."""
    record: dict[str, Any] = {
        "made_at": timezone.now().isoformat(),
        "signs": "player-relative: + is the slice side for both hands; SI units, degrees and rpm excepted",
        "student": Student.objects.filter(pk=student.pk).values(*STUDENT)[0],
    }
    for name, _, rows, columns in _parts(student):
        record[name] = [_tidy(row) for row in rows.values(*columns)]
    return record


def as_text(record: dict[str, Any]) -> str:
    """Return the record as a page of plain text, one line an entry; balls by number only."""
    lines = ["What is kept about you", "=" * 22, "", f"Made {record['made_at'][:16].replace('T', ' ')} UTC", ""]
    for name, value in record.items():
        if name in {"made_at", "signs"}:
            continue
        lines += [name.replace("_", " ").capitalize(), "-" * len(name)]
        if name in {"balls", "short_game"}:
            lines.append(f"{len(value)} balls; each with its numbers in the other file (json).")
        elif isinstance(value, dict):
            lines += [f"{_heading(key)}: {_plain(item)}" for key, item in value.items() if item not in (None, "")]
        else:
            lines += ["; ".join(f"{_heading(key)} {_plain(item)}" for key, item in row.items()) for row in value]
            lines += [] if value else ["nothing"]
        lines.append("")
    return "\n".join(lines)


def _tidy(row: dict[str, Any]) -> dict[str, Any]:
    """Drop what is empty and shorten the names that came over a relation."""
    short = {key.replace("block__lesson__starts_at", "lesson").replace("lesson__starts_at", "lesson")
             .replace("block__position", "block").replace("card__name", "drill").replace("club__name", "club")
             .replace("weekdays", "weekdays (0 is Monday)").removeprefix("body__").removeprefix("series__")
             .removeprefix("test__"): value
             for key, value in row.items()}
    return {key: value for key, value in short.items() if value not in (None, "", [])}


def _heading(key: str) -> str:
    return key.replace("_", " ")


def _plain(value: Any) -> str:
    if hasattr(value, "hour"):
        return date_format(timezone.localtime(value), "j F Y, H:i")
    if hasattr(value, "year"):
        return date_format(value, "j F Y")
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return f"{len(value)}, each in full in the other file (json)"
    if isinstance(value, dict):
        return ", ".join(f"{_heading(key)} {said}" for key, said in value.items())
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return {True: "yes", False: "no"}.get(value, str(value)) if isinstance(value, bool) else str(value)
