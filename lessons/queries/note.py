"""The lesson note: built from the taps, and the page that prints it.

It reads the named columns only. The coach's own notes, findings' evidence and everything about health are not
among them.
"""

from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString

from lessons.library import current_library, stored_library
from lessons.models import Block, Finding, Lesson, Prescription
from lessons.queries.compare_today import compare_today
from lessons.queries.contact_today import contact_today
from lessons.queries.lesson import blocks_of
from lessons.queries.plans.practice import Practice, practice_today
from lessons.queries.private_picture import TAUGHT
from lessons.queries.setup import board_of, work_block
from lessons.queries.setup_pictures import plan
from metrics.rules.words import fill

CARD = ("name", "why", "setup", "steps", "cue", "pass_mark", "caution")


def words_of(lesson: Lesson) -> str:
    """Return the note for the student as the taps make it; the coach may write it anew. About eight queries."""
    change = lesson.prescriptions.filter(removed_at__isnull=True).last()
    found = lesson.findings.filter(removed_at__isnull=True, decision=Finding.Decision.CONFIRMED).last()
    parts = [_clubs(blocks_of(lesson))]
    if found:
        parts.append(f"What we found: {reason_of(found, hand=lesson.student.hand)}")
    if change:
        parts.append(f"The one thing to change: {_lower(change.change)}.")
        parts += [f"Your cue: “{change.cue}”."] if change.cue else []
        parts += [f"You have gone too far when: {_lower(change.stop_sign)}."] if change.stop_sign else []
    parts.append(_today(lesson, tuple((change.expected if change else {}) or ())))
    return "\n".join(part for part in parts if part)


def reason_of(found: Finding, *, hand: str) -> str:
    """Return a finding in everyday words; its title where the library has none for it. One query."""
    pattern = stored_library().patterns.get(found.pattern)
    return fill(pattern.plain, hand=hand) if pattern and pattern.plain else f"{_lower(found.title)}."


def note_page(lesson: Lesson) -> dict[str, Any]:
    """Return what the sheet shows, on paper, in a mail and as text. About ten queries."""
    assignments = lesson.assignments.filter(removed_at__isnull=True)
    found = lesson.findings.filter(removed_at__isnull=True, decision=Finding.Decision.CONFIRMED).last()
    text = lesson.student_note or words_of(lesson)
    reason = reason_of(found, hand=lesson.student.hand) if found else ""
    return {
        "lesson": lesson, "student": lesson.student, "text": text,
        "reason": "" if reason in text else reason[:1].upper() + reason[1:],
        "change": change_in_force(lesson),
        "drills": [_drill(assignment) for assignment in assignments], "picture": _picture(lesson),
        "practice": _practice(lesson),
    }


def change_in_force(lesson: Lesson) -> Prescription | None:
    """Return the lesson's one change, else the newest of an earlier visit: it goes on. One query."""
    rows = Prescription.objects.filter(
        lesson__student=lesson.student_id, lesson__starts_at__lte=lesson.starts_at, removed_at__isnull=True)
    return rows.order_by("lesson__starts_at", "pk").last()


def _practice(lesson: Lesson) -> Practice | None:
    """Return the practice plan in use where this is the newest visit: an older sheet does not speak of today.

    A plan is the student's own coach's; the sheet of somebody who gave one lesson leaves it out.
    """
    student = lesson.student
    newer = student.lessons.filter(starts_at__gt=lesson.starts_at, status__in=TAUGHT).exists()
    theirs = lesson.coach_id == student.coach_id and not newer
    found = practice_today(student=student, now=timezone.now()) if theirs else None
    return found if found and found.now and any(sitting.tasks for sitting in found.now.sittings) else None


def _drill(assignment: Any) -> dict[str, Any]:
    card = assignment.card or {}
    return {**{key: card[key] for key in CARD if card.get(key)}, "name": assignment.name,
            "dose": assignment.dose or card.get("dose", ""), "minutes_week": assignment.minutes_week}


def _picture(lesson: Lesson) -> SafeString | None:
    block = work_block(lesson)
    if block is None:
        return None
    board = board_of(lesson=lesson, block=block, library=current_library(lesson.student))
    return plan(board, left_handed=lesson.student.left_handed, key="note-plan") if board.noted else None


def _clubs(blocks: list[Block]) -> str:
    names = list(dict.fromkeys(block.club_name.lower() for block in blocks if block.summary.get("balls")))
    balls = sum(block.summary.get("balls", 0) for block in blocks)
    return f"Today: {balls} ball{'' if balls == 1 else 's'} with the {', '.join(names)}." if names else ""


def _today(lesson: Lesson, wanted: tuple[str, ...]) -> str:
    today = compare_today(lesson=lesson, wanted=wanted)
    if today is None:
        contact = contact_today(lesson=lesson)
        return contact.for_student if contact else ""
    said = [part.student for part in (today.verdict, today.aids) if part is not None]
    return " ".join(f"{words.verdict}: {_lower(words.reason)}" for words in said[:1])


def _lower(text: str) -> str:
    text = text.strip().rstrip(".")
    return text[:1].lower() + text[1:] if text[1:2].islower() or text[1:2] == " " else text
