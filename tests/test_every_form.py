"""Every form that stands on any page, sent with values that no person types and with codes of somebody else's rows.

The pages come from the table of addresses, the forms from the pages: what is added later is tried too.
"""

import json
import re
import zlib
from itertools import product

import pytest
from django.db import connection, transaction
from django.test import Client

from academy import share
from academy.access import LINK_SESSION_KEY
from academy.models import Coach
from lessons import archive
from lessons.models import DataSource, LibraryEntry
from tests import factories
from tests.forms_on_pages import PageForm, forms_on
from tests.test_access_matrix import ADDRESSES, World, objects_of

ODD = ("²", "9" * 4999, "-1", "1e309", "\0x", "0001-01-01", "9999-12-31T23:59", "x" * 9001,
       "00000000-0000-0000-0000-000000000005", "99999999999999999999", "{0.__class__}")
CODE = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f-]{22}")
CLOSES = {"/sign-out/", "/me/close/", "/account/password/", "/account/devices/"}
"""Forms that end the stay of whoever sends them."""
OTHERS_NAME = "Zwartmoor"


def own_world(student) -> World:
    """Everything that hangs on one student."""
    lesson = factories.make_lesson(student=student)
    factories.make_lesson(student=student, status="planned", days_ago=-1)
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=[5.0, 6.0], face_angle_deg=[2.0, 3.0])
    link, token = share.issue_link(student=student, by=student.coach)
    return World(people={}, objects={**objects_of(student, lesson, block, link, token), "link": link})


def somebody(who: str, world: World) -> Client:
    client = Client()
    if who == "link":
        session = client.session
        session[LINK_SESSION_KEY] = world.objects["link"].pk
        session.save()
    else:
        client.force_login(Coach.objects.get(username=who))
    return client


def forms_of(client: Client, world: World) -> dict[tuple, PageForm]:
    """Return each form once that this person finds on any page."""
    found = {}
    for name in sorted(ADDRESSES):
        address = world.address(name)
        answer = client.get(address) if name not in {"academy:link", "academy:entry"} else None
        if answer is None or answer.status_code != 200 or "text/html" not in answer["Content-Type"]:
            continue
        for form in forms_on(answer.content.decode(), address):
            if form.address not in CLOSES:
                found.setdefault((CODE.sub("CODE", form.address), *sorted(form.fields)), form)
    return found


def sent(client: Client, form: PageForm, **other: str):
    """Send a form and take back what it did."""
    with transaction.atomic():
        answer = client.post(form.address, {**form.filled(), **other})
        transaction.set_rollback(True)
    return answer


@pytest.mark.parametrize("who", ["coach", "owner", "link"])
def test_no_form_breaks_on_what_nobody_types(student, owner, who):
    world = own_world(student)
    client = somebody(who, world)
    tried = 0
    for key, form in forms_of(client, world).items():
        for name in form.filled():
            value = ODD[zlib.crc32(f"{key}{name}".encode()) % len(ODD)]
            assert sent(client, form, **{name: value}).status_code < 500, (form.address, name, value[:20])
            tried += 1
    assert tried >= {"link": 18, "owner": 60, "coach": 150}[who], tried


def record(student) -> str:
    document = archive.write(student=student)
    return json.dumps({**document, "made_at": ""}, sort_keys=True)


def codes_of(student) -> list[str]:
    """Return a code of everything that may stand in somebody's form."""
    lesson = student.lessons.first()
    block = lesson.blocks.first() or student.lessons.last().blocks.first()
    rows = [student, student.coach, lesson, block, student.guardians.first(), student.packages.first()]
    keys = [block.shots.first().key, student.messages.first().key]
    return [*(str(row.code) for row in rows), *map(str, keys)]


@pytest.mark.skipif(connection.vendor != "sqlite", reason="rights are the same on every database; this is slow")
@pytest.mark.parametrize("who", ["other", "link"])
def test_no_form_reaches_somebody_elses_record_by_a_code_in_it(coach, other_coach, owner, who):
    theirs = factories.make_student(coach=coach, name=f"Edda {OTHERS_NAME}")
    own_world(theirs)
    DataSource.objects.update(name="Bay 9")
    LibraryEntry.objects.filter(slug="own-rope").update(slug="own-rope-of-before")
    world = own_world(factories.make_student(coach=other_coach, name="Bo Fenwick"))
    client, codes, before = somebody(who, world), codes_of(theirs), record(theirs)
    tried = 0
    for form in forms_of(client, world).values():
        pointing = [name for name, value in form.filled().items() if CODE.fullmatch(value)]
        with transaction.atomic():
            for name, code in product(pointing, codes):
                answer = client.post(form.address, {**form.filled(), name: code})
                assert answer.status_code < 500, (form.address, name)
                assert OTHERS_NAME not in answer.content.decode(), (form.address, name)
                tried += 1
            assert not pointing or record(theirs) == before, form.address
            transaction.set_rollback(True)
    assert tried >= {"link": 30, "other": 200}[who], tried
