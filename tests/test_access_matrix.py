"""Every address × every person, made from the URL resolver and the rights table in DEVELOPERS.md.

A new page without a row in the table fails here; so does a row whose rights are not what the code does.
"""

import uuid
from dataclasses import dataclass

import pytest
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, get_resolver, reverse
from django.utils import timezone

from academy import share
from academy.access import LINK_SESSION_KEY
from academy.journal import journal
from academy.models import Concern, Guardian, Guardianship, HealthFlag
from lessons.models import (
    Battery,
    Booking,
    DataSource,
    DrillAssignment,
    GroupClass,
    Incident,
    LibraryEntry,
    Plan,
    PlanTemplate,
    QueueMark,
    Round,
    SkillTest,
    StudentEvent,
    StudentMessage,
    Waiting,
)
from lessons.services import calendar, history, imports
from lessons.services.library import override_window
from lessons.services.packages import sell_package
from tests import factories
from tests.test_docs import table

RIGHTS = {name: {who.strip() for who in cells[0].split(",")} for name, cells in table("address").items()}
KNOWN = {"anyone", "staff", "coach", "teacher", "owner", "welfare", "link", "token"}


def walk(patterns, namespace="", route=""):
    """Yield (name, whole route, converters) of every address."""
    for pattern in patterns:
        here = route + str(pattern.pattern)
        if isinstance(pattern, URLPattern):
            yield f"{namespace}{pattern.name}", here, pattern.pattern.converters
        else:
            inner = f"{pattern.namespace}:" if pattern.namespace else namespace
            yield from walk(pattern.url_patterns, inner, here)


ADDRESSES = {name: (route, converters) for name, route, converters in walk(get_resolver().url_patterns)}


@dataclass
class World:
    """One student with everything that hangs on it, and who might ask for it."""

    people: dict
    objects: dict

    def address(self, name: str, *, foreign: bool = False) -> str:
        """Build the address of a page about this world's student; ``foreign`` puts random codes in."""
        route, converters = ADDRESSES[name]
        values = {}
        for argument, converter in converters.items():
            values[argument] = self.value(route, argument)
            if foreign and type(converter).__name__ == "UUIDConverter":
                values[argument] = uuid.uuid4()
        return reverse(name, kwargs=values)

    def value(self, route: str, argument: str):
        before = route.split(f":{argument}>")[0].rsplit("<", 1)[0].rstrip("/").split("/")[-1]
        key = before if before in self.objects else argument
        assert key in self.objects, (
            f"Say in tests/test_access_matrix.py what {argument!r} after {before!r} in {route!r} stands for."
        )
        return self.objects[key]


@pytest.fixture
def world(student, coach, other_coach, owner):
    welfare = factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    lesson = factories.make_lesson(student=student)
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=[5.0, 6.0], face_angle_deg=[2.0, 3.0])
    link, token = share.issue_link(student=student, by=coach)
    holder = Client()
    session = holder.session
    session[LINK_SESSION_KEY] = link.pk
    session.save()
    people = {"anonymous": Client(), "link": holder}
    for name, person in {"coach": coach, "other": other_coach, "owner": owner, "welfare": welfare}.items():
        people[name] = Client()
        people[name].force_login(person)
    return World(people=people, objects=objects_of(student, lesson, block, link, token))


