"""What the rules may look at for one block, gathered from the record."""

from collections import Counter

from django.utils import timezone

from academy.models import HealthFlag, Student
from metrics.checkpoints import CHECKPOINTS
from metrics.rules.types import AidPair, BallCall, BlockEvidence, EarlierFinding, Health, SetupChange, Wind

from .frames import BlockShots, shots_of
from .models import Block, Finding, Lesson, SetupObservation
from .own_record import earlier_blocks, own_medians, own_responses
from .repeated import Repeated, repeated_in


def evidence_for(*, block: Block, others: list[Block] | None = None) -> BlockEvidence:
    """Return the evidence of a block. Eight or nine queries, independent of how many balls and visits there are.

    ``others`` are the lesson's other blocks; the newest one that differs in its aids alone becomes the pair
    for the question whether the gain needs the aids, and the one before this block shows what a moved ball did.
    """
    lesson, student = block.lesson, block.lesson.student
    partner, before = _partner(block, others or []), _block_before(block, others or [])
    shots = shots_of({each.pk: each for each in (block, partner, before) if each is not None}.values())
    own = shots[block.pk].judged()
    record = earlier_blocks(lesson=lesson, category=block.category)
    repeated = repeated_in(lesson=lesson, category=block.category)
    return BlockEvidence(
        club_category=block.category, intent=block.intent, hand=student.hand, aids=tuple(block.aids),
        handicap_index=student.handicap_index, level="beginner" if student.is_beginner else None,
        shots=own.numbers, calls=_calls(own), balls=own.count,
        setup=latest_setup(lesson=lesson, category=block.category, repeated=repeated),
        setup_spread=repeated.sd, health=health_of(lesson),
        wind=Wind(speed_mps=wind_speed(lesson), windy=lesson.is_windy), warmed_up=lesson.warmed_up,
        effort_full=block.effort_pct >= 100, on_tee=block.is_tee, earlier=_earlier(lesson),
        pair=_pair(block, partner, shots), change=_ball_moved(lesson, block, before, shots),
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


def _block_before(block: Block, others: list[Block]) -> Block | None:
    """Return the block before this one with the same club and intent."""
    same = [
        other for other in others
        if other.position < block.position and other.category == block.category and other.club_id == block.club_id
        and other.intent == block.intent
    ]
    return max(same, key=lambda other: other.position, default=None)


def _ball_moved(
    lesson: Lesson, block: Block, before: Block | None, shots: dict[int, BlockShots]
) -> SetupChange | None:
    """Return the ball's move between the two blocks, for the check of the shoulders that goes with it. One query."""
    if before is None:
        return None
    rows = SetupObservation.objects.filter(
        lesson=lesson, category=block.category, checkpoint="ball_position_cm", removed_at__isnull=True
    )
    seen = dict(rows.order_by("pk").values_list("phase", "value"))
    if len(seen) < 2 or seen["before"] == seen["after"]:
        return None
    return SetupChange(
        checkpoint="ball_position_cm", before=seen["before"], after=seen["after"],
        shots_before=shots[before.pk].judged().numbers,
    )


def _today(flag: HealthFlag) -> bool:
    return timezone.localdate(flag.reported_at) == timezone.localdate()


def _earlier(lesson: Lesson) -> tuple[EarlierFinding, ...]:
    rows = Finding.objects.filter(
        lesson__student=lesson.student, lesson__starts_at__lt=lesson.starts_at, removed_at__isnull=True
    ).exclude(decision=Finding.Decision.OVERRULED).values_list("pattern", "lesson_id").distinct()
    visits = Counter(pattern for pattern, _ in rows)
    return tuple(EarlierFinding(pattern=pattern, visits=n) for pattern, n in sorted(visits.items()))


def _partner(block: Block, others: list[Block]) -> Block | None:
    same = [
        other for other in others
        if other.pk != block.pk and other.category == block.category and other.club_id == block.club_id
        and other.intent == block.intent and other.effort_pct == block.effort_pct
        and bool(other.aids) != bool(block.aids)
    ]
    return max(same, key=lambda other: other.position, default=None)


def _pair(block: Block, partner: Block | None, shots: dict[int, BlockShots]) -> AidPair | None:
    if partner is None:
        return None
    aided, plain = (block, partner) if block.aids else (partner, block)
    return AidPair(with_aid=shots[aided.pk].judged().numbers, no_aid=shots[plain.pk].judged().numbers)
