"""Pictures are written anew: nothing of the phone survives, and what is no picture is not even opened."""

import io
import struct
import zlib

import pytest
from PIL import Image

from lessons.media.content import clean
from lessons.media.types import Refused
from tests.factories import picture_bytes


def phone_photo() -> bytes:
    """A JPEG with a place, a time, a maker, a comment, and turned on its side."""
    exif = Image.Exif()
    exif[0x0112] = 6  # the phone was held upright
    exif[0x010F] = "Some Maker"
    exif.get_ifd(0x8825).update({1: "N", 2: (53.0, 20.0, 59.0), 3: "W", 4: (6.0, 15.0, 36.0)})
    hidden = b"<script>hidden behind the end</script>"
    return picture_bytes("JPEG", (400, 300), exif=exif, comment=b"at the club") + hidden


def test_place_maker_comment_and_what_is_behind_the_end_are_gone_and_the_picture_stands_upright():
    data = phone_photo()
    assert Image.open(io.BytesIO(data)).getexif().get_ifd(0x8825)
    kept = clean(data)
    found = Image.open(io.BytesIO(kept.data))
    assert kept.mime == "image/jpeg" and found.format == "JPEG" and not kept.is_clip
    assert (kept.width_px, kept.height_px) == found.size == (300, 400)
    assert not found.getexif() and "comment" not in found.info
    assert not any(word in kept.data for word in (b"Exif", b"Maker", b"club", b"script"))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_what_phones_and_screens_write_is_taken(kind):
    assert clean(picture_bytes(kind)).mime == "image/jpeg"


def test_a_see_through_picture_gets_paper_behind_it():
    written = io.BytesIO()
    Image.new("RGBA", (120, 120), (0, 0, 0, 0)).save(written, "PNG")
    found = Image.open(io.BytesIO(clean(written.getvalue()).data))
    assert min(found.getpixel((60, 60))) > 250


def test_a_large_photo_becomes_2400_pixels():
    kept = clean(picture_bytes("JPEG", (4000, 3000)))
    assert (kept.width_px, kept.height_px) == (2400, 1800)


def bomb(width: int, height: int) -> bytes:
    """A PNG of a few bytes that claims to be huge."""
    def chunk(kind: bytes, content: bytes) -> bytes:
        return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(100))) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


@pytest.mark.parametrize("size", [(9000, 9000), (11000, 11000), (40000, 40000)])
def test_a_small_file_that_claims_to_be_huge_is_not_unpacked(size):
    with pytest.raises(Refused, match="expected at most 50 million|far larger than any photo"):
        clean(bomb(*size))


@pytest.mark.parametrize(("data", "words"), [
    (b"", "empty"),
    (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "not a picture"),
    (b"<!doctype html><script>alert(1)</script>", "not a picture"),
    (b"GIF89a" + bytes(40), "not a picture"), (b"%PDF-1.7", "not a picture"), (b"MZ" + bytes(100), "not a picture"),
    (picture_bytes("PNG")[:60], "damaged"), (picture_bytes("JPEG")[:300], "damaged|not a picture"),
    (picture_bytes("PNG", (20, 20)), "at least 100"), (picture_bytes("GIF"), "not a picture"),
])
def test_what_is_no_picture_is_refused_in_a_sentence(data, words):
    with pytest.raises(Refused, match=words):
        clean(data)
