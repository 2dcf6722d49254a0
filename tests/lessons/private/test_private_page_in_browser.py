"""The student's side on a phone: open, read, tick, practise without a network, and the end of a link."""

import pytest

from academy import share
from academy.models import HealthFlag
from lessons.models import PracticeEntry, StudentMessage
from tests.browser import PHONE, watch

from . import cast
from .practice_plan import plan_for

pytestmark = pytest.mark.django_db(transaction=True)
LIMIT = 120 * 1024


@pytest.fixture
def phone(browser):
    """A phone with no memory of anything."""
    context = browser.new_context(viewport=PHONE, has_touch=True, service_workers="block")
    yield context
    context.close()


@pytest.fixture
def story(student):
    cast.whole_story(student)
    return student


def open_link(phone, live_server, token, **answers):
    page = phone.new_page()
    page.goto(f"{live_server.url}/p/{token}/")
    for label, answer in answers.items():
        page.get_by_label(label).fill(answer)
    page.get_by_role("button", name="Open my page").click()
    return page


def tap(button, *, times):
    for _ in [button] * times:
        button.tap()


def start_practice(page):
    page.get_by_role("link", name="Practise now").click()
    page.get_by_role("button", name="Start").click()


def test_a_link_is_opened_and_read_and_its_secret_stays_behind(phone, live_server, story):
    token = cast.token_for(story)
    page = phone.new_page()
    seen = watch(page, live_server)
    asked = []
    page.on("request", lambda request: asked.append((request.url, request.headers.get("referer", ""))))
    page.goto(f"{live_server.url}/p/{token}/")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("toes on the railway line").wait_for()
    assert page.url == f"{live_server.url}/me/"
    assert token not in page.content() + page.evaluate("document.referrer")
    later = [url for url, _ in asked if not url.endswith(f"/p/{token}/")]
    assert later and not [url for url in later if token in url]
    assert not [referer for _, referer in asked if token in referer]
    seen.assert_clean()


def test_the_page_is_light_and_draws_no_chart(phone, live_server, story):
    plan_for(story)
    token = cast.token_for(story)
    page = phone.new_page()
    sizes = {}
    page.on("response", lambda response: sizes.update({response.url: len(response.body())})
            if response.request.redirected_to is None and response.status == 200 else None)
    page.goto(f"{live_server.url}/p/{token}/")
    sizes.clear()
    page.get_by_role("button", name="Open my page").click()
    page.wait_for_load_state("networkidle")
    page.reload()
    page.wait_for_load_state("networkidle")
    assert not [url for url in sizes if "plotly" in url]
    assert sum(sizes.values()) <= LIMIT, sizes


def test_everything_is_read_without_javascript(browser, live_server, story):
    context = browser.new_context(viewport=PHONE, java_script_enabled=False, service_workers="block")
    page = open_link(context, live_server, cast.token_for(story))
    assert page.get_by_text("Stick never in front of the swing").is_visible()
    page.get_by_text("I have practised", exact=True).click()
    page.locator("#tick_minutes").fill("15")
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("Practice stored").wait_for()
    assert PracticeEntry.objects.get().minutes == 15
    page.get_by_role("link", name="Practise now").click()
    assert page.get_by_role("button", name="Store this practice").is_visible()
    context.close()


def test_the_practice_plan_is_read_and_put_into_a_calendar_without_javascript(browser, live_server, story):
    plan_for(story)
    context = browser.new_context(viewport=PHONE, java_script_enabled=False, service_workers="block")
    page = open_link(context, live_server, cast.token_for(story))
    page.get_by_role("link", name="The whole plan, and my days").click()
    page.locator("label.choice", has_text="Tuesday").click()
    page.locator("label.choice", has_text="Saturday").click()
    page.get_by_role("button", name="Store the days").click()
    page.get_by_text("Your days are stored").wait_for()
    page.get_by_text("Week 2, from").click()
    assert page.locator("details[open]", has_text="Week 2").get_by_text("Saturday").first.is_visible()
    with page.expect_download() as kept:
        page.get_by_role("link", name="Put it in my calendar").click()
    assert kept.value.suggested_filename == "practice.ics"
    assert kept.value.path().read_text().count("BEGIN:VEVENT") >= 14
    context.close()


