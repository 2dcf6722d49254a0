"""After signing out, the browser's back button shows nothing of anybody."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser import sign_in, watch

pytestmark = pytest.mark.django_db(transaction=True)


def test_the_back_button_shows_nothing_private_after_signing_out(page: Page, live_server, coach, student):
    seen = watch(page, live_server)
    sign_in(page, live_server, coach)
    for name in ("academy:students", "academy:account"):
        page.goto(live_server.url + reverse(name))
    page.go_back()
    expect(page.get_by_text(student.name)).to_be_visible()
    page.go_forward()
    page.get_by_role("button", name="Sign out", exact=True).click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
    for _ in range(2):
        page.go_back()
        expect(page.get_by_role("heading", name="Sign in")).to_be_visible()
        assert student.name not in page.content()
    seen.assert_clean()


def test_a_student_s_phone_that_closed_the_page_shows_nothing_either(page: Page, live_server, coach, student):
    from academy import share

    token = share.issue_link(student=student, by=coach)[1]
    page.goto(f"{live_server.url}/p/{token}/")
    page.get_by_role("button").first.click()
    expect(page.get_by_text(student.first_name).first).to_be_visible()
    page.get_by_role("button", name="Close").first.click()
    page.go_back()
    assert student.first_name not in page.locator("main").inner_text()
