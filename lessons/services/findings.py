"""What the coach says to a finding. It is kept with its evidence, so that later rules do not rewrite the past."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from academy.journal import journal
from academy.models import Coach
from lessons.models import Block, Finding, Lesson
from lessons.queries.assess import assess
from lessons.queries.setup import work_block
from metrics.rules.assessment import Assessment, as_dict


@transaction.atomic
def decide_finding(
    *, by: Coach, lesson: Lesson, block: Block, pattern: str, decision: str, reason: str = "",
) -> Finding:
    """Confirm or overrule a pattern that was shown or considered for a block. Overruling needs a reason.

    The pattern's evidence is stored as it is now; deciding again changes the decision, not the evidence.
    """
    if decision == Finding.Decision.OVERRULED and not reason.strip():
        raise ValidationError("Say why you overrule it: the next coach, and you next month, will ask.")
    if decision not in {Finding.Decision.CONFIRMED, Finding.Decision.OVERRULED}:
        raise ValidationError("A finding is confirmed or overruled.")
    Lesson.objects.select_for_update().only("pk").get(pk=lesson.pk)
    stored = Finding.objects.filter(lesson=lesson, block=block, pattern=pattern, removed_at__isnull=True).first()
    finding = stored or found_pattern(lesson=lesson, block=block, pattern=pattern)
    word = Finding.Decision(decision).label.lower()
    with journal(by=by, student=lesson.student, lesson_code=lesson.code,
                 sentence=f"{finding.title}: {word}"[:300]) as entry:
        if stored is None:
            entry.create(finding)
        entry.update(finding, decision=decision, decision_reason=reason.strip()[:300])
    return finding


def keep_open_findings(*, by: Coach, lesson: Lesson) -> int:
    """Store what was shown for the block in work and not decided, so that the next visit knows it was seen.

    Nothing is stored where a finding of that block was decided: then the coach has chosen.
    """
    block = work_block(lesson)
    if block is None or Finding.objects.filter(lesson=lesson, block=block, removed_at__isnull=True).exists():
        return 0
    assessment, _ = assess(lesson=lesson, block=block)
    with journal(by=by, student=lesson.student, lesson_code=lesson.code, sentence="Findings kept") as entry:
        for found in assessment.findings:
            entry.create(_row(lesson, block, assessment, found.pattern))
        return len(entry.operations)


def found_pattern(*, lesson: Lesson, block: Block, pattern: str) -> Finding:
    """Return a pattern as it was shown or considered for a block, not stored yet. Raises ValidationError for one
    that was not looked at."""
    assessment, _ = assess(lesson=lesson, block=block)
    return _row(lesson, block, assessment, pattern)


def _row(lesson: Lesson, block: Block, assessment: Assessment, pattern: str) -> Finding:
    shown: dict[str, Any] = {found.pattern: found for found in assessment.findings}
    looked_at: dict[str, Any] = {found.pattern: found for found in assessment.considered}
    found = shown.get(pattern) or looked_at.get(pattern)
    if found is None:
        raise ValidationError(f"“{pattern}” was not looked at for this block; expected one of those listed.")
    return Finding(
        lesson=lesson, block=block, pattern=pattern, title=found.title[:160], state=found.state,
        evidence=as_dict(found), belief=lesson.belief,
    )
