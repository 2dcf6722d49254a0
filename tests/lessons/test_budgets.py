"""How much of a coach's attention each job costs: real key presses and clicks in a real browser, counted.

An action is a click, a tap or a key press; the digits of one number count as the number they are. The table is
printed at the end of the run.
"""

import re

import pytest
from playwright.sync_api import Page, expect

from lessons.models import Block, DataSource, Lesson, Shot
from tests import factories
from tests.browser import PHONE, WIDE, Hand, sign_in, watch

pytestmark = pytest.mark.django_db(transaction=True)
TABLE: list[tuple[str, str, str]] = []


@pytest.fixture(scope="module", autouse=True)
def table(request):
    """Print what was counted, as a table for the README."""
    yield
    rows = ["", "| job | at most | counted |", "| --- | --- | --- |"]
    rows += [f"| {job} | {most} | {found} |" for job, most, found in TABLE]
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        print("\n".join(rows))


def counted(job: str, *, most: str, found: str) -> None:
    TABLE.append((job, most, found))


@pytest.fixture
def returning(coach, student):
    """A student who was here a week ago and is booked for today, watched by eye."""
    earlier = factories.make_lesson(student=student, days_ago=7, status=Lesson.Status.FINISHED)
    factories.make_block(lesson=earlier, club_name="7 iron", category="mid_iron")
    return factories.make_lesson(student=student, status=Lesson.Status.PLANNED)


@pytest.fixture
def hand(page: Page, live_server, coach):
    page.set_viewport_size(WIDE)
    sign_in(page, live_server, coach)
    return Hand(page)


def open_lesson(hand: Hand, live_server, lesson) -> None:
    hand.page.goto(f"{live_server.url}/lessons/{lesson.code}/")
    ready(hand)


def ready(hand: Hand) -> None:
    """Wait as a person would, until the page stands."""
    expect(hand.page.locator("#desk[data-ready]")).to_be_visible()


def stored(hand: Hand, count: int) -> None:
    """Wait until so many balls are marked as stored, and look into the database."""
    expect(hand.page.locator("#ball-list > li .saved")).to_have_count(count)
    assert Shot.objects.present().count() == count


def by_eye(student, **values):
    lesson = factories.make_lesson(student=student, pain_asked=True)
    return lesson, factories.make_block(lesson=lesson, reading=Block.Reading.CALLS, **values)


def test_from_today_to_the_first_ball_of_a_returning_student(hand, live_server, returning):
    seen = watch(hand.page, live_server)
    hand.page.goto(live_server.url)
    hand.click(hand.page.get_by_role("button", name="Start"))
    ready(hand)
    hand.press("9")
    hand.press("Enter")
    stored(hand, 1)
    ball = Shot.objects.get()
    assert (ball.called_start, ball.called_curve, ball.contact) == (1, -1, "clean")
    assert ball.block.purpose == Block.Purpose.FIRST_TEN and ball.block.aids == []
    counted("Today to the first ball of a returning student", most="3 actions", found=f"{hand.actions} actions")
    assert hand.actions <= 3
    seen.assert_clean()


def test_from_today_to_the_first_ball_by_touch(browser, live_server, coach, returning):
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    hand = Hand(sign_in(context.new_page(), live_server, coach))
    hand.page.goto(live_server.url)
    hand.click(hand.page.get_by_role("button", name="Start"))
    shape = hand.page.locator('[data-digit="9"]')
    clean = hand.page.get_by_role("button", name="Clean")
    expect(shape).to_be_in_viewport()
    for target in (shape, clean):
        box = target.bounding_box()
        assert box["width"] >= 44 and box["height"] >= 44
    hand.click(shape)
    hand.click(clean)
    stored(hand, 1)
    counted("The same by touch", most="3 actions", found=f"{hand.actions} actions")
    assert hand.actions <= 3
    context.close()


def test_ten_observed_balls(hand, live_server, student):
    lesson, _ = by_eye(student)
    open_lesson(hand, live_server, lesson)
    for shape, contact in zip("9963517725", ["Enter", "Enter", "f", "Enter", "t", "Enter", "Enter", "p", "k", "Enter"],
                              strict=True):
        hand.press(shape)
        hand.press(contact)
    stored(hand, 10)
    calls = list(Shot.objects.order_by("number").values_list("called_start", "called_curve", "contact"))
    assert calls[2] == (1, 0, "fat") and calls[4] == (0, 0, "thin") and calls[8] == (0, 1, "shank")
    counted("Ten observed balls: start, curve, contact", most="22 key presses", found=f"{hand.keys} key presses")
    assert hand.keys <= 22 and hand.clicks == 0


def test_ten_balls_with_carry_and_path_typed(hand, live_server, student):
    lesson = factories.make_lesson(student=student, pain_asked=True)
    factories.make_block(lesson=lesson)
    open_lesson(hand, live_server, lesson)
    digits = 0
    for i, _ in enumerate("0123456789"):
        carry, path = f"{200 + i}", f"{i - 4}.5"
        hand.type(carry)
        hand.press("Tab")
        hand.type(path)
        hand.press("Enter")
        digits += len(carry) + len(path)
    stored(hand, 10)
    last = Shot.objects.get(number=10)
    assert last.carry_m == pytest.approx(209 * 0.9144) and last.club_path_deg == 5.5
    extra = (hand.keys - digits) / 10
    found = f"digits + {extra:g} keys a ball"
    counted("Ten balls with carry and path typed", most="digits + 2 keys a ball", found=found)
    assert extra <= 2 and hand.clicks == 0


