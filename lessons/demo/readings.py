"""What the rules say to a finding of the demo: kept with it as the program keeps it when a coach decides."""

from django.core.exceptions import ValidationError

from lessons.models import Finding
from lessons.services.findings import found_pattern

from .visits import Visit


def read_findings(*, visits: list[Visit]) -> None:
    """Give the newest finding of a student its state and its evidence, as the rules see its block.

    A pattern that the rules are silent about, or did not look at, stays the coach's own: a hint without evidence.
    """
    lessons = [visit.lesson.pk for visit in visits]
    finding = Finding.objects.filter(lesson__in=lessons).select_related("lesson__student", "block__lesson").last()
    if finding is None:
        return
    try:
        seen = found_pattern(lesson=finding.lesson, block=finding.block, pattern=finding.pattern)
    except ValidationError:
        return
    if seen.state == Finding.State.SILENT:
        return
    finding.state, finding.evidence = seen.state, seen.evidence
    finding.save(update_fields=["state", "evidence"])
