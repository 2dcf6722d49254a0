"""The students of the demo with guardians, consents, bags, wishes, goals, links and what hurts."""

from dataclasses import dataclass
from datetime import date, timedelta

from academy.models import (
    Club,
    Coach,
    Concern,
    Consent,
    Goal,
    Guardian,
    Guardianship,
    HealthFlag,
    Intent,
    ShareLink,
    Student,
)

from . import words
from .cast import Part
from .faults import CLUBS
from .names import PARENTS
from .rows import Rows
from .timeline import at


@dataclass(frozen=True, kw_only=True)
class Person:
    """A student with the bag that the lessons name."""

    student: Student
    bag: dict[str, Club]


def add_person(*, rows: Rows, part: Part, coach: Coach, today: date) -> Person:
    """Write one student and what belongs to them before the first lesson."""
    rng = rows.random
    joined = min(part.days) - timedelta(days=rng.randint(2, 12))
    written = at(joined, 18)
    month, day = rng.randint(1, 12), rng.randint(1, 28)
    born = date(today.year - part.age - ((month, day) > (today.month, today.day)), month, day)
    if part.record["status"] == Student.Status.PAUSED:
        part.record["paused_until"] = today + timedelta(days=rng.randint(14, 80))
    student = rows.add(
        Student, at=written, coach=coach, name=part.name, born_on=born, created_by=coach,
        email="" if part.junior else f"{part.name.lower().replace(' ', '.')}@example.org",
        height_cm=_height(part, rng), **part.record,
    )
    if part.junior:
        _guardians(rows, part, student, today)
    elif rng.random() < 0.3:
        rows.add(Consent, student=student, item="statistics", given_by_name=student.name, given_on=joined,
                 expires_on=joined + timedelta(days=365), at=written)
    _wishes(rows, part, student, written, today)
    _link(rows, student, today)
    return Person(student=student, bag=_bag(rows, part, student, joined, today))


def _height(part: Part, rng) -> float | None:
    if part.junior:
        return float(120 + 6 * (part.age - 7) + rng.randint(-5, 6)) if part.age < 16 else None
    return float(round(rng.gauss(166 if part.slight else 179, 6))) if rng.random() < 0.55 else None


def _guardians(rows: Rows, part: Part, student: Student, today: date) -> None:
    """Most have every consent; one in four lacks or lost something."""
    rng, family = rows.random, student.name.split(" ", 1)[1]
    count = 2 if rng.random() < 0.3 else 1
    guardians = [
        rows.add(Guardian, name=f"{first} {family}",
                 email=f"{first.lower()}.{family.lower().replace(' ', '')}@example.org",
                 phone=f"055 01{rng.randint(10, 99)} {rng.randint(100, 999)}", at=student.created_at)
        for first in rng.sample(PARENTS, count)
    ]
    for guardian in guardians:
        rows.add(Guardianship, student=student, guardian=guardian, at=student.created_at,
                 relation=rng.choice(["mother", "father", "parent", "grandparent"]))
    trouble = "filming out" if part.special == "junior" else rng.choices(
        ["", "filming out", "all soon", "no filming", "withdrawn", "none"], weights=[50, 10, 16, 10, 8, 6])[0]
    for item in ("lessons", "filming", "keeping", "medical", "messaging", "travel"):
        _consent(rows, student, guardians[0], item, trouble, today)


def _consent(rows: Rows, student: Student, guardian: Guardian, item: str, trouble: str, today: date) -> None:
    rng = rows.random
    if trouble == "none" or (trouble == "no filming" and item in {"filming", "keeping"}) or (
            item == "travel" and rng.random() < 0.6):
        return
    age = rng.randint(20, 250)
    if trouble == "filming out" and item in {"filming", "keeping"}:
        age = 365 + rng.randint(4, 25)
    if trouble == "all soon":
        age = 350
    given = today - timedelta(days=age)
    withdrawn = today - timedelta(days=10) if trouble == "withdrawn" and item == "messaging" else None
    rows.add(Consent, student=student, item=item, given_by_guardian=guardian, given_by_name=guardian.name,
             given_on=given,
             expires_on=given + timedelta(days=365), withdrawn_on=withdrawn, at=at(given, 17))


