"""The page of angles in a real browser: marked, clicked, stored, at both sizes."""

import cv2
import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from lessons.models import SetupObservation
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch
from tests.metrics.photo.test_angles import TILT, face_on

pytestmark = pytest.mark.django_db(transaction=True)
ORDER = ("lead_shoulder", "trail_shoulder", "neck", "hips")


@pytest.mark.parametrize("size", [WIDE, PHONE])
def test_a_face_on_photo_gives_angles_once_it_is_marked(page, live_server, tmp_path, size):
    factories.make_academy()
    coach = factories.make_coach("coach", is_coach=True)
    lesson = factories.make_lesson(student=factories.make_student(coach=coach))
    factories.make_block(lesson=lesson)
    cv2.imwrite(str(tmp_path / "front.jpg"), np.full((4000, 3000, 3), 180, np.uint8))
    page.set_viewport_size(size)
    seen = watch(page, live_server)
    sign_in(page, live_server, coach).goto(live_server.url + reverse("lessons:angles", args=[lesson.code]))
    page.locator("#photo-file").set_input_files(tmp_path / "front.jpg")
    page.wait_for_selector("#photo-sheet:not([hidden])")
    for name in ORDER:
        x, y = face_on()[name]
        page.locator("#photo-canvas").evaluate("one => one.scrollIntoView({block: 'center'})")
        box = page.locator("#photo-canvas").bounding_box()
        at = box["y"] + y / 4000 * box["height"]
        if not 0 < at < size["height"]:
            page.mouse.wheel(0, at - size["height"] / 2)
            page.wait_for_timeout(200)
            box = page.locator("#photo-canvas").bounding_box()
        page.mouse.click(box["x"] + x / 3000 * box["width"], box["y"] + y / 4000 * box["height"])
    page.get_by_text("Say whether the photo was taken face-on").wait_for()
    # The answer that marks the page wrong (422) is no script error.
    seen.messages = [text for text in seen.messages if "422" not in text]
    page.get_by_role("radio", name="Face-on").check()
    page.get_by_role("radio", name="There").check()
    page.wait_for_selector("#photo-answer table")
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="Store on the board").click()
    page.wait_for_selector(".messages")
    assert SetupObservation.objects.get(checkpoint="shoulder_tilt_deg").value == pytest.approx(TILT, abs=1.5)
    seen.messages = [text for text in seen.messages if "422" not in text]
    seen.assert_clean()
