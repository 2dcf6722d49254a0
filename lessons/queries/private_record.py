"""What lies behind a student on the private page (lessons, changes, balls, pictures, what was said): made once, kept
until something is written. Nothing of their health is kept here."""

from dataclasses import asdict, dataclass, field
from datetime import date, datetime, timedelta
from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from academy.consents import Rules, consent_allows
from academy.models import Consent, Student
from lessons.models import Block, Prescription, StudentMessage
from lessons.summaries import SUMMARY_VERSION, refresh
from metrics.units import System

from .age_bands import Band
from .goals.lines import goal_lines, student_goals
from .held import Held, held_of, in_work
from .media import newest_pairs
from .packages import left_of
from .prepared import prepared
from .private_picture import TAUGHT, setup_picture
from .private_progress import Heap, Pair, aids, first_ten, progress_words
from .shown import only, read
from .student_words import sentence


@dataclass(frozen=True, kw_only=True)
class Record:
    """The verdict and the change in this age's words, the balls then and now, the setup to copy, lessons newest first.

    ``near`` holds the lessons from a week ago on, ``last`` what was agreed at the last one for the next; ``pairs``
    counts the pictures.
    """

    progress: dict[str, str] | None
    first_ten: Pair | None
    aids: Pair | None
    thing: dict[str, Any] | None
    picture: SafeString | None
    picture_words: str
    history: list[dict[str, str]]
    goals: list[dict[str, str]] = field(default_factory=list)
    near: list[dict[str, Any]] = field(default_factory=list)
    last: dict[str, Any] = field(default_factory=dict)
    said: list[dict[str, Any]] = field(default_factory=list)
    package: dict[str, Any] = field(default_factory=dict)
    pairs: int = 0
    messaging: dict[str, Any] = field(default_factory=dict)


def record_of(
    *, student: Student, who: dict[str, Any], system: System, band: Band, day: date, by: Rules
) -> Record:
    """Return what lies behind the student. Two queries; about fifteen more where something was written since."""
    told = prepared(
        student=student, name="private", rests_on=(system, band.key, who["hand"], who["shoulder_width_cm"], by),
        make=lambda: _record(student, who, system, band, day) | _allowed(student, day, by),
    )
    last = told["last"]
    return Record(**told | {
        "first_ten": _pair(told["first_ten"]), "aids": _pair(told["aids"]),
        "picture": mark_safe(told["picture"]) if told["picture"] else None,  # as our own builder drew it
        "near": [one | {"starts_at": datetime.fromisoformat(one["starts_at"])} for one in told["near"]],
        "last": last | {"next_date": date.fromisoformat(last["next_date"]) if last.get("next_date") else None},
        "said": [one | {"sent_at": datetime.fromisoformat(one["sent_at"])} for one in told["said"]],
    })


def _record(student: Student, who: dict[str, Any], system: System, band: Band, day: date) -> dict[str, Any]:
    every = read("lesson", student.lessons.order_by("-starts_at")[:100])
    lessons = [lesson for lesson in every if lesson["status"] in TAUGHT]
    things, package = _things(student), left_of(student=student, day=day)
    picture, picture_words = setup_picture(
        student=student, who=who, thing=things[0] if things else None, numbers=band.numbers)
    return {
        **_balls(student, system, band, day, left_handed=who["hand"] == Student.Hand.LEFT),
        "thing": _thing(things[0], band) if things else None, "picture": picture, "picture_words": picture_words,
        "near": [only(("starts_at", "minutes", "status"), lesson) for lesson in every
                 if timezone.localdate(lesson["starts_at"]) > day - timedelta(days=9)],
        "history": _history(lessons, things, band),
        "last": {name: lessons[0][name] for name in ("next_date", "next_measure")} if lessons else {},
        "said": _said(student), "package": {"ever": package.ever, "sentence": package.sentence},
        "pairs": len(newest_pairs(student=student)),
    }


def _allowed(student: Student, day: date, by: Rules) -> dict[str, Any]:
    messaging = consent_allows(student=student, item=Consent.Item.MESSAGING, day=day, by=by)
    return {"messaging": {"allowed": messaging.allowed, "reason": messaging.reason}}


def _balls(student: Student, system: System, band: Band, day: date, *, left_handed: bool) -> dict[str, Any]:
    work, blocks = in_work(student=student), _blocks(student)
    held = held_of(work=work, student=student, system=system) if work else Held()
    goals = goal_lines(student=student, system=system, today=day, work=work)
    return {
        "goals": student_goals(lines=goals, band=band),
        "progress": progress_words(held.verdict, band),
        "first_ten": _plain(first_ten(blocks=blocks, wanted=held.quantity, left_handed=left_handed)),
        "aids": _plain(aids(blocks=blocks, wanted=held.quantity, left_handed=left_handed)),
    }


def _blocks(student: Student) -> list[dict[str, Any]]:
    """Return the blocks that are compared, newest visit first. Two queries; more where numbers are stale."""
    rows = Block.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True,
        purpose__in=[Block.Purpose.FIRST_TEN, Block.Purpose.WITH_AID, Block.Purpose.NO_AID],
    )
    for stale in rows.exclude(summary_version=SUMMARY_VERSION).select_related("lesson__device"):
        refresh(stale)
    return read("block", rows.order_by("-lesson__starts_at", "-position")[:40])


def _things(student: Student) -> list[dict[str, Any]]:
    """Return the changes that were chosen, newest first. One query."""
    rows = Prescription.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True
    ).order_by("-lesson__starts_at", "-pk")
    found = read("prescription", rows[:80])
    return [{**row, "change": sentence(row["change"]), "stop_sign": sentence(row["stop_sign"])} for row in found]


def _thing(thing: dict[str, Any], band: Band) -> dict[str, Any]:
    """Return the one thing for an age: the cue stays as it was said, measures are for those who read them."""
    return {**thing, **{key: thing[key] if band.may_read(thing[key]) else "" for key in ("change", "stop_sign")}}


def _history(taught: list[dict[str, Any]], things: list[dict[str, Any]], band: Band) -> list[dict[str, str]]:
    changed = {
        thing["lesson__starts_at"]: thing["change"] if band.may_read(thing["change"]) else sentence(thing["cue"])
        for thing in reversed(things)
    }
    return [
        {
            "day": f"{timezone.localtime(lesson['starts_at']):%-d %B %Y}", "note": lesson["student_note"],
            "worked_on": changed.get(lesson["starts_at"]) or sentence(lesson["goal"]),
        }
        for lesson in taught
    ]


def _said(student: Student) -> list[dict[str, Any]]:
    """Return the messages with their kinds in words. One query."""
    rows = read("message", student.messages.order_by("-sent_at")[:20])
    return [{**row, "label": StudentMessage.Kind(row["kind"]).label} for row in rows]


def _plain(pair: Pair | None) -> dict[str, Any] | None:
    return asdict(pair) if pair else None


def _pair(told: dict[str, Any] | None) -> Pair | None:
    return Pair(**told | {"first": _heap(told["first"]), "second": _heap(told["second"])}) if told else None


def _heap(told: dict[str, Any] | None) -> Heap | None:
    return Heap(**told | {"when": datetime.fromisoformat(told["when"])}) if told else None
