"""What followed a drill in this academy, over consenting students: never per coach, and silent below 20 students.

A case is one student who was given the drill with a pattern found, and who began a later visit with a first ten of
the same club. It says what followed, not what caused it; the page says so too.
"""

from collections import defaultdict
from collections.abc import Iterable

from django.utils import timezone

from academy.models import Consent
from lessons.models import Block, DrillAssignment, Finding, Lesson
from metrics.change.priors import smallest_worthwhile
from metrics.change.question import Goal
from metrics.rules.drill_learning import DrillCase, DrillEffect, drill_effects
from metrics.windows import find_window

from .held import PATTERN_QUANTITY, start_window

FEWEST_BALLS = 8


def drill_records(*, pattern: str) -> list[DrillEffect]:
    """Return the record of each drill given for a pattern. Four queries, independent of how many lessons there are."""
    quantity = PATTERN_QUANTITY.get(pattern, "club_path_deg")
    consenting = _consenting()
    findings = {
        row.lesson_id: row for row in Finding.objects.filter(
            pattern=pattern, removed_at__isnull=True, block__isnull=False, lesson__student_id__in=consenting,
            lesson__status=Lesson.Status.FINISHED,
        ).exclude(decision=Finding.Decision.OVERRULED).select_related("block", "lesson")
    }
    given = DrillAssignment.objects.filter(lesson_id__in=findings, removed_at__isnull=True)
    looks = _first_looks({row.lesson.student_id for row in findings.values()}, quantity)
    cases = []
    for row in given:
        change = _change(findings[row.lesson_id], looks, quantity)
        if change is not None:
            cases.append(DrillCase(
                student=str(row.student_id), pattern=pattern, drill=row.drill, quantity=quantity, change=change
            ))
    return drill_effects(cases=cases, worthwhile=_worthwhile(quantity, looks))


def _consenting() -> set[int]:
    """Return the students whose permission for the academy's own statistics counts today."""
    today = timezone.localdate()
    rows = Consent.objects.filter(item=Consent.Item.STATISTICS, given_on__lte=today, expires_on__gte=today)
    return {row.student_id for row in rows if row.valid_on(today)}


def _first_looks(students: Iterable[int], quantity: str) -> dict[int, list[tuple[Block, float]]]:
    """Return each student's first blocks without aids that have enough balls, oldest first, with their means."""
    rows = Block.objects.filter(
        lesson__student_id__in=students, lesson__status=Lesson.Status.FINISHED, aids=[], removed_at__isnull=True
    ).select_related("lesson").order_by("lesson__starts_at", "position")
    looks: dict[int, list[tuple[Block, float]]] = defaultdict(list)
    for block in rows:
        numbers = (block.summary or {}).get("numbers_struck", {}).get(quantity, {})
        first = block.position == 1 or block.purpose == Block.Purpose.FIRST_TEN
        if first and numbers.get("n", 0) >= FEWEST_BALLS and numbers.get("mean") is not None:
            looks[block.lesson.student_id].append((block, numbers["mean"]))
    return looks


def _change(finding: Finding, looks: dict[int, list[tuple[Block, float]]], quantity: str) -> float | None:
    """Return how much nearer to the window the next first ten was; None without one to compare with."""
    own = [
        look for look in looks.get(finding.lesson.student_id, []) if look[0].category == finding.block.category
    ]
    before = next((mean for block, mean in own if block.lesson_id == finding.lesson_id), None)
    after = next((
        mean for block, mean in own
        if block.lesson.starts_at > finding.lesson.starts_at and block.purpose == Block.Purpose.FIRST_TEN
    ), None)
    goal = _goal(finding, quantity)
    return None if before is None or after is None or goal is None else goal.progress(before, after)


def _goal(finding: Finding, quantity: str) -> Goal | None:
    intent, category = finding.block.intent, finding.block.category
    if quantity == "launch_direction_deg":
        return Goal(window=start_window(intent=intent, category=category))
    window = find_window(quantity=quantity, intent=intent, category=category)
    return Goal(window=window) if window else None


def _worthwhile(quantity: str, looks: dict[int, list[tuple[Block, float]]]) -> float:
    means = [abs(mean) for own in looks.values() for _, mean in own]
    typical = sum(means) / len(means) if means else 1.0
    return smallest_worthwhile(quantity=quantity, baseline=typical or 1.0).value
