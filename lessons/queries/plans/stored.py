"""Plans as they are stored: the version in use, earlier ones, and a body turned back into the planner's records."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from academy.models import Student
from lessons.models import Lesson, Plan
from metrics.plans.series import Series, Step


def in_use(*, student: Student, kind: str) -> Plan | None:
    """Return the newest version of the newest plan of a kind that has not ended. One query."""
    return student.plans.filter(
        kind=kind, removed_at__isnull=True, ended_on__isnull=True).order_by("-pk").first()


def versions_of(plan: Plan) -> list[Plan]:
    """Return every version of a plan, newest first. One query."""
    return list(Plan.objects.filter(thread=plan.thread, removed_at__isnull=True).select_related("created_by")
                .order_by("-version"))


def lesson_plan(lesson: Lesson) -> Plan | None:
    """Return the plan of a lesson, newest version. One query."""
    return lesson.plans.filter(kind=Plan.Kind.LESSON, removed_at__isnull=True).order_by("-version").first()


def series_of(plan: Plan) -> Series:
    """Return a stored series with the visits done that were finished from it. One query."""
    done = set(_steps_done(plan))
    return Series(steps=tuple(
        Step(number=row["number"], day=date.fromisoformat(row["day"]), key=row["key"], title=row["title"],
             reason=row["reason"], done=row["number"] in done)
        for row in plan.body["steps"]))


def _steps_done(plan: Plan) -> Iterable[int]:
    """Return the numbers of the visits of a series that a finished lesson was planned from."""
    rows = Plan.objects.filter(
        kind=Plan.Kind.LESSON, removed_at__isnull=True, lesson__status=Lesson.Status.FINISHED,
        body__series=str(plan.thread), student_id=plan.student_id)
    return [body["step"] for body in rows.values_list("body", flat=True)]


def as_body(record: Any) -> Any:
    """Return a record of the planner as JSON values: days as ISO dates."""
    if isinstance(record, date):
        return record.isoformat()
    if hasattr(record, "__dataclass_fields__"):
        return {name: as_body(getattr(record, name)) for name in record.__dataclass_fields__}
    if isinstance(record, (list, tuple)):
        return [as_body(one) for one in record]
    return record
