"""Figures about packages, juniors' safety, papers and incidents."""

from datetime import timedelta

from academy.consents import judge
from academy.models import Consent
from lessons.models import CoachCheck, Incident, Lesson

from .count import Count, of_students
from .teaching import due, given_minutes
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
    own = _packages(world)
    lessons = sum(left.lessons for left in own.values())
    return Count(top=sum(left.value_cents for left in own.values()) / 100, bottom=lessons, per=1, unit="a lesson",
                 students=[pk for pk, left in own.items() if left.lessons])


def revenue(world: World) -> Count:
    """Beside the window, the same days a year before."""
    kept = {row.student.pk for row in world.rows}
    then = [timedelta(days=365) * back for back in (0, 1)]
    sums = [
        sum(cents for pk, day, cents in world.money if pk in kept and world.in_window(day + back)) / 100
        for back in then
    ]
    hours = sum(given_minutes(world).values()) / 60
    return Count(top=sums[0], bottom=round(hours, 1), per=1, unit="an hour",
                 words=f"The same days a year before: {sums[1]:.2f} noted.")


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
    juniors = _juniors(world)
    own = [visit for visit in due(world)
           if visit.student in juniors and visit.attended and visit.kind != Lesson.Kind.GROUP]
    alone = [visit for visit in own if visit.alone]
    return Count(top=len(alone), bottom=len(own), students=list(dict.fromkeys(visit.student for visit in alone)))


def checks(world: World) -> Count:
    coaches = {row.student.coach_id for row in world.rows if world.is_junior(row.student)}
    valid: dict[int, set[str]] = {}
    for one in world.checks:
        if one.done_on <= world.today <= one.expires_on:
            valid.setdefault(one.coach_id, set()).add(one.kind)
    complete = [pk for pk in coaches if valid.get(pk, set()) >= set(CoachCheck.Kind.values)]
    return Count(top=len(complete), bottom=len(coaches), words="coaches")


def incidents(world: World) -> Count:
    still = [one for one in world.incidents if one.closed_on is None]
    oldest = max(((world.today - one.happened_on).days for one in still), default=None)
    words = "" if oldest is None else f"The oldest has been open for {oldest} day{'s' * (oldest != 1)}."
    return Count(top=len(still), bottom=len(world.incidents), words=words)


def near_misses(world: World) -> Count:
    told = [one for one in world.incidents
            if one.kind == Incident.Kind.NEAR_MISS and world.in_window(one.happened_on)]
    given = sum(visit.attended for visit in due(world))
    return Count(top=len(told), bottom=given, per=1000, unit="for 1000 lessons")


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
