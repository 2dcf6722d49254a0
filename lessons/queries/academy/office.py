"""Figures about packages, juniors' safety, papers and incidents."""

from datetime import timedelta

from academy.consents import judge
from academy.models import Consent
from lessons.models import CoachCheck, Incident, Lesson

from .count import Count, Item, of_students
from .teaching import given_minutes
from .world import World

NEEDED = (Consent.Item.LESSONS, Consent.Item.MEDICAL, Consent.Item.MESSAGING)
SOON_DAYS = 30


def package_low(world: World) -> Count:
    own = _packages(world)
    return of_students((pk for pk, left in own.items() if left.lessons <= 1), own)


def package_ending(world: World) -> Count:
    own = {pk: left for pk, left in _packages(world).items() if left.lessons > 0}
    return of_students((pk for pk, left in own.items() if left.ends_within(day=world.today)), own)


def liability(world: World) -> Count:
    """What is owed to somebody who has left is owed all the same."""
    known = {row.student.pk for row in world.everybody}
    own = {pk: left for pk, left in world.left.items() if pk in known and left.lessons}
    return Count(top=sum(left.value_cents for left in own.values()) / 100, per=1, unit="a lesson", money=True,
                 bottom=sum(left.lessons for left in own.values()), of="lessons", students=list(own))


def equipment(world: World) -> Count:
    """``world.clubs`` holds the oldest date of each student's clubs in use."""
    edge = world.today - timedelta(days=round(world.house.clubs_checked_months * 30.44))
    return of_students((pk for pk, oldest in world.clubs.items() if oldest <= edge), world.clubs)


def revenue(world: World) -> Count:
    kept = {row.student.pk for row in world.everybody}
    noted = [(pk, cents) for pk, day, cents in world.money if cents and pk in kept and world.in_window(day)]
    hours = sum(given_minutes(world).values()) / 60
    return Count(top=sum(cents for _, cents in noted) / 100, bottom=round(hours, 1), per=1, unit="an hour",
                 money=True, of="hours", students=list(dict.fromkeys(pk for pk, _ in noted)))


def junior_consents(world: World) -> Count:
    juniors = _juniors(world)
    complete = [pk for pk, student in juniors.items() if all(_allowed(world, student, item) for item in NEEDED)]
    lacking = [pk for pk in juniors if pk not in set(complete)]
    return Count(top=len(complete), bottom=len(juniors), students=lacking,
                 words="The list names the juniors who lack one.")


def consents_ending(world: World) -> Count:
    juniors = _juniors(world)
    return of_students((pk for pk, student in juniors.items() if any(
        _permission(world, student, item).ends_within(day=world.today, days=SOON_DAYS)
        for item in Consent.Item.values)), juniors)


def second_adult(world: World) -> Count:
    juniors = {row.student.pk for row in world.everybody if world.is_junior(row.student)}
    own = [visit for visit in world.due
           if visit.student in juniors and visit.attended and visit.kind != Lesson.Kind.GROUP]
    alone = [visit for visit in own if visit.alone]
    return Count(top=len(alone), bottom=len(own), students=list(dict.fromkeys(visit.student for visit in alone)))


def checks(world: World) -> Count:
    """The list names who lacks a paper, and which."""
    coaches = {row.student.coach_id: row.student.coach for row in world.rows if world.is_junior(row.student)}
    valid: dict[int, set[str]] = {pk: set() for pk in coaches}
    for one in world.checks:
        if one.coach_id in valid and one.done_on <= world.today <= one.expires_on:
            valid[one.coach_id].add(one.kind)
    lacking = {pk: [kind.label.lower() for kind in CoachCheck.Kind if kind not in own] for pk, own in valid.items()}
    named = sorted((str(coaches[pk]), kinds) for pk, kinds in lacking.items() if kinds)
    return Count(top=len(coaches) - len(named), bottom=len(coaches), words="The list names who lacks one.",
                 items=[Item(name=name, words=f"not in date: {', '.join(kinds)}") for name, kinds in named])


def incidents(world: World) -> Count:
    still = sorted((one for one in world.incidents if one.closed_on is None), key=lambda one: one.happened_on)
    words = f"The oldest has been open for {_days(world, still[0])}." if still else ""
    return Count(top=len(still), bottom=len(world.incidents), words=words,
                 items=[_incident(world, one) for one in still])


def near_misses(world: World) -> Count:
    told = [one for one in world.incidents
            if one.kind == Incident.Kind.NEAR_MISS and world.in_window(one.happened_on)]
    given = sum(visit.attended for visit in world.due)
    return Count(top=len(told), bottom=given, per=1000, unit="for 1000 lessons", of="lessons",
                 items=[_incident(world, one) for one in told])


def _incident(world: World, one: Incident) -> Item:
    """Return what happened, without a name and without what was hurt."""
    state = f"Open for {_days(world, one)}" if one.closed_on is None else f"Closed on {one.closed_on:%-d %B %Y}"
    return Item(name=f"{one.get_kind_display()}, {one.happened_on:%-d %B %Y}",
                words=f"{one.what.rstrip('.')}. {state}; {one.keeper} looks after it.")


def _days(world: World, one: Incident) -> str:
    days = (world.today - one.happened_on).days
    return f"{days} day{'s' * (days != 1)}"


def _packages(world: World) -> dict:
    kept = {row.student.pk for row in world.rows}
    return {pk: left for pk, left in world.left.items() if pk in kept and left.ever}


def _juniors(world: World) -> dict:
    return {row.student.pk: row.student for row in world.rows if world.is_junior(row.student)}


def _permission(world: World, student, item: str):
    rows = world.consents.get(student.pk, [])
    return judge(student=student, item=item, day=world.today, rows=rows, by=world.rules)


def _allowed(world: World, student, item: str) -> bool:
    return _permission(world, student, item).allowed
