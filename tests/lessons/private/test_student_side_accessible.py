"""Each page of the student's side against the accessibility rules, small, large, light and dark."""

import uuid
from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone

from academy.models import Concern, HealthFlag
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

from . import cast
from .practice_plan import plan_for

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def story(student):
    cast.whole_story(student)
    plan_for(student)
    return student


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_of_the_student_breaks_an_accessibility_rule(browser, live_server, story, scheme):
    context = browser.new_context(viewport=PHONE, color_scheme=scheme, service_workers="block")
    factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    HealthFlag.objects.create(student=story, area="elbow", severity=2, reported_at=timezone.now())
    token = cast.token_for(story, second_factor="heron")
    page = context.new_page()
    page.goto(f"{live_server.url}/p/{token}/")
    assert_accessible(page)
    page.get_by_label("Your year of birth").fill("heron")
    page.get_by_role("button", name="Open my page").click()
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert_accessible(page)
    page.get_by_role("link", name="Practise now").click()
    page.get_by_role("button", name="Start").click()
    assert_accessible(page)
    page.get_by_role("button", name="Finish").click()
    assert_accessible(page)
    for address in ("/me/kept/", "/me/consents/", "/me/concern/", "/me/pictures/", "/me/plan/", "/p/no-such-token/"):
        page.goto(live_server.url + address)
        assert_accessible(page)
    context.close()


def test_at_twice_the_size_nothing_is_cut_off_sideways(browser, live_server, story):
    """200 % zoom on a phone leaves 195 CSS pixels."""
    context = browser.new_context(viewport={"width": 195, "height": 422}, service_workers="block")
    page = context.new_page()
    page.goto(f"{live_server.url}/p/{cast.token_for(story)}/")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("toes on the railway line").wait_for()
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= 195
    context.close()


def test_the_page_is_heard_in_the_order_in_which_it_is_seen(browser, live_server, story):
    """A screen reader and the tab key go by the markup; on a phone that must be top to bottom."""
    HealthFlag.objects.create(student=story, area="hip", severity=6, reported_at=timezone.now())
    context = browser.new_context(viewport=PHONE, service_workers="block")
    page = context.new_page()
    page.goto(f"{live_server.url}/p/{cast.token_for(story)}/")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("toes on the railway line").wait_for()
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert page.locator("html").get_attribute("lang") == "en"
    assert page.evaluate("[...document.querySelectorAll('[tabindex]')].every((part) => part.tabIndex <= 0)")
    tops = page.evaluate(TOPS)
    assert tops == sorted(tops) and len(tops) > 30
    heard = page.locator("main").aria_snapshot()
    order = ["Stop the full swings", "your one thing", "toes on the railway line", "Today", "Your setup from above",
             "Drills", "Tick a practice", "Next time", "Tell Runa Holm", "Your data"]
    places = [heard.index(words) for words in order]
    assert places == sorted(places)
    context.close()


TOPS = """[...document.querySelectorAll("main :is(h1, h2, p, summary, li, figure, button, fieldset)")]
    .filter((part) => part.getClientRects().length && !part.closest(".button-row, .field-row, table, svg, .choices")
        && !part.parentElement.closest("li, figure, summary, fieldset, .caution"))
    .map((part) => Math.round(part.getBoundingClientRect().top + scrollY))"""


def test_no_page_of_the_coachs_side_breaks_an_accessibility_rule(page, live_server, story, coach):
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    HealthFlag.objects.create(student=story, area="hip", severity=6, reported_at=timezone.now())
    cast.token_for(story)
    cast.guardian_of(story)
    for address in ("", "guardians/", "health/", "bag/"):
        page.goto(f"{live_server.url}/students/{story.code}/{address}")
        page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
        assert_accessible(page)
    page.goto(f"{live_server.url}/students/{story.code}/")
    page.get_by_text("Issue a link").click()
    page.get_by_role("button", name="Issue and show it once").click()
    page.get_by_role("textbox", name="The link").wait_for()
    assert_accessible(page)
    seen.assert_clean()


@pytest.mark.parametrize("viewport", [PHONE, WIDE], ids=["phone", "wide"])
def test_the_sheet_today_and_the_pages_of_owner_and_welfare_lead_break_no_rule(
    browser, live_server, story, coach, owner, viewport
):
    welfare = factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    born = timezone.localdate() - timedelta(days=12 * 366)
    junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=born)
    cast.guardian_of(junior)
    lesson, _ = cast.whole_story(junior)
    Concern.objects.create(student=junior, key=uuid.uuid4(), text="A worry.", sent_at=timezone.now())
    for person, addresses in (
        (coach, ["/", f"/lessons/{lesson.code}/note/", f"/lessons/{story.lessons.first().code}/note/"]),
        (owner, [f"/students/{junior.code}/"]), (welfare, ["/welfare/", f"/students/{junior.code}/guardians/"]),
    ):
        context = browser.new_context(viewport=viewport, service_workers="block")
        page = sign_in(context.new_page(), live_server, person)
        for address in addresses:
            assert page.goto(live_server.url + address).status == 200
            page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
            assert_accessible(page)
        context.close()


def assert_accessible(page) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
