"""The causes of the Monday list, each from its own query over everybody at once."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.db.models import Max, OuterRef, Q, QuerySet, Subquery
from django.urls import reverse
from django.utils import timezone

from academy.consents import EXPIRES_SOON_DAYS, rules
from academy.models import Club, Coach, Consent, Student
from lessons.house import House, house
from lessons.models import DrillAssignment, Lesson, PracticeEntry, QueueMark, StudentMessage
from lessons.models.office import Cause
from lessons.queries.followup_facts import LOOK_BACK, facts_of
from lessons.queries.packages import left_by_student
from lessons.queries.roster import Row as RosterRow
from lessons.queries.roster import roster_rows


@dataclass(frozen=True, kw_only=True)
class Row:
    """One student for one cause. ``about`` names the occasion: done for this one is not done for the next."""

    student: Student
    cause: str
    about: str
    why: str
    action: str
    url: str
    since: date | None = None
    said: str = ""
    mark: QueueMark | None = None

    @property
    def label(self) -> str:
        return Cause(self.cause).label

    @property
    def key(self) -> str:
        """What a form sends to name this row."""
        return f"{self.student.code}|{self.cause}|{self.about}"

    def waits(self, today: date) -> bool:
        """Say whether the row is still to be worked: neither done nor put off beyond today."""
        return self.mark is None or (self.mark.until is not None and self.mark.until <= today)


def found(*, coach: Coach, today: date, now: datetime) -> list[Row]:
    """Return every row, whatever was done about it. Paused students stand here only for what cannot wait."""
    rows, by = roster_rows(coach=coach, today=today), house()
    people = {row.student.pk: row.student for row in rows}
    seen = Student.objects.visible_to(coach).here()
    here = seen.filter(status=Student.Status.ACTIVE)
    said = last_said(coach, here)
    return [
        *_overdue(rows, said), *_sheets(coach, people, seen, now), *_questions(coach, people, seen),
        *_consents(people, seen, today), *_packages(people, here, today), *_silent(people, here, rows, by, now),
        *_clubs(people, here, by, today),
    ]


def last_said(coach: Coach, here: QuerySet | set[int]) -> dict[int, str]:
    """Return the last words to each student. What the coach wrote to them is the coach's; an owner reads what was
    agreed to measure next. One query."""
    given = Lesson.objects.filter(student=OuterRef("student"), status=Lesson.Status.FINISHED)
    given = given.exclude(kind=Lesson.Kind.PRACTICE).order_by("-starts_at", "-pk")
    last = Lesson.objects.filter(student__in=here, pk=Subquery(given.values("pk")[:1]))
    last = last.select_related("student").only("student__coach", "student_note", "next_measure", "next_date")
    return {
        lesson.student_id: lesson.student_note if lesson.student.coach_id == coach.pk and lesson.student_note
        else lesson.next_measure for lesson in last
    }


def _overdue(rows: list[RosterRow], said: dict[int, str]) -> list[Row]:
    return [
        _row(row.student, Cause.OVERDUE, f"visit {row.last_visit}", _sentence(row.overdue_because), "Ring, then book",
             f"{reverse('lessons:diary_book')}?student={row.student.code}", since=row.last_visit,
             said=said.get(row.student.pk, ""))
        for row in rows if row.overdue_because
    ]


def _sheets(coach: Coach, people: dict[int, Student], seen: QuerySet, now: datetime) -> list[Row]:
    """Five queries."""
    rows = Lesson.objects.filter(
        student__in=seen, status=Lesson.Status.FINISHED, starts_at__gte=now - LOOK_BACK, starts_at__lt=now,
        kind__in=[Lesson.Kind.LESSON, Lesson.Kind.COURSE],
    )
    last = {lesson.student_id: lesson for lesson in rows.order_by("starts_at")}
    told = facts_of(lessons=last.values()).values()
    return [
        _row(people[one.lesson.student_id], Cause.SHEET, f"lesson {one.lesson.code}",
             f"Lesson of {_day(timezone.localdate(one.lesson.starts_at))}: nothing was given yet.", "Give the sheet",
             reverse("lessons:note", args=[one.lesson.code]) if _own(one.lesson, coach, people) else "",
             since=timezone.localdate(one.lesson.starts_at))
        for one in told if one.given_at is None
    ]


def _questions(coach: Coach, people: dict[int, Student], seen: QuerySet) -> list[Row]:
    """One query. The words are for the student's own coach alone."""
    rows = StudentMessage.objects.filter(student__in=seen, answered_at=None, kind=StudentMessage.Kind.QUESTION)
    return [
        _row(people[one.student_id], Cause.QUESTION, f"message {one.code}",
             f"Asked on {_day(timezone.localdate(one.sent_at))}, no answer yet.", "Answer",
             reverse("lessons:student", args=[people[one.student_id].code]), since=timezone.localdate(one.sent_at),
             said=one.text if people[one.student_id].coach_id == coach.pk else "")
        for one in rows.order_by("sent_at")
    ]


