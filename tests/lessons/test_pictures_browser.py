"""Pairs in a real browser: kept by the form, the divider moves, two clips step together by keyboard."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from lessons.models import Attachment
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch
from tests.factories import keep_picture, picture_bytes

from .media.clips import RATE, clip

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def block(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    factories.make_academy()
    student = factories.make_student(coach=factories.make_coach("coach", is_coach=True))
    return factories.make_block(lesson=factories.make_lesson(student=student))


def open_page(page, live_server, block):
    sign_in(page, live_server, block.lesson.coach)
    page.goto(live_server.url + reverse("lessons:pictures", args=[block.lesson.code]))
    return page


@pytest.mark.parametrize("size", [WIDE, PHONE])
def test_a_pair_is_kept_and_seen_and_the_page_is_accessible(page, live_server, block, tmp_path, size):
    for name in ("a", "b"):
        (tmp_path / f"{name}.png").write_bytes(picture_bytes())
    page.set_viewport_size(size)
    seen = watch(page, live_server)
    open_page(page, live_server, block)
    page.get_by_role("radio", name="Face-on").check()
    page.locator("#id_before").set_input_files(tmp_path / "a.png")
    page.locator("#id_after").set_input_files(tmp_path / "b.png")
    page.get_by_label("says yes to keeping").check()
    page.get_by_role("button", name="Keep", exact=True).click()
    page.wait_for_selector(".pair")
    assert Attachment.objects.count() == 2
    images = page.locator(".pair img")
    images.first.scroll_into_view_if_needed()
    page.wait_for_function("() => [...document.querySelectorAll('.pair img')].every(one => one.naturalWidth === 160)")
    before = images.first.bounding_box()["width"]
    page.locator("[data-divider]").focus()
    for _ in range(10):
        page.keyboard.press("ArrowRight")
    assert images.first.bounding_box()["width"] > before * 1.1
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    seen.assert_clean()


def test_two_clips_step_together_frame_by_frame_and_one_alone_with_shift(page, live_server, block):
    keep_picture(block=block, data=clip("webm"))
    keep_picture(block=block, data=clip("mp4"), phase="after")
    seen = watch(page, live_server)
    open_page(page, live_server, block)
    page.wait_for_function("() => [...document.querySelectorAll('video')].every(one => one.readyState >= 1)")
    first = page.locator("video").first
    first.focus()
    for _ in range(5):
        page.keyboard.press("ArrowRight")
    at = f"[...document.querySelectorAll('video')].map(one => Math.floor(one.currentTime * {RATE}))"
    assert page.evaluate(at) == [5, 5]
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    assert page.evaluate(at) == [6, 4]
    page.get_by_role("button", name="One frame on").click()
    assert page.evaluate(at) == [7, 5]
    page.wait_for_function("() => [...document.querySelectorAll('video')].every(one => one.readyState >= 2)")
    seen.assert_clean()
