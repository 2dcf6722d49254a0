"""Who may see a lesson and what hangs on it. Built on academy.access; imported by views only.

A lesson belongs to the coach who teaches the student, or who gave that lesson. Everybody else, the owner
included, gets the answer of a missing page. Each lesson leaves here knowing who reads it: see lessons.care.
"""

from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet
from django.http import Http404
from django.utils import timezone

from academy.access import told
from academy.models import Coach, ShareLink, Student

from .media.allowed import allowed_for
from .models import (
    Attachment,
    Battery,
    Block,
    GroupClass,
    ImportBatch,
    Lesson,
    Package,
    PackageEntry,
    Plan,
    PlanTemplate,
    Shot,
    SkillTest,
    Waiting,
)


def lesson_for(*, coach: Coach, code: Any) -> Lesson:
    """Return a lesson with its student. One query."""
    lesson = (
        Lesson.objects.select_related("student", "venue", "device")
        .filter(_taught_by(coach, "")).filter(code=code).first()
    )
    if lesson is None:
        raise Http404("There is no such lesson.")
    return _read_by(coach, lesson)


def block_for(*, coach: Coach, code: Any, for_ball: bool = False) -> Block:
    """Return a block with its lesson and student. One query.

    ``for_ball`` leaves out what storing a ball does not look at: the place, the club, and the derived numbers, which
    are worked out anew.
    """
    rows = Block.objects.select_related("lesson__student", "lesson__device")
    rows = rows.defer("summary") if for_ball else rows.select_related("lesson__venue", "club")
    block = rows.filter(_taught_by(coach, "lesson__"), code=code, removed_at__isnull=True).order_by().first()
    if block is None:
        raise Http404("There is no such block.")
    _read_by(coach, block.lesson)
    return block


def companion_for(*, coach: Coach, block: Block, code: str) -> Block:
    """Return another block of the same student, named in an address by hand or by a form. One query."""
    try:
        other = block_for(coach=coach, code=UUID(code))
    except ValueError:
        raise Http404("There is no such block.") from None
    if other.pk == block.pk or other.lesson.student_id != block.lesson.student_id:
        raise Http404("There is no such block.")
    return other


def shot_for(*, coach: Coach, key: Any) -> Shot:
    """Return a ball with its block and lesson. One query."""
    shot = (
        Shot.objects.present().select_related("block__lesson__student", "block__lesson__device")
        .filter(_taught_by(coach, "block__lesson__"), key=key).first()
    )
    if shot is None:
        raise Http404("There is no such ball.")
    _read_by(coach, shot.block.lesson)
    return shot


def skill_test_for(*, coach: Coach, code: Any) -> SkillTest:
    """Return a short-game test of a student whom this person teaches. One query."""
    test = (
        SkillTest.objects.select_related("student", "lesson").filter(student__coach=coach).filter(code=code).first()
    )
    if test is None:
        raise Http404("There is no such test.")
    told(coach=coach, student=test.student)
    return test


def battery_for(*, coach: Coach, code: Any) -> Battery:
    """Return a test battery of a student whom this person teaches: it holds answers about health. One query."""
    rows = Battery.objects.select_related("student", "lesson", "second_lesson")
    battery = rows.filter(student__coach=coach, code=code).first()
    if battery is None:
        raise Http404("There is no such battery.")
    told(coach=coach, student=battery.student)
    return battery


def taught_lesson_for(*, coach: Coach, code: Any) -> Lesson:
    """Return a lesson of a student whom this person teaches: plans speak of health. One query."""
    lesson = Lesson.objects.select_related("student").filter(student__coach=coach).filter(code=code).first()
    if lesson is None:
        raise Http404("There is no such lesson.")
    lesson.reader = coach
    return lesson


def plan_for(*, coach: Coach, code: Any) -> Plan:
    """Return a plan of a student whom this person teaches. One query."""
    plan = (
        Plan.objects.select_related("student").filter(student__coach=coach, removed_at__isnull=True)
        .filter(code=code).first()
    )
    if plan is None:
        raise Http404("There is no such plan.")
    return plan


def batch_for(*, coach: Coach, code: Any) -> ImportBatch:
    """Return a file that was put into a lesson. One query."""
    batch = (
        ImportBatch.objects.select_related("lesson__student")
        .filter(_taught_by(coach, "lesson__")).filter(code=code).first()
    )
    if batch is None:
        raise Http404("There is no such file.")
    _read_by(coach, batch.lesson)
    return batch


