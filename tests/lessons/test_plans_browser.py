"""A series in a real browser: planned, its second visit run from it, bent by the result, printed."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone

from lessons.models import Lesson, Plan
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

from .return_visits import hit, visit, with_a_change

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def changed(student):
    return with_a_change(student)


def assert_accessible(page) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def titles(page) -> list[str]:
    return page.locator("[data-part] .hour-head strong").all_inner_texts()


def first_visit_done(series: Plan) -> None:
    """The first visit of the series was held a fortnight ago, and kept the change."""
    held = visit(series.student, 14, first=3.0)
    Plan.objects.create(
        student=series.student, lesson=held, kind="lesson", title="Plan of the lesson",
        starts_on=timezone.localdate(held.starts_at), body={"series": str(series.thread), "step": 1, "items": []})


def test_a_series_is_planned_run_bent_and_printed(page, live_server, coach, changed):
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.set_viewport_size(WIDE)
    page.clock.install()
    # The clock is turned on by 45 minutes at once; the questions for new balls that fall due with it are not asked.
    page.route("**/live/**", lambda route: route.fulfill(status=204))
    series = plan_a_series(page, live_server, changed)
    first_visit_done(series)
    lesson = factories.make_lesson(student=changed, status=Lesson.Status.PLANNED)
    plan_the_second_visit(page, live_server, series, lesson)
    run_it(page, live_server, lesson)
    see_it_bend(page, live_server, series)
    print_it(page)
    seen.assert_clean()


def plan_a_series(page, live_server, student) -> Plan:
    page.goto(f"{live_server.url}/students/{student.code}/plans/")
    assert_accessible(page)
    page.get_by_role("link", name="Propose a series").click()
    page.locator("label.choice", has_text="Range").click()
    page.get_by_role("button", name="Propose").click()
    page.get_by_text("Repeat the battery").wait_for()
    assert_accessible(page)
    page.get_by_role("button", name="Keep this plan").click()
    page.get_by_role("heading", name="Series of 6 visits").wait_for()
    return Plan.objects.get(kind="series")


def plan_the_second_visit(page, live_server, series, lesson) -> None:
    page.goto(f"{live_server.url}/plans/{series.code}/")
    page.get_by_role("link", name="Plan this visit").click()
    page.get_by_text("Visit 2 of the series").wait_for()
    assert titles(page)[:3] == ["Check in", "First ten", "Look at the setup"]
    head = page.locator("[data-part] .hour-head strong")
    above = head.filter(has_text="First ten")
    head.filter(has_text="Look at the setup").drag_to(above, target_position={"x": 5, "y": 1})
    assert titles(page)[:3] == ["Check in", "Look at the setup", "First ten"]
    page.get_by_role("button", name="First ten earlier").focus()
    page.keyboard.press("Enter")
    assert titles(page)[:3] == ["Check in", "First ten", "Look at the setup"]
    page.keyboard.press("Tab")
    page.keyboard.press("Space")  # its button "later" comes next
    assert titles(page)[:3] == ["Check in", "Look at the setup", "First ten"]
    page.get_by_label("Minutes of Transfer").fill("8")
    assert page.locator("[data-total]").inner_text() == "58"
    assert_accessible(page)
    page.get_by_role("button", name="Keep this plan").click()
    page.get_by_text("Version 1").wait_for()
    keys = [item["key"] for item in Plan.objects.get(lesson=lesson).body["items"]]
    assert keys[:3] == ["greet", "look", "first_ten"]
    page.get_by_role("button", name="Start the lesson").click()


def run_it(page, live_server, lesson) -> None:
    page.locator(".hour-line").get_by_text("Check in").wait_for()
    boxes = page.locator(".desk-balls").bounding_box()
    page.get_by_role("button", name="Plan: Check in done, on to the next part").click()
    page.get_by_role("button", name="Plan: Look at the setup done").wait_for()
    page.locator(".hour-strip summary").click()
    page.get_by_role("button", name="Look at the setup done", exact=True).click()
    page.get_by_role("button", name="Plan: First ten done").wait_for()
    assert page.locator(".hour-strip details").get_attribute("open") is not None, "it stays open while it is ticked"
    assert_accessible(page)
    page.locator(".hour-strip summary").click()
    nudge = page.get_by_text("Transfer now")
    assert nudge.is_hidden()
    page.clock.fast_forward("45:00")
    nudge.wait_for()
    assert page.locator(".desk-balls").bounding_box() == boxes, "the numbers stay where they are"
    page.set_viewport_size(PHONE)
    assert page.locator(".hour-strip").bounding_box()["height"] <= 60, "one line"
    page.set_viewport_size(WIDE)
    page.goto("about:blank")  # nothing asks while the balls are written
    hit(lesson, "first_ten", 6.0)
    page.goto(f"{live_server.url}/lessons/{lesson.code}/?stop=agree")
    page.get_by_label("What to keep").fill("Silence before the first ten")
    with page.expect_response("**/notes/"):  # kept when the box is left
        page.keyboard.press("Tab")
    page.get_by_role("button", name="Finish the lesson").click()
    page.get_by_text("Finished").first.wait_for()
    lesson.refresh_from_db()
    assert lesson.reflection_good == "Silence before the first ten"


def see_it_bend(page, live_server, series) -> None:
    page.goto(f"{live_server.url}/plans/{series.code}/")
    page.get_by_text("The results propose a change").wait_for()
    page.get_by_text("Same change, less help").first.wait_for()
    page.get_by_label("How is it for").select_option("bored")
    page.get_by_role("button", name="Look again").click()
    page.get_by_text("Make it a game").wait_for()
    page.get_by_label("How is it for").select_option("")
    page.get_by_role("button", name="Look again").click()
    assert_accessible(page)
    page.get_by_role("button", name="Take this change").click()
    page.get_by_text("Version 2, shown here").wait_for()
    steps = Plan.objects.get(kind="series", version=2).body["steps"]
    assert [step["key"] for step in steps][:3] == ["baseline", "retention", "repeat"], "what is done stays"


def print_it(page) -> None:
    page.emulate_media(media="print")
    assert page.get_by_text("Same change, less help").first.is_visible()
    assert not any(button.is_visible() for button in page.get_by_role("button").all())
    assert not page.get_by_role("heading", name="Versions").is_visible()
    assert page.pdf(format="A4").startswith(b"%PDF")


def test_the_hour_is_planned_and_ticked_without_javascript(browser, live_server, coach, changed):
    lesson = factories.make_lesson(student=changed, status=Lesson.Status.PLANNED)
    context = browser.new_context(viewport=PHONE, java_script_enabled=False, service_workers="block")
    page = sign_in(context.new_page(), live_server, coach)
    page.goto(f"{live_server.url}/lessons/{lesson.code}/plan/")
    page.get_by_role("button", name="First ten later").click()
    assert titles(page)[:3] == ["Check in", "Look at the setup", "First ten"]
    page.get_by_role("button", name="Keep this plan").click()
    page.get_by_role("button", name="Start the lesson").click()
    page.get_by_role("button", name="Plan: Check in done, on to the next part").click()
    assert page.locator(".hour-line").inner_text().startswith("Look at the setup")
    context.close()
