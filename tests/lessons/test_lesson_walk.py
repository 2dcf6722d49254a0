"""From the first look to the finished lesson in a real browser, on a wide screen and on a phone."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from playwright.sync_api import expect

from lessons.library import current_library, load_shipped
from lessons.models import Block, DrillAssignment, Finding, Lesson, Prescription, SetupObservation
from tests.browser import PHONE, WIDE, Hand, sign_in, watch

from .hour import draw_lesson

pytestmark = pytest.mark.django_db(transaction=True)
SIZES = pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def open_lesson(page, live_server, lesson, size, slug):
    page.set_viewport_size(size)
    sign_in(page, live_server, lesson.student.coach)
    page.goto(f"{live_server.url}{reverse('lessons:lesson', args=[lesson.code])}?stop={slug}")


def no_sideways_scroll(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@SIZES
def test_five_setup_numbers_cost_their_digits_and_five_keys(page, live_server, lesson, size):
    seen = watch(page, live_server)
    open_lesson(page, live_server, lesson, size, "look")
    hand = Hand(page)
    hand.click("#before-stance_width_ratio")
    for number in ("16", "7", "7", "2", "1"):
        hand.type(number)
        hand.press("Enter")
    expect(page.locator(".setup-seen .state")).to_have_count(5)
    assert hand.keys == len("16") + 4 + 5
    assert SetupObservation.objects.count() == 5
    assert page.locator("#seen-feet_deg").inner_text().startswith("outside the window")
    expect(page.locator("#before-face_aim_deg")).to_be_focused()
    assert no_sideways_scroll(page)
    seen.assert_clean()


@SIZES
def test_a_wrong_number_is_named_and_the_others_stay(page, live_server, lesson, size):
    open_lesson(page, live_server, lesson, size, "look")
    page.fill("#before-feet_deg", "eighty")
    page.press("#before-feet_deg", "Enter")
    page.locator("#look-said .field-error").wait_for()
    assert "“eighty” was found" in page.locator("#look-said").inner_text()
    assert page.input_value("#before-feet_deg") == "eighty"


@SIZES
def test_the_whole_way_from_look_to_the_private_link(page, live_server, lesson, size):
    seen = watch(page, live_server)
    open_lesson(page, live_server, lesson, size, "look")
    for box, number in (("feet_deg", "7"), ("ball_position_cm", "7")):
        page.fill(f"#before-{box}", number)
        page.press(f"#before-{box}", "Enter")
        page.locator(f"#seen-{box} .state-outside").wait_for()

    read(page, lesson)
    choose_change(page)
    open_blocks(page)
    finish(page, lesson)
    assert no_sideways_scroll(page)
    seen.assert_clean()


def read(page, lesson) -> None:
    page.locator("#stop-reason > summary").click()
    page.locator("#stop-reason .state-supported").first.wait_for()
    page.get_by_role("button", name="Confirm").first.click()
    page.get_by_role("button", name="✓ Confirmed").wait_for()
    assert Finding.objects.get(lesson=lesson).decision == "confirmed"


def choose_change(page) -> None:
    page.locator("#stop-change > summary").click()
    expect(page.locator("#change-change")).to_have_value(re.compile("^Feet line: from 7"))
    page.fill("#change-cue", "belt at the flag")
    page.get_by_role("button", name="This is the one change").click()
    page.locator("#stop-change .cue").wait_for()
    assert Prescription.objects.get().cue == "belt at the flag"


def open_blocks(page) -> None:
    """Two taps: the block with aids, then the one without."""
    for name, purpose in (("Block with alignment sticks", "with_aid"), ("Block without aids", "no_aid")):
        if page.locator("#stop-change").get_attribute("open") is None:
            page.locator("#stop-change > summary").click()
        with page.expect_navigation():
            page.get_by_role("button", name=name).click()
        assert Block.objects.last().purpose == purpose


def finish(page, lesson) -> None:
    """Drill, dose, date and link in at most six actions."""
    if page.locator("#stop-agree").get_attribute("open") is None:
        page.locator("#stop-agree > summary").click()
    other_day, begins = (page.locator(box).bounding_box() for box in ("#other-day", "#next-measure"))
    beside = other_day["x"] + other_day["width"] <= begins["x"]
    assert beside or other_day["y"] + other_day["height"] <= begins["y"], "the date box lies over its neighbour"
    hand = Hand(page)
    hand.click(page.get_by_role("button", name=re.compile("Give.*Two-stick station")))
    page.get_by_role("heading", name="Given").wait_for()
    hand.click(page.locator("#finish-form .choices label").nth(2))
    with page.expect_navigation():
        hand.click(page.get_by_role("button", name="Finish the lesson"))
    hand.click(page.get_by_role("button", name="Copy the link"))
    assert hand.actions <= 6
    assert re.search(r"/p/[\w-]{40,}/$", page.input_value("#link-address"))
    assert page.locator(".qr-box svg").is_visible()
    lesson.refresh_from_db()
    assert lesson.status == Lesson.Status.FINISHED and lesson.next_date
    assert DrillAssignment.objects.get().dose


@SIZES
def test_the_library_is_searched_and_a_window_set_by_keyboard_alone(page, live_server, coach, size):
    load_shipped()
    seen = watch(page, live_server)
    page.set_viewport_size(size)
    sign_in(page, live_server, coach)
    page.goto(live_server.url + reverse("lessons:library"))
    page.focus("#words")
    page.keyboard.type("towel ground")
    expect(page.locator("#found")).to_contain_text("with “towel ground”")
    page.goto(live_server.url + reverse("lessons:library_windows", args=["driver"]))
    row = page.locator("li", has_text="Stance width").first
    row.locator("summary").focus()
    page.keyboard.press("Enter")
    for text in ("1.0", "1.2", "short legs"):
        page.keyboard.press("Tab")
        page.keyboard.type(text)
    page.keyboard.press("Enter")
    page.get_by_text("short legs").wait_for()
    window = next(w for w in current_library().windows if (w.club, w.checkpoint) == ("driver", "stance_width_ratio"))
    assert (window.low, window.high) == (1.0, 1.2) and no_sideways_scroll(page)
    seen.assert_clean()


@SIZES
def test_the_pages_hold_up_to_an_accessibility_check(page, live_server, lesson, size):
    open_lesson(page, live_server, lesson, size, "look")
    lesson_page = reverse("lessons:lesson", args=[lesson.code])
    others = (("note", lesson.code), ("library",), ("library_pattern", "over_draw"), ("library_windows", "driver"))
    addresses = [f"{lesson_page}?stop={slug}" for slug in ("look", "reason", "change", "agree")]
    addresses += [reverse(f"lessons:{name}", args=codes) for name, *codes in others]
    for address in addresses:
        page.goto(live_server.url + address)
        result = Axe().run(page)
        assert result.violations_count == 0, f"{address}: {result.generate_report()}"