def test_practice_mode_counts_with_one_thumb_and_stores(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    seen = watch(page, live_server)
    start_practice(page)
    ball = page.get_by_role("button", name="Count a ball")
    assert ball.bounding_box()["height"] >= 100
    tap(ball, times=4)
    page.get_by_role("button", name="That one passed").tap()
    page.get_by_role("button", name="Take one back").tap()
    ball.tap()
    page.get_by_role("button", name="That one passed").tap()
    assert page.locator("#practice-count").inner_text() == "4 balls, 1 passed"
    page.get_by_role("button", name="Finish").click()
    page.locator("label", has_text="0").first.click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("Sent. Well done").wait_for()
    entry = PracticeEntry.objects.get()
    assert (entry.balls, entry.hits, entry.pain, entry.assignment.student) == (4, 1, 0, story)
    seen.assert_clean()


def test_repeats_without_a_ball_are_not_counted_as_balls(phone, live_server, story):
    story.assignments.all().delete()
    cast.drill(student=story, card={**cast.CARD, "balls": 0})
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    tap(page.get_by_role("button", name="Count a repeat"), times=2)
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("Sent. Well done").wait_for()
    entry = PracticeEntry.objects.get()
    assert (entry.balls, entry.hits, entry.note) == (None, None, "2 repeats, 0 passed")


def test_a_practice_without_a_network_waits_on_the_phone_and_is_sent_once(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    phone.set_offline(True)
    page.get_by_role("button", name="Count a ball").tap()
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("No network. On this phone: 1 practice").wait_for()
    assert not PracticeEntry.objects.exists()
    phone.set_offline(False)
    page.get_by_text("Sent. Well done").wait_for()
    page.reload()
    page.goto(f"{live_server.url}/me/")
    page.wait_for_load_state("networkidle")
    assert PracticeEntry.objects.get().balls == 1


def test_a_practice_that_waited_is_sent_when_the_page_is_opened_again(phone, live_server, story):
    token = cast.token_for(story)
    page = open_link(phone, live_server, token)
    start_practice(page)
    phone.set_offline(True)
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("No network").wait_for()
    page.close()
    phone.set_offline(False)
    again = phone.new_page()
    again.goto(f"{live_server.url}/me/")
    again.get_by_text("Sent. Well done").wait_for()
    assert PracticeEntry.objects.count() == 1


def test_an_answer_lost_on_its_way_back_stores_the_practice_once(phone, live_server, story):
    """The server has stored it, the phone never hears so: it sends again."""
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    lost = []

    def lose_first(route):
        if lost:
            route.continue_()
            return
        lost.append(route.fetch().status)
        route.abort()

    page.route("**/me/practice/", lose_first)
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("No network").wait_for()
    assert lost == [200] and PracticeEntry.objects.count() == 1
    page.evaluate("dispatchEvent(new Event('online'))")
    page.get_by_text("Sent. Well done").wait_for()
    assert PracticeEntry.objects.count() == 1


def test_a_phone_that_reloads_in_the_middle_goes_on_where_it_was(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    tap(page.get_by_role("button", name="Count a ball"), times=3)
    page.reload()
    assert page.locator("#practice-count").inner_text() == "3 balls, 0 passed"


def test_pain_stops_practice_mode_at_once_even_without_a_network(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    phone.set_offline(True)
    page.get_by_role("button", name="Something hurts").click()
    page.locator("#practice-form label.choice", has_text="5").click()
    page.get_by_label("Where").select_option("low_back")
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("Stop the full swings").wait_for()
    assert not page.get_by_role("button", name="Start").is_visible()
    phone.set_offline(False)
    page.get_by_text("Your coach has been told").wait_for()
    assert (HealthFlag.objects.get().severity, HealthFlag.objects.get().area) == (5, "low_back")
    assert StudentMessage.objects.get().kind == "pain"


def test_a_network_that_comes_back_while_a_try_is_failing_is_not_missed(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    start_practice(page)
    page.get_by_role("button", name="Finish").click()
    tries = []
    page.route("**/practice/**", lambda route: tries.append(route) if not tries else route.continue_())
    with page.expect_request("**/practice/**"):
        page.get_by_role("button", name="Store this practice").click()
    page.evaluate("dispatchEvent(new Event('online'))")
    tries[0].abort()
    page.get_by_text("Sent. Well done").wait_for(timeout=10_000)  # sooner than the next try by the clock
    assert PracticeEntry.objects.count() == 1


def test_a_question_and_a_word_about_pain_are_sent_from_the_page(phone, live_server, story):
    page = open_link(phone, live_server, cast.token_for(story))
    page.get_by_text("A question or a score", exact=True).click()
    page.locator("#message_text").fill("May I use the mat?")
    page.get_by_role("button", name="Send").click()
    page.get_by_text("Sent to your coach.").wait_for()
    page.get_by_text("Something hurts", exact=True).click()
    page.locator("form[action='/me/pain/'] label.choice", has_text="7").click()
    page.get_by_role("button", name="Tell my coach").click()
    page.get_by_text("Stop the full swings").wait_for()
    assert sorted(StudentMessage.objects.values_list("kind", flat=True)) == ["pain", "question"]


def test_the_end_of_a_link_closes_it_on_two_devices_at_once(browser, phone, live_server, story):
    link, token = share.issue_link(student=story, by=story.coach)
    tablet = browser.new_context(viewport={"width": 768, "height": 1024}, service_workers="block")
    pages = [open_link(context, live_server, token) for context in (phone, tablet)]
    for page in pages:
        page.get_by_text("toes on the railway line").wait_for()
    share.revoke_link(link=link)
    for page in pages:
        assert page.reload().status == 404
        assert "railway" not in page.content()
        page.get_by_text("Ask your coach for a new one").wait_for()
    tablet.close()


def test_a_practice_that_waits_behind_an_ended_link_is_kept_and_said(phone, live_server, story):
    link, token = share.issue_link(student=story, by=story.coach)
    page = open_link(phone, live_server, token)
    start_practice(page)
    share.revoke_link(link=link)
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("button", name="Store this practice").click()
    page.get_by_text("This page no longer works").wait_for()
    assert "1 practice not sent" in page.locator("#practice-said").inner_text()


def test_a_forwarded_link_asks_for_the_code(phone, live_server, story):
    token = cast.token_for(story, second_factor="heron")
    page = open_link(phone, live_server, token, **{"Your year of birth": "stork"})
    page.get_by_text("That is not the answer we have").wait_for()
    page.get_by_label("Your year of birth").fill("heron")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("toes on the railway line").wait_for()
