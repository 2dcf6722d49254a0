"""Each page of the student's side against the accessibility rules, small, large, light and dark."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone

from academy.models import HealthFlag
from tests.browser import PHONE, sign_in, watch

from . import cast

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def story(student):
    cast.whole_story(student)
    return student


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_of_the_student_breaks_an_accessibility_rule(browser, live_server, story, scheme):
    context = browser.new_context(viewport=PHONE, color_scheme=scheme)
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
    for address in ("/me/kept/", "/me/consents/", "/p/no-such-token/"):
        page.goto(live_server.url + address)
        assert_accessible(page)
    context.close()


def test_at_twice_the_size_nothing_is_cut_off_sideways(browser, live_server, story):
    """200 % zoom on a phone leaves 195 CSS pixels."""
    context = browser.new_context(viewport={"width": 195, "height": 422})
    page = context.new_page()
    page.goto(f"{live_server.url}/p/{cast.token_for(story)}/")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("toes on the railway line").wait_for()
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= 195
    context.close()


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


def assert_accessible(page) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
