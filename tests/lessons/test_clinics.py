"""A class as a clinic: stations laid out from a template, changed, kept as the academy's own; one observation each."""

import pytest
from django.utils import timezone

from lessons.models import GroupClass, PlanTemplate
from lessons.queries.clinics import template_stations
from lessons.services.classes import join_class
from tests import factories
from tests.browser import PHONE, sign_in, watch
from tests.lessons.private import cast


@pytest.fixture
def group(coach):
    return GroupClass.objects.create(name="Saturday class", coach=coach, starts_at=timezone.now(), minutes=60)


@pytest.fixture
def lesson(coach, group, student):
    return join_class(by=coach, group=group, student=student)


def lay_out(client, group, **values):
    return client.post(f"/classes/{group.code}/stations/", values)


def station(place: int = 1, **values) -> dict:
    whole = {"title": "Putting gate", "minutes": "20", "zone": "Far side", "how": "Ten putts", **values}
    return {f"{name}-{place}": said for name, said in whole.items()}


def test_a_shipped_template_is_laid_out_in_the_minutes_of_the_class(as_coach, group):
    lay_out(as_coach, group, template="shipped:around_the_green")
    group.refresh_from_db()
    assert sum(one["minutes"] for one in group.stations) == 60
    page = as_coach.get(f"/classes/{group.code}/clinic/").content.decode()
    assert "Landing towel" in page and "Zone: Left apron" in page


def test_stations_are_changed_by_hand_and_a_row_without_a_name_is_left_out(as_coach, group):
    lay_out(as_coach, group, **station(1), **station(3, title="Pace ladder", minutes="25"), **station(4, title=""))
    group.refresh_from_db()
    assert [(one["title"], one["minutes"]) for one in group.stations] == [("Putting gate", 20), ("Pace ladder", 25)]


@pytest.mark.parametrize(("values", "said"), [
    (station(minutes="ten"), "Station 1: “ten” minutes; expected a whole number"),
    (station(minutes="0"), "expected a whole number from 1 to 240"),
    (station(minutes="61"), "add up to 61 minutes; the class has 60"),
    ({"template": "own:nonsense"}, "There is no such template any more."),
])
def test_what_cannot_be_laid_out_is_refused_with_the_reason(as_coach, group, values, said):
    response = lay_out(as_coach, group, **values)
    assert response.status_code == 422 and said in response.content.decode()
    group.refresh_from_db()
    assert group.stations == []


def test_a_change_of_the_stations_is_taken_back_with_the_class(as_coach, group):
    lay_out(as_coach, group, template="shipped:first_swings")
    as_coach.post(f"/classes/{group.code}/undo/")
    group.refresh_from_db()
    assert group.stations == []


def test_the_academys_own_template_is_a_copy_that_every_coach_finds(as_coach, client, group, other_coach):
    lay_out(as_coach, group, **station())
    as_coach.post(f"/classes/{group.code}/template/", {"title": "Rainy Saturday"})
    lay_out(as_coach, group, **station(title="Something else"))
    own = PlanTemplate.objects.get()
    assert template_stations(f"own:{own.code}", minutes=60)[0][0]["title"] == "Putting gate"
    client.force_login(other_coach)
    theirs = GroupClass.objects.create(name="Monday class", coach=other_coach, starts_at=timezone.now())
    assert "Rainy Saturday" in client.get(f"/classes/{theirs.code}/clinic/").content.decode()


def test_a_template_of_the_same_name_takes_the_place_of_the_old_one(as_coach, group):
    for title in ("Putting gate", "Pace ladder"):
        lay_out(as_coach, group, **station(title=title))
        as_coach.post(f"/classes/{group.code}/template/", {"title": "Ours"})
    assert PlanTemplate.objects.filter(removed_at__isnull=True).get().body["stations"][0]["title"] == "Pace ladder"
    assert PlanTemplate.objects.count() == 2


def test_nothing_laid_out_is_nothing_to_keep(as_coach, group):
    response = as_coach.post(f"/classes/{group.code}/template/", {"title": "Ours"})
    assert response.status_code == 422 and "nothing to keep" in response.content.decode()


def test_a_template_is_taken_out_and_put_back(as_coach):
    own = PlanTemplate.objects.create(kind="group", title="Ours", body={"stations": []})
    as_coach.post(f"/class-templates/{own.code}/out/")
    assert template_stations(f"own:{own.code}", minutes=60) is None
    as_coach.post(f"/class-templates/{own.code}/out/", {"back": "1"})
    assert template_stations(f"own:{own.code}", minutes=60) is not None


def test_an_observation_is_read_by_its_student_and_by_no_owner(as_coach, client, group, lesson, owner, student):
    as_coach.post(f"/classes/{group.code}/observations/", {f"said-{lesson.code}": "Quiet feet on every putt"})
    as_coach.post(f"/classes/{group.code}/register/", {"came": [str(lesson.code)]})
    lesson.refresh_from_db()
    assert lesson.student_note == "Quiet feet on every putt"
    assert "Quiet feet" in cast.holder_of(student).get("/me/").content.decode()
    client.force_login(owner)
    assert "Quiet feet" not in client.get(f"/classes/{group.code}/clinic/").content.decode()
    assert client.post(f"/classes/{group.code}/observations/", {}).status_code == 404


def test_whoever_is_not_in_the_class_gets_no_observation(as_coach, coach, group, lesson):
    stranger = factories.make_lesson(student=factories.make_student(coach=coach, name="Somebody Else"))
    as_coach.post(f"/classes/{group.code}/observations/", {f"said-{stranger.code}": "Not for you"})
    stranger.refresh_from_db()
    assert stranger.student_note == ""


@pytest.mark.django_db(transaction=True)
def test_a_clinic_is_laid_out_and_observed_on_a_phone(page, live_server, coach, group, lesson):
    seen = watch(sign_in(page, live_server, coach), live_server)
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}/classes/{group.code}/")
    page.get_by_role("link", name="Stations and observations").click()
    page.get_by_label("Template", exact=True).select_option("shipped:aim_and_routine")
    page.get_by_role("button", name="Lay it out").click()
    page.get_by_text("Aim audit").first.wait_for()
    page.get_by_label(lesson.student.name).fill("Face first, every time")
    page.get_by_role("button", name="Store the observations").click()
    page.get_by_text("1 observation stored").wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    seen.assert_clean()
