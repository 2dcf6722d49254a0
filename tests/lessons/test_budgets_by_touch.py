"""Every job of the desk with a thumb alone: each target that is tapped is 44 px or more, both ways."""

import re

import pytest
from playwright.sync_api import expect

from lessons.models import Block, DataSource, Lesson, SetupObservation, Shot
from tests import factories
from tests.browser import PHONE, Hand, sign_in

pytestmark = pytest.mark.django_db(transaction=True)
THUMB_PX = 44


class Thumb(Hand):
    """A hand that has no keys and taps nothing small."""

    def tap(self, target) -> None:
        target.scroll_into_view_if_needed()
        box = target.bounding_box()
        assert box["width"] >= THUMB_PX and box["height"] >= THUMB_PX, f"{target} is {box}"
        target.tap()
        self.clicks += 1


@pytest.fixture
def thumb(browser, live_server, coach):
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    yield Thumb(sign_in(context.new_page(), live_server, coach))
    context.close()


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, pain_asked=True)


@pytest.fixture
def opened(thumb, live_server, lesson):
    def open_block(stop: str = "", **values):
        factories.make_block(lesson=lesson, **{"reading": Block.Reading.CALLS, **values})
        thumb.page.goto(f"{live_server.url}/lessons/{lesson.code}/{stop}")
        expect(thumb.page.locator("#desk[data-ready]")).to_be_visible()
        return thumb
    return open_block


def saved(thumb, count: int) -> None:
    expect(thumb.page.locator("#ball-list > li .saved")).to_have_count(count)


def test_ten_observed_balls_are_twenty_taps(opened):
    thumb = opened()
    clean = thumb.page.get_by_role("button", name="Clean")
    for count, digit in enumerate("9963517725", start=1):
        thumb.tap(thumb.page.locator(f'[data-digit="{digit}"]'))
        thumb.tap(clean)
        saved(thumb, count)
    assert thumb.clicks == 20 and Shot.objects.present().count() == 10


def test_a_typed_ball_is_its_digits_and_taps_on_big_boxes(opened):
    thumb = opened(reading=Block.Reading.NUMBERS)
    for name, number in (("Carry", "205"), ("Club path", "3")):
        thumb.tap(thumb.page.get_by_role("textbox", name=name))
        thumb.page.keyboard.type(number)
    thumb.tap(thumb.page.get_by_role("button", name="Store"))
    saved(thumb, 1)
    assert thumb.clicks == 3


def test_the_next_block_is_one_tap_and_so_is_taking_it_back(opened, lesson):
    thumb = opened(aids=["sticks"], purpose=Block.Purpose.WITH_AID)
    thumb.tap(thumb.page.get_by_role("button", name=re.compile("Next block: aids off")))
    expect(thumb.page.get_by_role("heading", name="Block 2")).to_be_visible()
    assert lesson.blocks.get(position=2).aids == []
    thumb.tap(thumb.page.locator("[data-undo] button"))
    expect(thumb.page.get_by_text("Taken back: Block 2 opened")).to_be_visible()
    assert thumb.clicks == 2


def test_a_file_is_chosen_looked_at_and_stored_in_three_taps(opened, academy):
    DataSource.objects.create(name="Bay 3", columns={
        "club": {"heading": "Club", "unit": None}, "carry_m": {"heading": "Carry (yd)", "unit": "yd"}})
    thumb = opened()
    thumb.tap(thumb.page.get_by_role("link", name=re.compile("Take in a file")))
    box = thumb.page.get_by_label("Shot file")
    assert box.bounding_box()["height"] >= THUMB_PX
    box.set_input_files({"name": "day.csv", "mimeType": "text/csv", "buffer": b"Club,Carry (yd)\nDriver,210\n"})
    thumb.clicks += 1  # the tap in the system's own window
    thumb.tap(thumb.page.get_by_role("button", name="Store 1 ball"))
    saved(thumb, 1)
    assert thumb.clicks == 3


def test_five_setup_numbers_are_five_boxes_for_a_thumb(opened):
    thumb = opened("?stop=look")
    for place, (box, number) in enumerate((
        ("stance_width_ratio", "16"), ("ball_position_cm", "7"), ("feet_deg", "7"), ("hips_deg", "2"),
        ("shoulders_deg", "1"),
    ), start=1):
        thumb.tap(thumb.page.locator(f"#before-{box}"))
        thumb.page.keyboard.type(number)
        thumb.page.locator(f"#before-{box}").blur()
        expect(thumb.page.locator(".setup-seen .state")).to_have_count(place)
    assert thumb.clicks == 5 and SetupObservation.objects.count() == 5


def test_the_finish_is_a_tap_on_the_stop_a_date_and_the_button(opened, lesson):
    thumb = opened()
    thumb.tap(thumb.page.locator("#stop-agree > summary"))
    thumb.tap(thumb.page.locator("#finish-form .choices label").nth(2))
    thumb.tap(thumb.page.get_by_role("button", name="Finish the lesson"))
    expect(thumb.page.get_by_role("button", name="Copy the link")).to_be_visible()
    lesson.refresh_from_db()
    assert lesson.status == Lesson.Status.FINISHED and thumb.clicks <= 6
