"""The photo page in a real browser: a drawn photo is clicked, nudged and stored, and never leaves the browser."""

import re

import cv2
import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from lessons.models import Attachment, SetupObservation
from tests import factories
from tests.browser import WIDE, sign_in, watch
from tests.metrics.photo.camera import Camera, corners, player

from .hour import strike

pytestmark = pytest.mark.django_db(transaction=True)
CAMERA = Camera(height_cm=200, away_cm=130, focal=1.2)


def drawn(path, *, mirrored=False) -> str:
    """A photo of a mat, two shoes and a ball, as the camera would have taken it."""
    picture = np.full((2250, 3000, 3), (90, 140, 110), np.uint8)
    cv2.fillPoly(picture, [CAMERA.see(corners()).astype(np.int32)], (70, 170, 80))
    feet = CAMERA.see(player()).astype(int)
    for heel, toe in ((0, 1), (2, 3)):
        cv2.line(picture, tuple(map(int, feet[heel])), tuple(map(int, feet[toe])), (40, 40, 40), 60)
    cv2.circle(picture, tuple(map(int, feet[4])), 40, (250, 250, 250), -1)
    cv2.imwrite(str(path), picture[:, ::-1] if mirrored else picture)
    return str(path)


@pytest.fixture(params=["right", "left"])
def hand(request):
    return request.param


@pytest.fixture
def photo(page, live_server, tmp_path, hand):
    factories.make_academy()
    coach = factories.make_coach("coach", is_coach=True)
    lesson = factories.make_lesson(student=factories.make_student(coach=coach, hand=hand))
    strike(lesson=lesson, path=4.0)
    page.set_viewport_size(WIDE)
    sign_in(page, live_server, coach).goto(live_server.url + reverse("lessons:photo", args=[lesson.code]))
    page.locator("#across").fill("120 cm")
    page.locator("#photo-file").set_input_files(drawn(tmp_path / "setup.jpg", mirrored=hand == "left"))
    page.wait_for_selector("#photo-sheet:not([hidden])")
    return page


def click_all(photo, hand):
    photo.locator("#photo-canvas").scroll_into_view_if_needed()
    for x, y in np.vstack([CAMERA.see(corners()), CAMERA.see(player())]):
        at = 3000 - x if hand == "left" else x
        box = photo.locator("#photo-canvas").bounding_box()
        photo.mouse.click(box["x"] + at / 3000 * box["width"], box["y"] + y / 2250 * box["height"])
    photo.wait_for_selector("#photo-answer table")


def test_nine_clicks_give_numbers_and_a_grid_and_the_picture_stays_here(photo, live_server, hand):
    seen, sent = watch(photo, live_server), []
    photo.on("request", lambda request: sent.append(request.post_data_buffer or b""))
    click_all(photo, hand)
    assert photo.locator("#photo-grid line").count() == 2 * (7 + 6)
    photo.get_by_role("button", name="Store on the board").click()
    photo.wait_for_selector(".messages")
    rows = {row.checkpoint: row for row in SetupObservation.objects.all()}
    # Clicked on a picture about 800 px wide: each click is off by up to two pixels of the photo.
    assert rows["feet_deg"].value == pytest.approx(3, abs=1)
    assert rows["stance_width_ratio"].value == pytest.approx(46 / 39, abs=0.03)
    assert {row.method for row in rows.values()} == {"photo"}
    assert sent and max(map(len, sent)) < 4000
    seen.assert_clean()


def test_a_mark_is_nudged_by_keys_under_the_magnifier_and_the_numbers_follow(photo, hand):
    click_all(photo, hand)
    photo.wait_for_selector("#photo-glass:not([hidden])")
    before = photo.locator("#photo-answer tbody").inner_text()
    mark = photo.locator('[data-place="feet-2"]')
    mark.focus()
    name = mark.get_attribute("aria-label")
    for _ in range(4):
        photo.keyboard.press("Shift+ArrowUp")
    assert mark.get_attribute("aria-label") != name
    assert re.search(r"good to 3\.[89] pixels of 3000", photo.locator("#photo-answer").inner_text())
    photo.wait_for_function("old => document.querySelector('#photo-answer tbody')?.innerText !== old", arg=before)


def test_every_place_can_be_put_by_keyboard_alone(photo):
    photo.locator('[data-mark="corners-0"]').focus()
    photo.keyboard.press("Enter")
    photo.keyboard.press("ArrowLeft")
    label = photo.locator('[data-place="corners-0"]').get_attribute("aria-label")
    assert "across 1499, down 1125" in label


def test_a_ticked_photo_is_kept_with_the_lesson_and_holds_no_place(photo, live_server, settings, tmp_path, hand):
    settings.MEDIA_ROOT = tmp_path / "media"
    click_all(photo, hand)
    photo.locator("[name=keep]").check()
    photo.locator("[name=yes]").check()
    photo.get_by_role("button", name="Store on the board").click()
    photo.wait_for_selector(".messages")
    assert "stands with the lesson’s pictures" in photo.locator(".messages").inner_text()
    kept = Attachment.objects.get()
    assert (kept.angle, kept.width_px, kept.height_px) == ("above", 2400, 1800)


def test_the_photo_page_is_accessible(photo, hand):
    if hand == "right":
        click_all(photo, hand)
        found = Axe().run(photo)
        assert found.violations_count == 0, found.generate_report()
