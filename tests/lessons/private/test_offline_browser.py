"""The page stays readable where there is no network, and its copy goes with the link."""

import pytest

from academy import share
from tests import factories
from tests.browser import PHONE, watch

from . import cast

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def phone(browser):
    context = browser.new_context(viewport=PHONE, has_touch=True)
    yield context
    context.close()


def open_page(phone, live_server, student):
    link, token = share.issue_link(student=student, by=student.coach)
    page = phone.new_page()
    page.goto(f"{live_server.url}/p/{token}/")
    page.get_by_role("button", name="Open my page").click()
    page.get_by_text("keeps a copy to read without a network").wait_for()
    return link, page


def copies(page) -> set[str]:
    """Return the private addresses of which this phone holds a copy; style and scripts are nobody's secret."""
    found = page.evaluate("caches.open('holdfast-private').then((s) => s.keys()).then((k) => k.map((r) => r.url))")
    return {url for url in found if "/me/" in url}


def test_without_a_network_the_page_is_read_and_practised_from_its_copy(phone, live_server, student):
    cast.whole_story(student)
    _, page = open_page(phone, live_server, student)
    seen = watch(page, live_server)
    phone.set_offline(True)
    page.reload()
    page.get_by_text("toes on the railway line").wait_for()
    page.get_by_role("link", name="Practise now").click()
    page.get_by_role("button", name="Start").click()
    assert page.get_by_role("button", name="Count a ball").bounding_box()["height"] >= 100
    assert not seen.strays


def test_when_the_link_has_ended_no_copy_stays(phone, live_server, student):
    cast.whole_story(student)
    link, page = open_page(phone, live_server, student)
    share.revoke_link(link=link)
    assert page.reload().status == 404
    assert not copies(page)


def test_closing_the_page_on_this_device_takes_the_copy_away(phone, live_server, student):
    cast.whole_story(student)
    _, page = open_page(phone, live_server, student)
    assert copies(page)
    page.get_by_role("button", name="Close on this device").click()
    page.get_by_text("Closed on this device").wait_for()
    assert not copies(page)


def test_another_childs_page_on_the_same_phone_leaves_nothing_of_the_first(phone, live_server, student, coach):
    cast.whole_story(student)
    _, page = open_page(phone, live_server, student)
    drills = {url for url in copies(page) if "/me/drills/" in url}
    other = factories.make_student(coach=coach, name="Somebody Else")
    page.close()
    _, page = open_page(phone, live_server, other)
    assert drills and not drills & copies(page)


def test_a_coach_who_tries_the_link_keeps_no_copy(client, coach, student):
    client.force_login(coach)
    assert "offline-note" not in cast.holder_of(student, client).get("/me/").content.decode()
