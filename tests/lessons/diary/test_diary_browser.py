"""The diary in a browser: a booking moved by keyboard and by mouse, a class cancelled for thunder."""

import uuid

import pytest
import vobject
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from django.utils import timezone

from lessons.models import Lesson
from lessons.services import classes
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

from .hours import at, booked

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def opened(page, live_server, coach, student):
    with timezone.override("Europe/Dublin"):
        lesson = booked(student, "2030-05-01 10:00")
    page.set_viewport_size(WIDE)
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.goto(live_server.url + reverse("lessons:diary") + "?day=2030-05-01")
    yield page, lesson
    # The browser reports the 422 with which a question comes back; that is the answer, not a fault.
    seen.messages[:] = [said for said in seen.messages if "422" not in said]
    seen.assert_clean()


def hour(lesson) -> str:
    lesson.refresh_from_db()
    return f"{lesson.starts_at.astimezone(at('2030-05-01 10:00').tzinfo):%d %H:%M}"


def test_a_booking_is_moved_by_keyboard_alone_and_the_move_undone(opened):
    page, lesson = opened
    page.locator("a[data-move]").focus()
    for key in ("m", "ArrowRight", "ArrowDown", "ArrowDown", "Enter"):
        page.keyboard.press(key)
    page.get_by_text("Lesson moved to 2 May, 10:30").wait_for()
    assert hour(lesson) == "02 10:30"
    page.get_by_role("button", name="Undo").focus()
    page.keyboard.press("Enter")
    page.get_by_text("Taken back: Lesson moved").wait_for()
    assert hour(lesson) == "01 10:00"


def test_escape_leaves_the_booking_where_it_was(opened):
    page, lesson = opened
    page.locator("a[data-move]").focus()
    for key in ("m", "ArrowDown", "Escape"):
        page.keyboard.press(key)
    assert page.locator("a[data-move] .nowrap").inner_text().startswith("10:00")
    assert page.locator(".is-moving").count() == 0 and hour(lesson) == "01 10:00"


def test_a_booking_is_dragged_to_another_day(opened):
    page, lesson = opened
    box = page.locator("a[data-move]").bounding_box()
    column = page.locator(".diary-column").nth(3).bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 10)
    page.mouse.down()
    page.mouse.move(column["x"] + 20, box["y"] + 10 + box["height"], steps=6)
    page.mouse.up()
    page.get_by_text("Lesson moved to 2 May, 11:00").wait_for()
    assert hour(lesson) == "02 11:00"


def test_a_move_onto_a_taken_hour_is_asked_about(opened, coach):
    page, lesson = opened
    with timezone.override("Europe/Dublin"):
        booked(factories.make_student(coach=coach, name="Tove Lind"), "2030-05-01 11:00")
    page.locator("a[data-move]").first.focus()
    for key in ("m", *["ArrowDown"] * 4, "Enter"):
        page.keyboard.press(key)
    page.get_by_text("has Tove Lind then").wait_for()
    assert hour(lesson) == "01 10:00"
    page.get_by_label("All the same").check()
    page.get_by_role("button", name="Move it").click()
    page.get_by_text("Lesson moved to 1 May, 11:00").wait_for()
    assert hour(lesson) == "01 11:00"


def test_a_class_is_cancelled_for_thunder_on_a_phone_and_everybody_is_told_so(page, live_server, coach):
    group = classes.open_class(
        by=coach, key=uuid.uuid4(), name="Saturday class", coach=coach, starts_at=at("2030-05-04 10:00"), minutes=60,
    )
    for name in ("Ana Fen", "Bo Fen"):
        student = factories.make_student(coach=coach, name=name, email=f"{name[:2].lower()}@example.org")
        classes.join_class(by=coach, group=group, student=student)
    page.set_viewport_size(PHONE)
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.goto(live_server.url + reverse("lessons:diary") + "?day=2030-05-04")
    page.get_by_role("link", name="Saturday class").click()
    page.get_by_label("Why").select_option("weather")
    page.get_by_role("button", name="Cancel the class").click()
    page.get_by_text("Cancelled: weather.").wait_for()
    rows = Lesson.objects.values_list("student__name", "status", "booking__cancel_reason").order_by("student__name")
    assert list(rows) == [("Ana Fen", "cancelled", "weather"), ("Bo Fen", "cancelled", "weather")]
    for name in ("Ana Fen", "Bo Fen"):
        with page.expect_download() as download:
            page.get_by_role("link", name=f"calendar file of {name}").click()
        assert vobject.readOne(download.value.path().read_text()).method.value == "CANCEL"
    page.get_by_role("link", name="Messages for all 2").click()
    page.get_by_role("heading", name="Bo Fen").wait_for()
    assert "is cancelled: weather" in page.get_by_label("Text").first.input_value()
    assert page.get_by_role("link", name="Open in the mail program").count() == 2
    seen.assert_clean()


def test_the_diary_is_accessible_and_does_not_widen_a_phone(opened):
    page, _ = opened
    found = Axe().run(page)
    assert not found.response["violations"], found.generate_report()
    page.set_viewport_size(PHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
