"""The one character that PostgreSQL cannot hold never reaches a database, whichever it is."""

import uuid

import pytest
from django.db import connection
from django.urls import reverse

from lessons.models import ImportBatch
from lessons.services import imports
from tests import factories

NUL = "\0"


@pytest.fixture
def said_to_the_database():
    said = []

    def listen(execute, sql, params, many, context):
        said.append(repr(params))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(listen):
        yield said


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student)


def ask(client, lesson, what: str) -> int:
    here = [lesson.code]
    if what == "search":
        return client.get(reverse("academy:students"), {"q": f"Ed{NUL}da"}).status_code
    if what == "link":
        return client.get(f"/p/abc%00defg{uuid.uuid4()}/").status_code
    if what == "drill":
        return client.post(reverse("lessons:drill_give", args=here), {"drill": f"gate{NUL}"}).status_code
    if what == "belief":
        return client.post(reverse("lessons:belief", args=here), {"belief": f"I lift{NUL} my head"}).status_code
    batch = imports.look_at(by=None, lesson=lesson, data=b"Club,Path\nDriver,x\n", filename="a.csv", block=None)
    row = {"row_2": f"Driver,{NUL}1"}
    return client.post(reverse("lessons:import_correct", args=[batch.code]), row).status_code


@pytest.mark.parametrize(("what", "status"), [
    ("search", 200), ("link", 404), ("drill", 422), ("belief", 302), ("correction", 302),
])
def test_it_is_left_out_or_refused(as_coach, lesson, said_to_the_database, what, status):
    assert ask(as_coach, lesson, what) == status
    assert not [said for said in said_to_the_database if "\\x00" in said or "\\u0000" in said]


def test_what_stood_around_it_is_kept(as_coach, lesson):
    ask(as_coach, lesson, "belief")
    ask(as_coach, lesson, "correction")
    lesson.refresh_from_db()
    assert lesson.belief == "I lift my head"
    assert ImportBatch.objects.get().reading["corrections"] == {"2": "Driver,1"}
