"""The desk in a real browser: two tabs, double clicks, typing that is no shortcut, refusals that lose nothing."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from lessons.models import Block, Shot
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, pain_asked=True)


@pytest.fixture
def desk(page: Page, live_server, coach, lesson):
    """Open the lesson with a block of one reading; returns the opener."""

    def opened(reading: str = "calls", **values) -> Page:
        block = factories.make_block(lesson=lesson, reading=reading, **values)
        page.set_viewport_size(WIDE)
        sign_in(page, live_server, coach).goto(f"{live_server.url}/lessons/{lesson.code}/?block={block.code}")
        expect(page.locator("#desk[data-ready]")).to_be_visible()
        return page

    return opened


def saved(page: Page, count: int) -> None:
    expect(page.locator("#ball-list > li .saved")).to_have_count(count)


def test_a_double_click_on_the_contact_is_one_ball(desk):
    page = desk()
    page.keyboard.press("9")
    page.get_by_role("button", name="Fat").dblclick()
    saved(page, 1)
    page.wait_for_timeout(600)
    assert Shot.objects.count() == 1


def test_a_double_click_on_next_block_is_one_block(desk, lesson):
    page = desk()
    page.get_by_role("button", name=re.compile("Next block: with alignment sticks n")).dblclick()
    expect(page.get_by_role("heading", name="Block 2: Driver")).to_be_visible()
    assert lesson.blocks.count() == 2


def test_enter_held_down_or_pressed_twice_stores_one_typed_ball(desk):
    page = desk(reading="numbers")
    page.keyboard.type("200")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    saved(page, 1)
    expect(page.get_by_text("Type at least one number.")).to_be_visible()
    assert Shot.objects.count() == 1


def test_two_tabs_number_the_balls_in_the_order_they_came_and_lose_none(desk):
    first = desk()
    second = first.context.new_page()
    second.goto(first.url)
    for tab, digit in ((first, "9"), (second, "4"), (first, "5"), (second, "2")):
        tab.bring_to_front()
        tab.keyboard.press(digit)
        tab.keyboard.press("Enter")
        expect(tab.locator("#ball-list > li .waiting")).to_have_count(0)
    for tab in (first, second):
        saved(tab, 4)
    balls = list(Shot.objects.order_by("number").values_list("number", "called_start", "called_curve"))
    assert balls == [(1, 1, -1), (2, -1, 0), (3, 0, 0), (4, 0, 1)]
    first.reload()
    saved(first, 4)


def test_shortcuts_are_silent_while_somebody_types(desk, lesson):
    page = desk()
    page.keyboard.press("5")
    page.keyboard.press("Enter")
    saved(page, 1)
    page.locator("summary", has_text="In their words").click()
    box = page.get_by_label("What was played")
    box.fill("")
    box.press_sequentially("unb?9f")
    page.wait_for_timeout(300)
    assert box.input_value() == "unb?9f"
    assert Shot.objects.present().count() == 1 and lesson.blocks.count() == 1
    expect(page.locator("#keys")).to_be_hidden()


def test_the_question_mark_shows_the_keys_and_escape_hides_them(desk):
    page = desk()
    page.keyboard.press("?")
    expect(page.get_by_role("dialog", name="Keys")).to_be_visible()
    page.keyboard.press("u")
    page.keyboard.press("Escape")
    expect(page.locator("#keys")).to_be_hidden()


def test_a_refused_number_comes_back_into_its_box_with_the_reason(desk):
    page = desk(reading="numbers")
    page.keyboard.type("2000")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Carry: 2000 yd was found; expected 0 to 382.8 yd.").first).to_be_visible()
    expect(page.get_by_role("textbox", name="Carry")).to_have_value("2000")
    assert not Shot.objects.exists()
    page.get_by_role("textbox", name="Carry").fill("200")
    page.keyboard.press("Enter")
    saved(page, 1)


def test_half_a_typed_ball_is_there_after_a_reload_and_gone_once_it_is_stored(desk):
    page = desk(reading="numbers")
    page.keyboard.type("20")
    page.reload()
    box = page.get_by_role("textbox", name="Carry")
    expect(box).to_have_value("20")
    expect(box).to_be_focused()
    box.press("End")
    page.keyboard.type("5")
    page.keyboard.press("Enter")
    saved(page, 1)
    page.reload()
    saved(page, 1)
    expect(box).to_have_value("")
    assert Shot.objects.get().carry_m == pytest.approx(205 * 0.9144)


def test_half_a_called_ball_is_there_after_a_reload(desk):
    page = desk()
    for key in ("8", "8", "+"):
        page.keyboard.press(key)
    page.reload()
    expect(page.locator("#desk[data-ready]")).to_be_visible()
    page.keyboard.press("Enter")
    saved(page, 1)
    ball = Shot.objects.get()
    assert (ball.called_curve, ball.called_height) == (-2, 1)


def test_the_first_box_has_the_focus_after_the_next_block_too(desk):
    page = desk(reading="numbers", aids=["sticks"], purpose=Block.Purpose.WITH_AID)
    expect(page.get_by_role("textbox", name="Carry")).to_be_focused()
    page.keyboard.press("n")
    expect(page.get_by_role("heading", name="Block 2")).to_be_visible()
    expect(page.get_by_role("textbox", name="Carry")).to_be_focused()
    page.keyboard.type("200")
    page.keyboard.press("Enter")
    saved(page, 1)
    assert Shot.objects.get().block.position == 2


def test_a_box_that_was_offered_stays_although_the_first_ball_came_without_its_number(desk, lesson, student):
    earlier = factories.make_block(lesson=factories.make_lesson(student=student, days_ago=7))
    factories.add_balls(block=earlier, carry_m=[200.0], club_path_deg=[3.0], face_angle_deg=[1.0])
    page = desk(reading="numbers")
    face = page.get_by_role("textbox", name="Face to target")
    expect(face).to_be_visible()
    page.keyboard.type("200")
    page.keyboard.press("Enter")
    saved(page, 1)
    page.reload()
    expect(face).to_be_visible()


def test_a_ball_after_an_undo_takes_the_number_that_became_free(desk):
    page = desk()
    for digit in "59":
        page.keyboard.press(digit)
        page.keyboard.press("Enter")
    saved(page, 2)
    page.keyboard.press("u")
    expect(page.get_by_text(re.compile("Taken back: Ball 2"))).to_be_visible()
    expect(page.locator("#desk[data-ready]")).to_be_visible()
    page.keyboard.press("4")
    page.keyboard.press("Enter")
    saved(page, 2)
    assert [text.split(":")[0].strip() for text in page.locator(".ball-number").all_inner_texts()] == ["2", "1"]


def test_going_away_and_back_shows_every_ball_once(desk):
    page = desk()
    page.keyboard.press("5")
    page.keyboard.press("Enter")
    saved(page, 1)
    page.get_by_role("link", name="History").click()
    page.go_back()
    saved(page, 1)
    page.go_forward()
    page.go_back()
    saved(page, 1)
    assert Shot.objects.count() == 1


def test_the_same_flight_key_twice_is_a_lot_of_curve(desk):
    page = desk()
    page.keyboard.press("8")
    page.keyboard.press("8")
    page.keyboard.press("Enter")
    saved(page, 1)
    assert Shot.objects.get().called_curve == -2


def test_height_is_one_more_key_and_never_asked_for(desk):
    page = desk()
    for key in ("5", "+", "Enter", "5", "Enter"):
        page.keyboard.press(key)
    saved(page, 2)
    assert list(Shot.objects.order_by("number").values_list("called_height", flat=True)) == [1, None]


def test_clean_without_a_flight_asks_for_the_flight(desk):
    page = desk()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Say where it went first")).to_be_visible()
    assert not Shot.objects.exists()


def test_the_stop_of_the_block_follows_each_ball_and_keeps_shut_or_open(desk):
    page = desk(purpose=Block.Purpose.FIRST_TEN)
    stop = page.locator("#stop-first_ten")
    stop.locator("summary").first.click()
    page.keyboard.press("9")
    page.keyboard.press("Enter")
    expect(stop.get_by_text("Start, of 1: 1 right")).to_be_visible()
    expect(page.locator("#topline")).to_contain_text("1 ball")
    assert page.locator("#stop-greet").get_attribute("open") is None or stop.get_attribute("open") is not None


def test_a_left_handers_keypad_stores_the_mirrored_call(desk, student):
    student.hand = "left"
    student.save()
    page = desk()
    page.keyboard.press("9")
    page.keyboard.press("Enter")
    saved(page, 1)
    ball = Shot.objects.get()
    assert (ball.called_start, ball.called_curve) == (-1, 1)
    expect(page.locator("#ball-list")).to_contain_text("pull fade, clean (starts right, curves left)")


@pytest.mark.parametrize("reading", ["calls", "numbers"])
def test_nothing_breaks_the_content_policy_and_nothing_leaves_the_machine(desk, live_server, page, reading):
    seen = watch(page, live_server)
    desk(reading=reading)
    page.keyboard.press("5")
    page.keyboard.press("Enter")
    saved(page, 1)
    page.locator("summary", has_text="Greet").click()
    seen.assert_clean()


@pytest.mark.parametrize("reading", ["calls", "numbers"])
def test_the_desk_is_open_to_everybody(desk, reading):
    page = desk(reading=reading)
    page.keyboard.press("5")
    page.keyboard.press("Enter")
    saved(page, 1)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_every_target_of_the_desk_is_big_enough_for_a_thumb(desk):
    page = desk()
    page.set_viewport_size(PHONE)
    small = page.locator(".desk-balls").evaluate("""side => [
        ...side.querySelectorAll("button, .key, .choice, a.button-quiet")]
        .filter(e => e.offsetParent).map(e => [e.textContent.trim(), e.getBoundingClientRect()])
        .filter(([, box]) => box.width < 44 || box.height < 44).map(([text]) => text)""")
    assert small == []
