"""Did it hold? The number in work, the visits before and after the change, and the verdict."""

from dataclasses import dataclass, field, replace

from academy.models import Goal as StudentGoal
from academy.models import Student
from lessons.models import Finding, Prescription
from metrics.change.question import Goal, Question, question_for
from metrics.change.verdict import Verdict
from metrics.fields import FIELDS
from metrics.units import System
from metrics.windows import Window
from metrics.windows import window as metric_window

from .carry import comparable, judged
from .visits import BlockVisit, block_visits, level_for, quantities_of

PATTERN_QUANTITY = {
    "driver_steep": "attack_angle_deg", "driver_over_up": "attack_angle_deg", "steep_iron": "attack_angle_deg",
    "pull": "launch_direction_deg", "push_block": "launch_direction_deg", "pull_hook": "face_to_path_deg",
    "heel_shank": "strike_heel_toe_mm", "toe_strike": "strike_heel_toe_mm", "low_smash": "smash_factor",
    "under_speed": "club_speed_mps", "high_spin_driver": "spin_rpm", "sky_ball": "attack_angle_deg",
}
"""The number by which a pattern is followed where its finding names none; everything else is a matter of path."""


@dataclass(frozen=True, kw_only=True)
class InWork:
    """The number, club and intent that a student works on, and since when."""

    quantity: str
    category: str
    intent: str
    since: Prescription | None


@dataclass(frozen=True, kw_only=True)
class Held:
    """The answer for one student; ``verdict`` is None where there is nothing to compare yet."""

    code: str = ""
    sentence: str = ""
    student_sentence: str = ""
    quantity: str = ""
    trend: list[float | None] = field(default_factory=list)
    window: list[float] = field(default_factory=list)
    verdict: Verdict | None = None


def in_work(*, student: Student) -> InWork | None:
    """Return what the student works on: the newest change, else a goal with a number. At most four queries."""
    change = (
        Prescription.objects.filter(lesson__student=student, removed_at__isnull=True)
        .select_related("finding__block", "lesson").order_by("-lesson__starts_at", "-pk").first()
    )
    have = {(category, quantity) for category, quantity, _ in quantities_of(student=student)}
    finding = change.finding if change else None
    if finding and finding.block:
        for quantity in _followed_by(finding):
            if (finding.block.category, quantity) in have:
                return InWork(
                    quantity=quantity, category=finding.block.category, intent=finding.block.intent, since=change
                )
    goal = StudentGoal.objects.filter(student=student, ended_on__isnull=True).exclude(quantity="").first()
    if goal and (goal.category, goal.quantity) in have:
        intent = student.intents.filter(category=goal.category).first()
        return InWork(
            quantity=goal.quantity, category=goal.category, intent=intent.shape if intent else "straight", since=change
        )
    return None


def held_for(*, student: Student, system: System = "yards") -> Held:
    """Return whether the change of the number in work held. About seven queries, independent of visits."""
    work = in_work(student=student)
    if work is None:
        return Held()
    told = comparable(
        visits=block_visits(student=student, quantity=work.quantity, category=work.category), quantity=work.quantity
    )
    question = question_of(student=student, work=work, visits=told.visits, system=system) if told.visits else None
    window = [question.goal.window.lo, question.goal.window.hi] if question and question.goal.window else []
    looks = [visit for visit in told.visits if visit.is_first_look]
    base = Held(quantity=work.quantity, trend=[round(look.visit.mean, 3) for look in looks[-12:]], window=window)
    before, after = sides(looks=looks, work=work)
    verdict = judged(quantity=work.quantity, question=question, before=before, after=after, told=told)
    if verdict is None:
        return base
    return Held(
        code=verdict.code, sentence=verdict.coach.reason,
        student_sentence=f"{verdict.student.verdict} {verdict.student.reason}", verdict=verdict,
        quantity=base.quantity, trend=base.trend, window=base.window,
    )


def sides(*, looks: list[BlockVisit], work: InWork) -> tuple[list[BlockVisit], list[BlockVisit]]:
    """Split first looks at the change: those up to its lesson are before, first tens of later days are after.

    A later visit that began with coaching shows nothing about what held, so its first block does not count.
    Where no change was written down, the first visit is what the others are compared with.
    """
    if not looks:
        return [], []
    turn = work.since.lesson.starts_at if work.since else looks[0].lesson.starts_at
    before = [look for look in looks if look.lesson.starts_at <= turn]
    last_day = max((look.visit.day for look in before), default=0)
    after = [
        look for look in looks
        if look.visit.day > last_day and look.lesson.starts_at > turn and look.block.purpose in ("first_ten", "test")
    ]
    return before, after


def question_of(*, student: Student, work: InWork, visits: list[BlockVisit], system: System) -> Question:
    """Return the question for the number in work, the player's own level and usual value filled in."""
    means = [visit.visit.mean for visit in visits if visit.visit.n]
    typical = abs(sum(means) / len(means)) if means else None
    question = question_for(
        quantity=work.quantity, category=work.category, intent=work.intent, level=level_for(student),
        typical=typical or None, system=system,
    )
    if work.quantity == "launch_direction_deg" and question.goal.window is None:
        return replace(question, goal=Goal(window=start_window(intent=work.intent, category=work.category)))
    return question


def start_window(*, intent: str, category: str) -> Window:
    """Return where balls should start: the window of the face, half a degree wider on both sides.

    The start line is mostly face, 61 to 83 % of the way from path to face (Wood and others, Proceedings 2:249,
    2018); a ball with no window of its own would otherwise be asked to start further and further to one side.
    """
    face = metric_window(quantity="face_angle_deg", intent=intent, category=category)
    return Window(lo=face.lo - 0.5, hi=face.hi + 0.5, mark="common practice")


def _followed_by(finding: Finding) -> list[str]:
    """Return the numbers that could follow a finding, best first."""
    named = [row.get("quantity") for row in (finding.evidence or {}).get("evidence", []) if isinstance(row, dict)]
    listed = [PATTERN_QUANTITY.get(finding.pattern, "club_path_deg"), *named, "club_path_deg", "launch_direction_deg"]
    return [quantity for quantity in dict.fromkeys(listed) if quantity in FIELDS]