def booking_for(*, coach: Coach, code: Any) -> Lesson:
    """Return a lesson for the diary alone: when and where, never what was taught. An owner keeps everybody's
    diary. One query."""
    rows = Lesson.objects.select_related("student", "coach", "venue", "booking")
    if not coach.is_owner:
        rows = rows.filter(_taught_by(coach, ""))
    lesson = rows.filter(code=code).first()
    if lesson is None:
        raise Http404("There is no such lesson.")
    return lesson


def class_for(*, coach: Coach, code: Any) -> GroupClass:
    """Return a class that this person gives, or any for an owner. One query."""
    rows = GroupClass.objects.select_related("coach", "venue")
    group = (rows if coach.is_owner else rows.filter(coach=coach)).filter(code=code).first()
    if group is None:
        raise Http404("There is no such class.")
    return group


def template_for(*, code: Any) -> PlanTemplate:
    """Return a template of the academy; whoever plans classes may use it. One query."""
    found = PlanTemplate.objects.filter(code=code).first()
    if found is None:
        raise Http404("There is no such template.")
    return found


def require_papers_keeper(*, coach: Coach) -> None:
    """Raise Http404 unless this person owns the academy or looks after the juniors' welfare."""
    if not (coach.is_owner or coach.is_welfare_lead):
        raise Http404("There is no such page.")


def waiting_for(*, coach: Coach, code: Any) -> Waiting:
    """Return a row of the waiting list about a student whom this person may see. One query."""
    rows = Waiting.objects.filter(student__in=Student.objects.visible_to(coach)).select_related("student")
    row = rows.filter(code=code).first()
    if row is None:
        raise Http404("There is no such row.")
    return row


def diary_coach_for(*, viewer: Coach, code: str) -> Coach:
    """Return the coach whose diary this person may keep: the own, or anybody's for an owner. One query."""
    if str(viewer.code) == code:
        return viewer
    try:
        coach = Coach.objects.filter(code=UUID(code), is_coach=True).first() if viewer.is_owner else None
    except ValueError:
        coach = None
    if coach is None:
        raise Http404("There is no such coach.")
    return coach


def package_for(*, coach: Coach, code: Any) -> Package:
    """Return a package of a student whom this person may see; the office is the owner's too. One query."""
    seen = Student.objects.visible_to(coach)
    package = Package.objects.select_related("student").filter(
        code=code, student__in=seen, removed_at__isnull=True).first()
    if package is None:
        raise Http404("There is no such package.")
    told(coach=coach, student=package.student)
    return package


def package_line_for(*, coach: Coach, code: Any) -> PackageEntry:
    """Return a line of the ledger of a student whom this person may see. One query."""
    seen = Student.objects.visible_to(coach)
    line = PackageEntry.objects.select_related("package__student").filter(
        code=code, package__student__in=seen).first()
    if line is None:
        raise Http404("There is no such line.")
    return line


def attachment_for(*, coach: Coach, code: Any) -> Attachment:
    """Return a kept picture or clip that may be looked at today. Three queries."""
    kept = _looked_at(Attachment.objects.filter(_taught_by(coach, "lesson__")), code)
    told(coach=coach, student=kept.lesson.student)
    return kept


def own_attachment_for(*, link: ShareLink, code: Any) -> Attachment:
    """Return a kept picture or clip of the student whose private page this is. Three queries."""
    return _looked_at(Attachment.objects.filter(lesson__student=link.student_id), code)


def _looked_at(rows: QuerySet, code: Any) -> Attachment:
    today = timezone.localdate()
    row = rows.select_related("lesson__student").filter(
        code=code, removed_at__isnull=True, delete_on__gt=today).first()
    if row is None or not allowed_for(student=row.lesson.student, day=today).show:
        raise Http404("There is no such picture.")
    return row


def _read_by(coach: Coach, lesson: Lesson) -> Lesson:
    """Note who reads the lesson, and that this student's record was read."""
    lesson.reader = coach
    told(coach=coach, student=lesson.student)
    return lesson


def _taught_by(coach: Coach, path: str) -> Q:
    return Q(**{f"{path}student__coach": coach}) | Q(**{f"{path}coach": coach})
