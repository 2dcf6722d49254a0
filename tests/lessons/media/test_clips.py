"""Clips keep their frames and lose everything else; what is not a whole clip is refused in a sentence."""

import struct

import pytest

from lessons.media.content import clean
from lessons.media.types import Refused

from .clips import FRAMES, RATE, SECRET, box, clip, frames_of, grown, phone_mp4, phone_webm


@pytest.mark.parametrize("kind", ["mp4", "webm"])
def test_a_clip_of_another_program_keeps_every_frame(kind):
    kept = clean(clip(kind))
    assert kept.mime == f"video/{kind}" and kept.is_clip
    assert (kept.width_px, kept.height_px, kept.frame_rate) == (320, 240, pytest.approx(RATE, rel=0.01))
    assert frames_of(kept.data, kind) == frames_of(clip(kind), kind) == FRAMES


@pytest.mark.parametrize(("data", "kind"), [(phone_mp4(), "mp4"), (phone_webm(), "webm")])
def test_place_sound_and_other_tracks_are_blanked_and_the_frames_stay(data, kind):
    assert SECRET in data
    kept = clean(data)
    assert SECRET not in kept.data and SECRET[:12] not in kept.data
    assert len(kept.data) == len(data) and frames_of(kept.data, kind) == FRAMES
    assert clean(kept.data).data == kept.data


def test_an_mp4_forgets_when_it_was_made():
    data = bytearray(clip("mp4"))
    at = data.index(b"mvhd") + 8
    data[at:at + 8] = struct.pack(">II", 3_900_000_000, 3_900_000_000)
    kept = clean(bytes(data)).data
    assert kept[at:at + 8] == bytes(8)


@pytest.mark.parametrize("kind", ["mp4", "webm"])
@pytest.mark.parametrize("share", [0.001, 0.05, 0.3, 0.7, 0.98])
def test_a_clip_that_is_cut_off_is_refused_or_shorter_but_never_an_error(kind, share):
    data = clip(kind)[:max(20, int(len(clip(kind)) * share))]
    with pytest.raises(Refused):
        clean(data)


def test_a_piece_of_a_stream_is_refused():
    with pytest.raises(Refused, match="piece of a stream"):
        clean(clip("mp4") + box(b"moof", bytes(16)))


def test_a_clip_without_a_picture_is_refused():
    data = clip("mp4")
    assert data.count(b"vide") == 1
    with pytest.raises(Refused, match="no moving picture"):
        clean(data.replace(b"vide", b"soun"))


def test_a_clip_of_two_minutes_is_refused_with_what_to_do():
    data = bytearray(clip("mp4"))
    at = data.index(b"stts") + 16
    data[at:at + 4] = struct.pack(">I", struct.unpack_from(">I", data, at)[0] * 150)
    with pytest.raises(Refused, match="lasts 120 s; expected at most 60 s"):
        clean(bytes(data))


@pytest.mark.parametrize("table", [b"stts", b"stsc", b"stco"])
def test_a_table_that_claims_more_rows_than_it_has_is_refused(table):
    data = bytearray(clip("mp4"))
    at = data.index(table) + 8
    data[at:at + 4] = b"\xff\xff\xff\xff"
    with pytest.raises(Refused, match="damaged"):
        clean(bytes(data))


def test_other_brands_and_other_doc_types_are_refused():
    with pytest.raises(Refused, match="as phones make them"):
        clean(box(b"ftyp", b"zzzz\0\0\0\0zzzzyyyy") + clip("mp4"))
    with pytest.raises(Refused, match="not a WebM"):
        clean(clip("webm").replace(b"webm", b"xxxx", 1))


def test_a_picture_in_the_new_phone_format_is_refused_with_what_to_do():
    with pytest.raises(Refused, match="most compatible"):
        clean(box(b"ftyp", b"heic\0\0\0\0mif1heic") + bytes(64))


def test_boxes_inside_the_table_of_places_that_are_not_needed_become_free_space():
    kept = clean(grown(clip("mp4"), b"moov", box(b"udta", box(b"name", SECRET)))).data
    assert b"udta" not in kept and b"free" in kept