@pytest.fixture
def known_source(academy):
    """A source whose files were matched once."""
    return DataSource.objects.create(name="Bay 3", columns={
        "club": {"heading": "Club", "unit": None}, "club_path_deg": {"heading": "Path (deg)", "unit": "°"},
        "carry_m": {"heading": "Carry (yd)", "unit": "yd"},
    })


FILE = "Club,Path (deg),Carry (yd)\nDriver,5.1,210\nDriver,6.3,221\n"
DROP = """text => {
    const data = new DataTransfer();
    data.items.add(new File([text], "day.csv", { type: "text/csv" }));
    const sent = { bubbles: true, cancelable: true, dataTransfer: data };
    document.body.dispatchEvent(new DragEvent("dragover", sent));
    document.body.dispatchEvent(new DragEvent("drop", sent));
}"""


def test_a_known_sources_file_is_dropped_into_the_lesson_checked_and_stored(hand, live_server, student, known_source):
    lesson = factories.make_lesson(student=student, pain_asked=True)
    factories.make_block(lesson=lesson)
    seen = watch(hand.page, live_server)
    open_lesson(hand, live_server, lesson)
    hand.page.evaluate(DROP, FILE)
    hand.clicks += 1  # to drop is one thing to do
    expect(hand.page.get_by_role("heading", name="2 balls would go in")).to_be_visible()
    expect(hand.page.get_by_role("button", name="Store 2 balls")).to_be_focused()
    hand.press("Enter")
    stored(hand, 2)
    assert Shot.objects.get(number=2).carry_m == pytest.approx(221 * 0.9144)
    job = "A file from a known source dropped, checked and stored"
    counted(job, most="3 actions", found=f"{hand.actions} actions")
    assert hand.actions <= 3
    seen.assert_clean()


def test_a_known_sources_file_is_chosen_by_keyboard_alone(hand, live_server, student, known_source):
    lesson = factories.make_lesson(student=student, pain_asked=True)
    factories.make_block(lesson=lesson)
    open_lesson(hand, live_server, lesson)
    hand.press("i")
    box = hand.page.get_by_label("Shot file")
    expect(box).to_be_visible()
    box.set_input_files({"name": "day.csv", "mimeType": "text/csv", "buffer": FILE.encode()})
    hand.keys += 1  # the choice in the system's own window
    expect(hand.page.get_by_role("button", name="Store 2 balls")).to_be_focused()
    hand.press("Enter")
    stored(hand, 2)
    assert hand.actions <= 3


def test_a_file_that_is_too_long_is_refused_before_it_is_sent(hand, live_server, student):
    lesson = factories.make_lesson(student=student, pain_asked=True)
    factories.make_block(lesson=lesson)
    open_lesson(hand, live_server, lesson)
    hand.page.evaluate("document.querySelector('form[data-drop]').dataset.drop = '20'")
    hand.page.evaluate(DROP, FILE)
    expect(hand.page.get_by_text("day.csv has 1 MB; at most 1 MB can be read at once.")).to_be_visible()
    assert "/lessons/" in hand.page.url


def test_next_block_without_the_aids(hand, live_server, student):
    lesson, block = by_eye(student, aids=["sticks"], purpose=Block.Purpose.WITH_AID)
    open_lesson(hand, live_server, lesson)
    hand.press("n")
    expect(hand.page.get_by_role("heading", name="Block 2")).to_be_visible()
    opened = lesson.blocks.get(position=2)
    assert opened.aids == [] and opened.purpose == Block.Purpose.NO_AID
    assert (opened.club_name, opened.intent, opened.effort_pct) == (block.club_name, block.intent, block.effort_pct)
    counted("Next block, aids off", most="2 actions", found=f"{hand.actions} action")
    assert hand.actions <= 2


def test_undo_is_one_key_whatever_the_last_thing_was(hand, live_server, student):
    lesson, _ = by_eye(student)
    open_lesson(hand, live_server, lesson)
    hand.press("5")
    hand.press("Enter")
    stored(hand, 1)
    hand.press("n")
    expect(hand.page.get_by_role("heading", name="Block 2")).to_be_visible()
    ready(hand)
    for said in ("Block 2 opened", "Ball 1 of Driver added"):
        before = hand.actions
        hand.press("u")
        expect(hand.page.get_by_text(re.compile(f"Taken back: {said}"))).to_be_visible()
        ready(hand)
        assert hand.actions - before == 1
    assert not Shot.objects.present().exists() and lesson.blocks.filter(removed_at__isnull=True).count() == 1
    counted("Undo the last thing", most="1 key", found="1 key")


def test_any_change_of_the_history_is_one_key_away(hand, live_server, student):
    lesson, block = by_eye(student)
    factories.add_call(block=block, called_start=0, called_curve=0, contact="clean")
    factories.add_call(block=block, called_start=1, called_curve=0, contact="fat")
    hand.page.goto(f"{live_server.url}/lessons/{lesson.code}/history/")
    hand.press("2")
    expect(hand.page.get_by_text("Taken back: Ball 1 of Driver added")).to_be_visible()
    assert Shot.objects.present().get().contact == "fat" and hand.actions == 1


def test_undo_is_one_key_from_the_number_boxes_too(hand, live_server, student):
    lesson = factories.make_lesson(student=student, pain_asked=True, device=DataSource.objects.create(name="Bay"))
    factories.make_block(lesson=lesson)
    open_lesson(hand, live_server, lesson)
    hand.type("200")
    hand.press("Enter")
    stored(hand, 1)
    hand.press("u")
    expect(hand.page.get_by_text("Taken back: Ball 1 of Driver added")).to_be_visible()
    assert not Shot.objects.present().exists()
