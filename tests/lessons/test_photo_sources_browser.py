"""Where a photo comes from: the camera of this device, and the focal length that a file carries."""

import io
import struct

import pytest
from django.urls import reverse
from PIL import Image

from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

from .hour import strike

pytestmark = pytest.mark.django_db(transaction=True)


def open_page(page, live_server, size=WIDE):
    factories.make_academy()
    coach = factories.make_coach("coach", is_coach=True)
    lesson = factories.make_lesson(student=factories.make_student(coach=coach))
    strike(lesson=lesson, path=4.0)
    page.set_viewport_size(size)
    sign_in(page, live_server, coach).goto(live_server.url + reverse("lessons:photo", args=[lesson.code]))
    return page


@pytest.mark.parametrize("size", [WIDE, PHONE])
def test_the_camera_of_this_device_takes_the_photo_and_is_switched_off(page, live_server, size):
    seen = watch(page, live_server)
    open_page(page, live_server, size)
    page.get_by_role("button", name="Use the camera of this device").click()
    page.wait_for_function("() => document.getElementById('camera-video').videoWidth > 0")
    page.get_by_role("button", name="Take the photo").click()
    page.wait_for_selector("#photo-sheet:not([hidden])")
    assert page.evaluate("document.getElementById('photo-canvas').width") > 100
    assert page.evaluate("document.getElementById('camera-video').srcObject") is None
    assert page.locator("#camera").is_hidden()
    seen.assert_clean()


def test_without_a_camera_the_button_is_not_there(page, live_server):
    page.add_init_script("Object.defineProperty(navigator, 'mediaDevices', {value: undefined})")
    assert open_page(page, live_server).locator("#camera-open").is_hidden()


def test_a_camera_that_is_refused_is_told_with_what_to_do(page, live_server):
    page.add_init_script("navigator.mediaDevices.getUserMedia = async () => { throw new Error('refused'); }")
    open_page(page, live_server).locator("#camera-open").click()
    page.get_by_text("Take the photo with a phone and choose the file").wait_for()


def photo(focal: int | None) -> bytes:
    """A JPEG that says its focal length as for 35 mm film, or says nothing."""
    written, exif = io.BytesIO(), Image.Exif()
    if focal is not None:
        exif.get_ifd(0x8769)[0xA405] = focal
    Image.new("RGB", (300, 200)).save(written, "JPEG", exif=exif)
    return written.getvalue()


def big_endian() -> bytes:
    """The same with the bytes the other way round, as some phones write it."""
    inner = struct.pack(">HHHII", 1, 0xA405, 3, 1, 28 << 16) + bytes(4)
    tiff = b"MM\0*" + struct.pack(">IHHHIII", 8, 1, 0x8769, 4, 1, 26, 0) + inner
    app1 = b"Exif\0\0" + tiff
    return b"\xff\xd8\xff\xe1" + struct.pack(">H", len(app1) + 2) + app1 + photo(None)[2:]


@pytest.mark.parametrize(("data", "read"), [
    (photo(26), "26"), (big_endian(), "28"), (photo(None), ""), (photo(26)[:40] + photo(None), ""),
])
def test_the_focal_length_is_read_from_the_file_or_left_to_be_typed(page, live_server, tmp_path, data, read):
    (tmp_path / "photo.jpg").write_bytes(data)
    open_page(page, live_server).locator("#photo-file").set_input_files(tmp_path / "photo.jpg")
    page.wait_for_function("() => document.getElementById('photo-next').textContent.length > 0")
    assert page.evaluate("document.getElementById('focal').value") == read


def test_a_file_that_is_no_picture_is_told(page, live_server, tmp_path):
    (tmp_path / "page.jpg").write_bytes(b"<html></html>")
    open_page(page, live_server).locator("#photo-file").set_input_files(tmp_path / "page.jpg")
    page.get_by_text("could not be opened as a picture").wait_for()
