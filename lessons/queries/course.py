"""An on-course lesson: its shots hole by hole, and in a few lines what the decisions were worth."""

from collections import Counter
from itertools import groupby
from typing import Any

from lessons.models import CourseShot, Lesson
from metrics.spread import rate

GOOD = (CourseShot.Result.AS_MEANT, CourseShot.Result.PLAYABLE)
SHOWN_FROM = 5
"""Below so many shots a share is counted, not stated."""


def course_page(*, lesson: Lesson) -> dict[str, Any]:
    """Return the shots by hole, newest hole first, the summary, and where the next shot begins. One query."""
    shots = list(lesson.course_shots.filter(removed_at__isnull=True))
    holes = [(hole, list(of_hole)) for hole, of_hole in groupby(shots, key=lambda shot: shot.hole)]
    latest = max(shots, key=lambda shot: shot.pk, default=None)
    return {
        "lesson": lesson, "student": lesson.student, "holes": holes[::-1], "summary": summary_of(shots),
        "latest": latest, "hole": latest.hole if latest else 1,
        "clubs": sorted({shot.club for shot in shots} | {shot.club_advised for shot in shots if shot.club_advised}),
    }


def summary_of(shots: list[CourseShot]) -> list[str]:
    """Return what the decisions were worth, the dearest first; nothing without a shot. No query."""
    if not shots:
        return []
    costly = [shot for shot in shots if shot.half_a_shot]
    lines = [f"Decisions worth half a shot or more: {_share(len(costly), len(shots))}.{_where(costly)}"]
    lines += [*_commitment(shots), *_advice(shots)]
    causes = Counter(shot.get_cause_display().lower() for shot in shots if shot.result == CourseShot.Result.PENALTY)
    if causes:
        said = ", ".join(f"{cause} {n}" for cause, n in causes.most_common())
        lines.append(f"Penalties: {sum(causes.values())}, from {said}.")
    return lines


def _share(hits: int, n: int) -> str:
    """Return a count, and from five shots on its share with Wilson's interval."""
    if n < SHOWN_FROM:
        return f"{hits} of {n}"
    found = rate(successes=hits, trials=n)
    return f"{hits} of {n} ({100 * found.share:.0f} %, 95 % {100 * found.lo:.0f} to {100 * found.hi:.0f} %)"


def _where(costly: list[CourseShot]) -> str:
    lies = Counter(shot.get_lie_display().lower() for shot in costly).most_common(1)
    return f" Most often from: {lies[0][0]}." if lies and lies[0][1] > 1 else ""


def _commitment(shots: list[CourseShot]) -> list[str]:
    sides = [[shot for shot in shots if shot.committed is said] for said in (True, False)]
    words = [f"{name}: {_share(sum(shot.result in GOOD for shot in side), len(side))} as meant or playable"
             for name, side in zip(("Committed", "not committed"), sides, strict=True) if side]
    return [f"{'; '.join(words)}."]


def _advice(shots: list[CourseShot]) -> list[str]:
    advised = [shot for shot in shots if shot.club_advised]
    other = sum(shot.club.casefold() != shot.club_advised.casefold() for shot in advised)
    return [f"Another club than advised: {_share(other, len(advised))}."] if advised else []