def _wishes(rows: Rows, part: Part, student: Student, written, today: date) -> None:
    rng = rows.random
    shapes = {chapter.fault.club: chapter.fault.intent for chapter in part.chapters}
    for club, shape in shapes.items():
        rows.add(Intent, student=student, category=club, shape=shape, at=written)
    fault = part.chapters[-1].fault
    rows.add(Goal, student=student, kind="process", text=rng.choice(fault.goals), category=fault.club,
             test=Goal.FIRST_TEN, at=written,
         quantity="" if part.player.level == "beginner" else "club_path_deg")
    if not part.junior and rng.random() < 0.55:
        score = 5 * round((72 + (part.record["handicap_index"] or 36) - 1) / 5)
        rows.add(Goal, student=student, kind="outcome", text=rng.choice(words.OUTCOMES).format(score=score),
                 at=written,
                 by_date=today + timedelta(days=rng.randint(60, 260)))
    if part.special == "one_degree":
        rows.add(Goal, student=student, kind="performance", text="Driver path from +3 to +2", test=Goal.FIRST_TEN,
                 quantity="club_path_deg",
                 category="driver", lower=1.5, upper=2.0, at=written)


def _bag(rows: Rows, part: Part, student: Student, joined: date, today: date) -> dict[str, Club]:
    """Clubs are noted when somebody joins; a few were noted long before and want a look."""
    rng = rows.random
    since = joined - timedelta(days=rng.choice([0, 0, 0, 0, 0, 0, 0, 420]))
    shaft = "junior" if part.junior else rng.choice(["regular", "regular", "stiff", "light", "senior"])
    short = 0.86 if part.age < 13 else 1.0
    bag = {}
    for club, (name, _, loft, length) in CLUBS.items():
        bag[club] = rows.add(
            Club, student=student, name=name, category=club, loft_deg=loft + rng.choice([0, 0, 0.5, -0.5]),
            length_cm=round(length * short, 1), shaft=shaft, from_date=since, at=at(joined, 18),
            grip=rng.choice(["", "standard", "midsize"]),
        )
    if part.special == "new_club":
        bag["driver"].to_date = part.days[-2]
        bag["new"] = rows.add(Club, student=student, name="New driver", category="driver", loft_deg=9.0,
                              length_cm=116.0,
                              shaft="stiff", from_date=part.days[-2], at=at(part.days[-2], 12))
    rows.add(Club, student=student, name="Putter", category="putter", loft_deg=3.0, length_cm=rng.choice([84.0, 86.5]),
             from_date=since, at=at(joined, 18))
    return bag


def _link(rows: Rows, student: Student, today: date) -> None:
    """Most have a private link. What is kept of one opens nothing: nobody knows the word behind it."""
    rng = rows.random
    if student.status == Student.Status.LEFT or rng.random() < 0.15:
        return
    made = today - timedelta(days=rng.randint(5, 150))
    made = max(made, student.created_at.date())
    guardian = next((row.guardian for row in rows.waiting[Guardianship] if row.student is student), None)
    rows.add(
        ShareLink, student=student, guardian=guardian, prefix=f"{rng.getrandbits(40):010x}"[:8], at=at(made, 12),
        digest=f"{rng.getrandbits(256):064x}", expires_at=at(made, 12) + timedelta(days=180), created_by=student.coach,
        first_seen_at=at(made, 19), last_seen_at=at(max(made, today - timedelta(days=rng.randint(0, 9))), 20),
    )


def add_health(*, rows: Rows, part: Part, student: Student, today: date) -> None:
    """What hurts, and what hurt: the scenarios' own, and now and then somebody else's."""
    kinds = {"pain": ("low_back", 5, 12), "wrist": ("lead_wrist", 6, 58), "shoulder": ("shoulder", 5, 70),
             "hip": ("hip", 6, 78)}
    rng = rows.random
    if part.special in kinds:
        area, severity, ago = kinds[part.special]
        rows.add(HealthFlag, student=student, area=area, severity=severity, at=at(today - timedelta(days=ago), 20),
                 reported_at=at(today - timedelta(days=ago), 20), advice_seen=True)
    elif part.scene is None and not part.junior and rng.random() < 0.12:
        ago = rng.randint(20, 300)
        over = at(today - timedelta(days=ago), 9)
        rows.add(HealthFlag, student=student, area=rng.choice(["low_back", "elbow", "knee", "shoulder", "neck"]),
                 severity=rng.choice([2, 3, 3, 4]), reported_at=over, advice_seen=True, at=over,
                 cleared_at=over + timedelta(days=rng.randint(6, 16)))
    if part.name == "Ilya Eskilby":
        rows.add(
            Concern, student=student, key=rows.key(), sent_at=at(today - timedelta(days=6), 21),
            text="He comes home very quiet after the Saturday squad. Could somebody ask how the changing room is?",
            written_by=next(row.guardian.name for row in rows.waiting[Guardianship] if row.student is student),
        )
