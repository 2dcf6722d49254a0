"""The page of one battery while it is filled in, and the list of a student's batteries."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from academy import health
from academy.models import Academy, Student
from lessons.models import Attachment, Battery, Lesson
from metrics.plans.battery import ASKED, LOOKS

from .done import Done, done_in
from .due import due_of


@dataclass(frozen=True, kw_only=True)
class Part:
    """One part of the guided form: its name, how far it is, and whether it is done."""

    slug: str
    title: str
    gist: str
    done: bool
    open: bool = False


def batteries_page(*, student: Student, today: date) -> dict[str, Any]:
    """Return a student's batteries, newest first, and when the next is due. Two queries."""
    known = list(student.batteries.filter(removed_at__isnull=True).order_by("-begun_on", "-pk"))
    return {"student": student, "batteries": known, "due": due_of(student=student, today=today)}


def battery_page(*, battery: Battery, house: Academy, opened: str = "") -> dict[str, Any]:
    """Return one battery as it is filled in; ``opened`` names the part to show open. About eight queries."""
    student = battery.student
    measures = done_in(battery)
    flags = health.open_flags(student=student)
    visits = [pk for pk in (battery.lesson_id, battery.second_lesson_id) if pk]
    beside = {
        "clubs": student.clubs.filter(to_date__isnull=True).count(),
        "pictures": Attachment.objects.filter(lesson__in=visits, removed_at__isnull=True).count(),
        "rounds": student.rounds.filter(removed_at__isnull=True).count(),
    }
    return {
        "battery": battery, "student": student, "measures": measures, "beside": beside,
        "parts": _parts(battery, measures, opened), "cards": health.advice_for(flags, academy=house),
        "stopped": any(flag.stops_long_game for flag in flags), "red_flags": health.RED_FLAGS,
        "running": student.lessons.filter(status=Lesson.Status.RUNNING).order_by("-starts_at").first(),
    }


def _parts(battery: Battery, measures: list[Done], opened: str) -> dict[str, Part]:
    """Return the parts by their slug; the first that is not done is open where none was asked for."""
    full = sum(one.complete for one in measures)
    looked, hurt = sum(look.key in battery.looked for look in LOOKS), "pain" in battery.looked.values()
    found = [
        Part(slug="ask", title="Ask", done=bool(battery.asked), gist=f"{len(battery.asked)} of {len(ASKED)} answered"),
        Part(slug="body", title="The body", done=bool(battery.health),
             gist="asked" if battery.health else "not asked yet"),
        Part(slug="look", title="Look", done=looked == len(LOOKS) or hurt,
             gist="ended: a look hurt" if hurt else f"{looked} of {len(LOOKS)} looked at"),
        Part(slug="measure", title="Measure", done=full == len(measures), gist=f"{full} of {len(measures)} complete"),
    ]
    first = opened or next((one.slug for one in found if not one.done), "measure")
    return {one.slug: Part(**{**vars(one), "open": one.slug == first}) for one in found}
