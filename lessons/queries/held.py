"""Did it hold? The number in work, the visits before and after the change, and the verdict."""

from dataclasses import dataclass, field, replace
from datetime import datetime

from django.db.models import QuerySet

from academy.models import Goal as StudentGoal
from academy.models import Student
from lessons.models import Finding, Prescription
from metrics.change.priors import is_judged
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
    """The number, club and intent that a student works on, and since when.

    ``changes`` are the changes made for that number in a row, newest first; the work began with the last of them.
    ``window`` is the student's own goal for the number, in place of the window of the wanted shape. ``turn`` is when
    the work began where no change was written down; ``club`` the row number of the one club that counts.
    """

    quantity: str
    category: str
    intent: str
    since: Prescription | None
    changes: tuple[Prescription, ...] = ()
    window: Window | None = None
    turn: datetime | None = None
    club: int | None = None


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
    question: Question | None = None
    looks: list[BlockVisit] = field(default_factory=list)
    """First looks with a ball, oldest first; ``question`` is what was asked of them."""


def in_work(*, student: Student) -> InWork | None:
    """Return what the student works on: the number of the newest change, else a goal's. At most four queries.

    A coach who notes the change again at every visit goes on with the same work: it began with the first of them,
    and the looks up to then are what the later ones are compared with.
    """
    have = {(category, quantity) for category, quantity, _ in quantities_of(student=student)}
    changes = list(changes_of(student=student))
    goals = list(StudentGoal.objects.filter(student=student, ended_on__isnull=True).exclude(quantity=""))
    for newest in changes[:1]:
        number = _number_of(newest, have)
        if number is not None:
            run = _in_a_row(changes, number, have)
            return InWork(quantity=number[1], category=number[0], intent=newest.finding.block.intent, since=run[-1],
                          changes=tuple(run), window=goal_window(goals, quantity=number[1], category=number[0]))
    goal = next((goal for goal in goals if (goal.category, goal.quantity) in have), None)
    if goal is None:
        return None
    intent = student.intents.filter(category=goal.category).first()
    return InWork(
        quantity=goal.quantity, category=goal.category, intent=intent.shape if intent else "straight",
        since=changes[0] if changes else None, changes=tuple(changes[:1]),
        window=goal_window(goals, quantity=goal.quantity, category=goal.category),
    )


def changes_of(*, student: Student) -> QuerySet[Prescription]:
    """Return the changes that were made, newest first."""
    rows = Prescription.objects.filter(lesson__student=student, removed_at__isnull=True)
    return rows.select_related("finding__block", "lesson").order_by("-lesson__starts_at", "-pk")


def goal_window(goals: list[StudentGoal], *, quantity: str, category: str) -> Window | None:
    """Return the range that a student's own goal names for a number; None where none does, or only one end."""
    for goal in goals:
        if (goal.quantity, goal.category) == (quantity, category) and None not in (goal.lower, goal.upper):
            return Window(lo=min(goal.lower, goal.upper), hi=max(goal.lower, goal.upper))
    return None


def _number_of(change: Prescription, have: set[tuple[str, str]]) -> tuple[str, str] | None:
    """Return the kind of club and number by which a change is followed; None where the student has none of it."""
    finding = change.finding
    if not finding or not finding.block:
        return None
    category = finding.block.category
    return next(((category, quantity) for quantity in _followed_by(finding) if (category, quantity) in have), None)


def _in_a_row(changes: list[Prescription], number: tuple[str, str], have: set[tuple[str, str]]) -> list[Prescription]:
    """Return the newest changes up to one that was made for another number; one without a finding is passed over."""
    run = []
    for change in changes:
        other = _number_of(change, have)
        if other == number:
            run.append(change)
        elif other is not None:
            break
    return run


def held_for(*, student: Student, system: System = "yards") -> Held:
    """Return whether the change of the number in work held. About seven queries, independent of visits."""
    work = in_work(student=student)
    return held_of(work=work, student=student, system=system) if work else Held()


def held_of(*, work: InWork, student: Student, system: System) -> Held:
    """Return whether one number held, whether it is the one in work or a goal's. Two queries, three for carry."""
    visits = block_visits(student=student, quantity=work.quantity, category=work.category)
    if work.club is not None:
        visits = [visit for visit in visits if visit.block.club_id == work.club]
    told = comparable(visits=visits, quantity=work.quantity)
    question = question_of(student=student, work=work, visits=told.visits, system=system) if told.visits else None
    window = [question.goal.window.lo, question.goal.window.hi] if question and question.goal.window else []
    looks = [visit for visit in told.visits if visit.is_first_look]
    struck = [look for look in looks if look.visit.n]  # a look may be nothing but mishits
    base = Held(quantity=work.quantity, trend=[round(look.visit.mean, 3) for look in struck][-12:], window=window,
                question=question, looks=struck)
    before, after = sides(looks=looks, work=work)
    verdict = judged(quantity=work.quantity, question=question, before=before, after=after, told=told)
    if verdict is None:
        return base
    return replace(
        base, code=verdict.code, sentence=verdict.coach.reason, verdict=verdict,
        student_sentence=f"{verdict.student.verdict} {verdict.student.reason}",
    )


def sides(*, looks: list[BlockVisit], work: InWork) -> tuple[list[BlockVisit], list[BlockVisit]]:
    """Split first looks at the change: those up to its lesson are before, first tens of later days are after.

    A later visit that began with coaching shows nothing about what held, so its first block does not count.
    Where no change was written down, the looks up to the day the work began count, or else the first visit.
    """
    if not looks:
        return [], []
    first = looks[0].lesson.starts_at
    turn = work.since.lesson.starts_at if work.since else max(work.turn or first, first)
    before = [look for look in looks if look.lesson.starts_at <= turn]
    last_day = max((look.visit.day for look in before), default=0)
    after = [
        look for look in looks
        if look.visit.day > last_day and look.lesson.starts_at > turn and look.block.purpose in ("first_ten", "test")
    ]
    return before, after


MORE_IS_BETTER = frozenset({"club_speed_mps", "ball_speed_mps", "carry_m", "total_m", "smash_factor"})
"""Numbers that have a better way to go where no window is kept. A path or a spin has none."""


def question_of(*, student: Student, work: InWork, visits: list[BlockVisit], system: System) -> Question | None:
    """Return the question for the number in work, the player's own level and usual value filled in.

    None for a number that is not judged: no smallest change that matters is kept for it, or nobody has said which
    way is better.
    """
    means = [visit.visit.mean for visit in visits if visit.visit.n]
    typical = abs(sum(means) / len(means)) if means else 0.0
    if not is_judged(quantity=work.quantity, baseline=typical or None):
        return None
    question = question_for(
        quantity=work.quantity, category=work.category, intent=work.intent, level=level_for(student),
        typical=typical or None, system=system,
    )
    if work.window is not None:
        return replace(question, goal=Goal(window=work.window))
    if question.goal.window is not None or work.quantity in MORE_IS_BETTER:
        return question
    if work.quantity == "launch_direction_deg" and work.category not in ("chip", "sand"):
        return replace(question, goal=Goal(window=start_window(intent=work.intent, category=work.category)))
    return None


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
