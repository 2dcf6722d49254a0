"""What the rules may look at for one block, gathered from the record."""

from collections import Counter

from django.utils import timezone

from academy.models import HealthFlag, Student
from metrics.checkpoints import CHECKPOINTS
from metrics.rules.types import BallCall, BlockEvidence, EarlierFinding, Health, Wind

from .club_starts import club_starts
from .frames import BlockShots, shots_of
from .models import Block, Finding, Lesson, SetupObservation
from .neighbours import neighbours_of
from .own_record import earlier_blocks, own_medians, own_responses
from .repeated import Repeated, repeated_in


def evidence_for(*, block: Block, others: list[Block] | None = None) -> BlockEvidence:
    """Return the evidence of a block. Eleven queries at most, independent of how many balls and visits there are.

    ``others`` are the lesson's blocks; ``lessons.neighbours`` says which of them, and of the last visit's, this one
    is read beside.
    """
    lesson, student = block.lesson, block.lesson.student
    record = earlier_blocks(lesson=lesson, category=block.category)
    repeated = repeated_in(lesson=lesson, category=block.category)
    beside = neighbours_of(block=block, others=others or [], record=record)
    shots = shots_of(beside.blocks)
    own = shots[block.pk].judged()
    return BlockEvidence(
        club_category=block.category, intent=block.intent, hand=student.hand, aids=tuple(block.aids),
        handicap_index=student.handicap_index, level="beginner" if student.is_beginner else None,
        shots=own.numbers, calls=_calls(own), balls=own.count,
        setup=latest_setup(lesson=lesson, category=block.category, repeated=repeated),
        setup_spread=repeated.sd, health=health_of(lesson),
        wind=Wind(speed_mps=wind_speed(lesson), windy=lesson.is_windy), warmed_up=lesson.warmed_up,
        effort_full=block.effort_pct >= 100, on_tee=block.is_tee, earlier=_earlier(lesson),
        pair=beside.pair(shots), change=beside.change(shots), club_starts=club_starts(block),
        own_medians=own_medians(record), responses=own_responses(blocks=record, category=block.category),
    )


def latest_setup(*, lesson: Lesson, category: str, repeated: Repeated) -> dict[str, float]:
    """Return the newest value of each checkpoint for a kind of club in this lesson. One query.

    The mean of repeated setups stands where nothing was looked at since: it proves aim and lines without a ball.
    """
    rows = SetupObservation.objects.filter(lesson=lesson, category=category, removed_at__isnull=True)
    newest = rows.order_by("pk").values_list("checkpoint", "value", "created_at")
    seen = {key: (value, at) for key, value, at in newest}
    found = {key: value for key, (value, _) in seen.items()}
    for key, mean in repeated.mean.items():
        if key in CHECKPOINTS and (key not in seen or (repeated.at and repeated.at > seen[key][1])):
            found[key] = mean
    return found


def health_of(lesson: Lesson) -> Health:
    """Return what the student said about pain, as the rules read it. One query."""
    return student_health(lesson.student)


def student_health(student: Student) -> Health:
    """Return the open health entries as the rules read them. One query."""
    flags = list(HealthFlag.objects.filter(student=student, cleared_at__isnull=True))
    return Health(
        max_pain=max((flag.severity for flag in flags), default=0),
        areas=tuple(sorted({flag.area for flag in flags if flag.severity > 0})),
        new_pain=any(flag.is_new and _today(flag) for flag in flags),
        red_flag=any(flag.red_flag for flag in flags),
    )


def wind_speed(lesson: Lesson) -> float | None:
    """Return the measured wind in m/s, None where it was not measured."""
    parts = [part for part in (lesson.wind_along_mps, lesson.wind_cross_mps) if part is not None]
    return sum(part * part for part in parts) ** 0.5 if parts else None


def _calls(shots: BlockShots) -> tuple[BallCall, ...]:
    """Return what was called, where anything was: a called contact counts beside numbers too."""
    nothing = BallCall()
    return shots.calls if any(call != nothing for call in shots.calls) else ()


def _today(flag: HealthFlag) -> bool:
    return timezone.localdate(flag.reported_at) == timezone.localdate()


def _earlier(lesson: Lesson) -> tuple[EarlierFinding, ...]:
    rows = Finding.objects.filter(
        lesson__student=lesson.student, lesson__starts_at__lt=lesson.starts_at, removed_at__isnull=True
    ).exclude(decision=Finding.Decision.OVERRULED).values_list("pattern", "lesson_id").distinct()
    visits = Counter(pattern for pattern, _ in rows)
    return tuple(EarlierFinding(pattern=pattern, visits=n) for pattern, n in sorted(visits.items()))