def objects_of(student, lesson, block, link, token) -> dict:
    """Return what stands behind each kind of address, by the word before the code, or by the argument's name."""
    coach = student.coach
    guardian = Guardian.objects.create(name="Ada Marlow")
    Guardianship.objects.create(student=student, guardian=guardian)
    flag = HealthFlag.objects.create(student=student, area="hip", severity=2, reported_at=timezone.now())
    drill = DrillAssignment.objects.create(
        student=student, lesson=lesson, drill="two-stick-station", card={"name": "Two sticks", "steps": ["Aim."]},
        starts_on=timezone.localdate(),
    )
    message = StudentMessage.objects.create(
        student=student, key=uuid.uuid4(), text="May I use a tee?", sent_at=timezone.now()
    )
    with journal(by=coach, student=student, lesson_code=lesson.code, sentence="Goal set") as entry:
        entry.update(lesson, goal="Feet first")
    own = override_window(by=coach, club="driver", checkpoint="feet_deg", low=-1, high=1, reason="house rule")
    LibraryEntry.objects.create(  # out of the library already, so that it changes nothing else
        kind="drill", slug="own-rope", title="Rope", data={}, is_own=True, retired_at=timezone.now())
    batch = imports.look_at(by=coach, lesson=lesson, data=b"Club,Path\nDriver,1.0\n", filename="a.csv", block=None)
    played = Round.objects.create(
        student=student, played_on=timezone.localdate(), adjusted_gross=90, course_rating=71.2, slope=128)
    package = sell_package(by=coach, student=student, key=uuid.uuid4(), name="Six lessons", lessons=6)
    Booking.objects.create(lesson=lesson)
    group = GroupClass.objects.create(name="Saturday class", coach=coach, starts_at=timezone.now())
    waits = Waiting.objects.create(student=student, coach=coach)
    return {
        "incidents": Incident.objects.create(
            happened_on=timezone.localdate(), kind="near_miss", what="A ball over the net", keeper=coach).code,
        "figures": "figures",
        "monday": QueueMark.objects.create(student=student, cause="overdue", about="visit of May").code,
        "classes": group.code, "waiting": waits.code, "calendar": calendar.issue_feed(coach=coach),
        "packages": package.code, "what": "refund", "lines": package.entries.get().code,
        "concerns": Concern.objects.create(
            student=student, key=uuid.uuid4(), text="The door was shut.", sent_at=timezone.now()).code,
        "students": student.code, "lessons": lesson.code, "blocks": block.code, "balls": block.shots.first().key,
        "links": link.code, "p": token, "entry": "no-such-token", "guardians": guardian.code, "health": flag.code,
        "drills": drill.code, "messages": message.code, "history": history.changes_of(lesson=lesson)[0].code,
        "imports": batch.code, "stops": "greet", "patterns": "over_draw", "cards": "two-stick-station",
        "windows": "driver", "overrides": own.code, "own": "drill-own-rope",
        "sources": DataSource.objects.create(name="Bay 3").code, "export": "balls", "rounds": played.code,
        "pictures": factories.keep_picture(block=block).code,
        "plans": Plan.objects.create(
            student=student, kind="series", title="Series", starts_on=timezone.localdate(), body={"steps": []}).code,
        "kind": "series",
        "events": StudentEvent.objects.create(student=student, name="Cup", on_date=timezone.localdate()).code,
        "batteries": Battery.objects.create(student=student, begun_on=timezone.localdate()).code,
        "parts": "ask", "measures": "chips",
        "class-templates": PlanTemplate.objects.create(kind="group", title="Ours", body={"stations": []}).code,
        "tests": SkillTest.objects.create(student=student, design="putt_five", seed=7).code,
    }


def answer(client: Client, address: str) -> str:
    """Return "yes" where the person gets something, "no" for a missing page or the sign-in page."""
    response = client.get(address)
    if response.status_code == 405:
        response = client.post(address)
    if response.status_code in {302, 303} and response["Location"].startswith(reverse("academy:sign_in")):
        return "no"
    assert response.status_code < 500, f"{address}: {response.status_code}"
    # 204 says nothing and did nothing: a re-sent request for something that is gone, or was never theirs.
    return "no" if response.status_code in {204, 401, 403, 404} else "yes"


def tried(client: Client, address: str) -> str:
    """Return the answer and take back what it did, so that the next person finds everything as it was."""
    with transaction.atomic():
        said = answer(client, address)
        transaction.set_rollback(True)
    return said


def expected(person: str, who: set[str]) -> str:
    if "anyone" in who:
        return "yes"
    groups = {
        "anonymous": set(), "link": {"link"}, "coach": {"staff", "teacher", "coach"},
        "other": {"staff", "teacher"}, "owner": {"staff", "owner"}, "welfare": {"staff", "welfare"},
    }
    return "yes" if groups[person] & who else "no"


def test_every_address_has_a_row_in_the_rights_table():
    assert sorted(RIGHTS) == sorted(ADDRESSES)
    assert set().union(*RIGHTS.values()) <= KNOWN


@pytest.mark.parametrize("name", sorted(ADDRESSES))
def test_each_person_gets_what_the_rights_table_says(world, name):
    who = RIGHTS[name]
    if name in APART:
        pytest.skip(APART[name])
    found = {person: tried(client, world.address(name)) for person, client in world.people.items()}
    assert found == {person: expected(person, who) for person in found}


@pytest.mark.parametrize("name", sorted(name for name, (_, converters) in ADDRESSES.items() if "code" in converters))
def test_a_guessed_code_is_a_missing_page_for_everybody(world, name):
    found = {person: answer(client, world.address(name, foreign=True)) for person, client in world.people.items()}
    assert set(found.values()) == {"no"}


APART = {
    "academy:first_run": "gone once an academy exists; tested in test_account",
    "academy:sign_out": "leads to the sign-in page for everybody; tested in test_account",
    "academy:sign_in_code": "leads to the sign-in page without a right password; tested in test_second_factor",
    "academy:entry": "opens with a one-time token only; tested in test_account",
}
