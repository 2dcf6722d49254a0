"""A worry goes to the welfare lead, and to nobody else."""

import json
import uuid
from datetime import date

import pytest
from django.core.management import call_command

from academy.models import Change, Concern
from tests import factories
from tests.lessons.private import cast

WORDS = "He shouts at her when we are away"


@pytest.fixture
def welfare(academy):
    return factories.make_coach("welfare", first_name="Ines", last_name="Quill", is_coach=False, is_welfare_lead=True)


def tell(student, **values):
    phone = cast.holder_of(student)
    return phone.post("/me/concern/", {"key": str(uuid.uuid4()), "text": WORDS, **values}), phone


def test_the_page_says_who_reads_it_and_the_emergency_number_first(student, welfare):
    page = cast.holder_of(student).get("/me/concern/").content.decode()
    assert page.index("Call 112 first") < page.index("Ines Quill reads this") < page.index("<textarea")


def test_the_welfare_lead_reads_it_and_closes_it_with_what_was_done(client, student, welfare):
    tell(student)
    client.force_login(welfare)
    assert WORDS in client.get("/welfare/").content.decode()
    address = f"/welfare/concerns/{Concern.objects.get().code}/close/"
    assert "Say in a few words" in client.post(address, {"outcome": ""}, follow=True).content.decode()
    assert "Closed" in client.post(address, {"outcome": "Spoke with both."}, follow=True).content.decode()
    assert WORDS not in client.get("/welfare/").content.decode()
    client.post(address, {"outcome": "Something else."})
    assert Concern.objects.get().outcome == "Spoke with both."


def test_neither_coach_nor_owner_nor_the_private_page_learns_of_it(client, student, welfare, coach, owner, tmp_path):
    _, phone = tell(student)
    assert Concern.objects.exists() and not Change.objects.exists()
    pages = [phone.get(address).content.decode() for address in ("/me/", "/me/kept/", "/me/kept/my-golf-record.txt")]
    for person in (coach, owner):
        client.force_login(person)
        pages += [client.get(address).content.decode() for address in ("/", f"/students/{student.code}/", "/roster/")]
        assert client.get("/welfare/").status_code == 404
    call_command("export_archive", str(tmp_path / "all.json"))
    pages.append(json.dumps(json.loads((tmp_path / "all.json").read_text())))
    assert not [page for page in pages if WORDS in page or "concern" in page.replace("/me/concern/", "")]


def test_sent_twice_it_is_stored_once_and_an_empty_one_is_refused(student, welfare):
    key = str(uuid.uuid4())
    tell(student, key=key), tell(student, key=key)
    assert Concern.objects.count() == 1
    assert tell(student, text=" ")[0].status_code == 422


def test_a_key_of_somebody_else_is_refused_and_changes_nothing(student, coach, welfare):
    key = str(uuid.uuid4())
    tell(student, key=key)
    answer, _ = tell(factories.make_student(coach=coach, name="Somebody Else"), key=key)
    assert answer.status_code == 422 and Concern.objects.get().student == student


def test_without_a_welfare_lead_the_page_says_so_and_takes_nothing(student):
    page = cast.holder_of(student).get("/me/concern/").content.decode()
    assert "has named nobody for this yet" in page and "<textarea" not in page


def test_a_guardian_is_named_as_the_writer(coach, welfare):
    junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=date(2015, 1, 10))
    phone = cast.holder_of(junior, guardian=cast.guardian_of(junior, "Tess Reed"))
    phone.post("/me/concern/", {"key": str(uuid.uuid4()), "text": WORDS})
    assert Concern.objects.get().written_by == "Tess Reed"
