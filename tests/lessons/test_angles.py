"""Angles from a photo: only marked and with the camera's place, stored with ±, the photo kept only with consent."""

import json
import uuid
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from lessons.media import store
from lessons.models import Attachment, SetupObservation
from tests import factories
from tests.factories import picture_bytes
from tests.metrics.photo.test_angles import down_line, face_on

HTMX = {"HX-Request": "true"}


@pytest.fixture
def lesson(student, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    return lesson


def address(lesson) -> str:
    return reverse("lessons:angles", args=[lesson.code])


def sent(clicked=None, **values) -> dict:
    points = {name: point.tolist() for name, point in (clicked or face_on()).items()}
    return {"width": 3000, "height": 4000, "angle": "face_on", "spot": "square", "phase": "before", "distance": "3 m",
            "points": json.dumps(points), **values}


def test_clicks_give_angles_and_say_three_degrees_and_store_nothing(as_coach, lesson):
    text = as_coach.post(address(lesson), sent(), headers=HTMX).content.decode()
    assert "11° trail side lower" in text and "7° away from the target" in text and "±3°" in text
    assert "4°, hands toward the target" in text and "not on the board" in text
    assert not SetupObservation.objects.exists()


def test_stored_angles_carry_their_error_and_where_the_camera_stood(as_coach, lesson):
    as_coach.post(address(lesson), sent(store="yes"))
    as_coach.post(address(lesson), sent(down_line(), angle="down_line", store="yes"))
    rows = {row.checkpoint: row for row in SetupObservation.objects.all()}
    assert set(rows) == {"shoulder_tilt_deg", "trunk_tilt_deg", "forward_bend_deg", "knee_flex_deg"}
    assert rows["shoulder_tilt_deg"].value == 11.0 and 3 < rows["shoulder_tilt_deg"].uncertainty < 4
    assert rows["trunk_tilt_deg"].camera == "face-on, hand high, 3 m" and rows["trunk_tilt_deg"].method == "photo"
    text = as_coach.get(reverse("lessons:board", args=[lesson.code])).content.decode()
    assert "from a photo ±3°, face-on, hand high, 3 m" in text


@pytest.mark.parametrize(("values", "words"), [
    ({"angle": ""}, "face-on or down the line"), ({"angle": "above"}, "above"),
    ({"spot": ""}, "where the camera stood"),
    ({"spot": "elsewhere"}, "is not the body’s"), ({"points": "{"}, "did not arrive whole"),
    ({"points": '{"neck": [1, NaN]}'}, "did not arrive whole"), ({"points": "[1]"}, "did not arrive whole"),
    ({"points": "{}"}, "click both ends"),
])
def test_without_the_mark_the_place_or_whole_clicks_nothing_is_read(as_coach, lesson, values, words):
    answer = as_coach.post(address(lesson), sent(store="yes", **values), headers=HTMX)
    assert answer.status_code == 422 and words in answer.content.decode()
    assert not SetupObservation.objects.exists()


def photo() -> SimpleUploadedFile:
    return SimpleUploadedFile("photo.jpg", picture_bytes("JPEG"), content_type="image/jpeg")


@pytest.mark.parametrize(("page", "angle"), [("angles", "face_on"), ("photo", "above")])
def test_a_measured_photo_is_kept_where_it_is_ticked_and_allowed(as_coach, lesson, page, angle):
    from .test_photo import clicks

    values = sent() if page == "angles" else clicks()
    whole = {**values, "store": "yes", "keep": "yes", "yes": "yes", "key": str(uuid.uuid4()), "photo": photo()}
    answer = as_coach.post(reverse(f"lessons:{page}", args=[lesson.code]), whole, headers=HTMX)
    assert answer.status_code == 204 and "/board/" in answer["HX-Redirect"]
    assert Attachment.objects.get().angle == angle and SetupObservation.objects.exists()


@pytest.mark.parametrize("values", [{}, {"keep": "yes"}, {"yes": "yes"}])
def test_without_tick_or_yes_the_numbers_are_kept_and_the_photo_is_dropped(as_coach, lesson, values):
    answer = as_coach.post(address(lesson), {**sent(), "store": "yes", "photo": photo(), **values}, follow=True)
    assert "The photo was not kept." in answer.content.decode()
    assert SetupObservation.objects.exists() and not Attachment.objects.exists() and not list(store.every_file())


def test_a_junior_s_photo_is_dropped_where_the_guardian_allowed_filming_only(as_coach, student, lesson):
    from .test_media import junior

    junior(student, filming=1)
    assert "photo is not kept" in as_coach.get(address(lesson)).content.decode()
    whole = {**sent(), "store": "yes", "photo": photo(), "keep": "yes", "yes": "yes"}
    answer = as_coach.post(address(lesson), whole, follow=True)
    assert "junior" in answer.content.decode()
    assert SetupObservation.objects.exists() and not Attachment.objects.exists()


def test_without_filming_consent_the_page_takes_no_photo(as_coach, student, lesson):
    student.born_on = timezone.localdate() - timedelta(days=4000)
    student.save()
    assert "photo-file" not in as_coach.get(address(lesson)).content.decode()
    assert as_coach.post(address(lesson), sent(store="yes")).status_code == 422
    assert not SetupObservation.objects.exists()