def _consents(people: dict[int, Student], seen: QuerySet, today: date) -> list[Row]:
    """Two queries. Juniors only: of adults little is asked."""
    by = rules()
    soon = today + timedelta(days=EXPIRES_SOON_DAYS)
    last: dict[tuple[int, str], date] = {}
    for student, item, ends in Consent.objects.filter(student__in=seen, withdrawn_on=None).values_list(
        "student_id", "item", "expires_on"
    ):
        last[(student, item)] = max(ends, last.get((student, item), ends))
    ending: dict[int, list[tuple[date, str]]] = {}
    for (student, item), ends in last.items():
        if people[student].is_junior(adult_age=by.adult_age) and today - timedelta(days=60) <= ends <= soon:
            ending.setdefault(student, []).append((ends, Consent.Item(item).label))
    return [
        _row(people[student], Cause.CONSENT, f"until {min(items)[0]}", _consent_words(items, today),
             "Ask the guardian", reverse("academy:guardians", args=[people[student].code]), since=min(items)[0])
        for student, items in ending.items()
    ]


def _consent_words(items: list[tuple[date, str]], today: date) -> str:
    ends, _ = min(items)
    names = ", ".join(sorted(label.lower() for _, label in items))
    return f"{names.capitalize()}: {'ran out' if ends < today else 'runs out'} on {_day(ends)}."


def _packages(people: dict[int, Student], here: QuerySet, today: date) -> list[Row]:
    """One query."""
    found = []
    for student, left in left_by_student(students=here, day=today).items():
        low, ending = left.lessons <= 1 and not left.run_out, left.ends_within(day=today)
        if low or ending:
            found.append(_row(
                people[student], Cause.PACKAGE, f"left {left.lessons}, {left.next_expiry}", left.sentence,
                "Offer the next one", reverse("lessons:student_packages", args=[people[student].code]),
                since=left.next_expiry if ending else None,
            ))
    return found


def _silent(
    people: dict[int, Student], here: QuerySet, rows: list[RosterRow], by: House, now: datetime
) -> list[Row]:
    """Two queries: a drill was given, and nothing was ticked since for some weeks."""
    today, edge = timezone.localdate(now), now - timedelta(days=by.silent_days)
    given = dict(
        DrillAssignment.objects.filter(student__in=here, removed_at=None)
        .filter(Q(ends_on=None) | Q(ends_on__gte=today)).order_by().values_list("student")
        .annotate(newest=Max("starts_on"))
    )
    ticked = dict(
        PracticeEntry.objects.filter(student__in=here).order_by().values_list("student").annotate(Max("practised_at"))
    )
    active = {row.student.pk for row in rows if row.active}
    return [
        _row(people[student], Cause.SILENT, f"drill of {starts}", _silent_words(ticked.get(student), starts),
             "Ask how it goes", reverse("lessons:student", args=[people[student].code]), since=starts)
        for student, starts in given.items()
        if student in active and starts <= timezone.localdate(edge) and ticked.get(student, edge) <= edge
    ]


def _silent_words(last: datetime | None, starts: date) -> str:
    if last is None:
        return f"A drill was given on {_day(starts)}; no practice was ever ticked."
    return f"Last practice ticked on {_day(timezone.localdate(last))}."


def _clubs(people: dict[int, Student], here: QuerySet, by: House, today: date) -> list[Row]:
    """One query: clubs whose loft, lie and grip were noted long ago."""
    edge = today - timedelta(days=round(by.clubs_checked_months * 30.44))
    old: dict[int, list[Any]] = {}
    rows = Club.objects.filter(student__in=here, from_date__lte=edge).filter(Q(to_date=None) | Q(to_date__gt=today))
    for club in rows:
        old.setdefault(club.student_id, []).append(club)
    return [
        _row(people[student], Cause.EQUIPMENT, f"clubs since {min(club.from_date for club in clubs)}",
             f"{', '.join(club.name for club in clubs)}: noted in {min(club.from_date for club in clubs):%B %Y}.",
             "Check loft, lie and grips", reverse("academy:bag", args=[people[student].code]),
             since=min(club.from_date for club in clubs))
        for student, clubs in old.items()
    ]


def _row(student: Student, cause: str, about: str, why: str, action: str, url: str, **more: Any) -> Row:
    return Row(student=student, cause=cause, about=about, why=why, action=action, url=url, **more)


def _own(lesson: Lesson, coach: Coach, people: dict[int, Student]) -> bool:
    return coach.pk in (lesson.coach_id, people[lesson.student_id].coach_id)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _day(day: date) -> str:
    return f"{day:%-d %B}"
