"""MP4 and MOV clips: the boxes are read, and everything but one picture track is blanked in place.

Nothing moves inside the file, so the track's own table of places stays true. Blanked are: the sound, every other
track (phones write the place into one), all text and ``meta``/``udta``/``uuid`` boxes, every byte of the media data
that is no frame of the track, and the times of making. The frames themselves are not opened. Box layout: ISO/IEC
14496-12, from memory; held in the tests to clips that another program wrote.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass

from .types import Cleaned, Refused

MOST_SECONDS = 60
MOST_ROWS = 200_000
"""Rows of one table: a minute at 1000 frames a second has fewer; a hostile file may claim any number."""
_BRANDS = {b"isom", b"iso2", b"iso4", b"iso5", b"iso6", b"mp41", b"mp42", b"avc1", b"M4V ", b"qt  ", b"3gp4", b"3gp5"}
_INSIDE = {
    b"moov": {b"mvhd", b"trak"}, b"trak": {b"tkhd", b"edts", b"mdia"}, b"mdia": {b"mdhd", b"hdlr", b"minf"},
    b"minf": {b"vmhd", b"dinf", b"stbl", b"hdlr"},
}
"""What may stay in each box; everything else becomes free space."""
_STREAMED = {b"moof", b"mvex", b"styp"}


@dataclass(frozen=True)
class Box:
    """A box: where it starts, where its content starts, where it ends."""

    kind: bytes
    start: int
    body: int
    end: int


def looks_like_mp4(data: bytes) -> bool:
    """Say whether the file begins as an MP4 or MOV does, whatever it is called."""
    return data[4:8] == b"ftyp" and len(data) > 16


def clean_mp4(data: bytes) -> Cleaned:
    """Return the clip with one picture track and nothing else. Raises Refused with a sentence."""
    clip = bytearray(data)
    try:
        return _cleaned(clip)
    except (struct.error, IndexError, StopIteration) as error:
        raise Refused("The clip is cut off or damaged; send it again.") from error


def _cleaned(clip: bytearray) -> Cleaned:
    top = list(_boxes(clip, 0, len(clip)))
    brands = bytes(clip[top[0].body:top[0].end])
    if not {brands[i:i + 4] for i in range(0, len(brands), 4)} & _BRANDS:
        raise Refused("This is not a clip as phones make them; expected MP4, MOV or WebM.")
    kinds = [box.kind for box in top]
    moov = next((box for box in top if box.kind == b"moov"), None)
    if moov is None or set(kinds) & _STREAMED or _find(clip, moov, b"mvex"):
        raise Refused("The clip is a piece of a stream; expected a whole MP4 as the phone saves it.")
    tracks = [box for box in _boxes(clip, moov.body, moov.end) if box.kind == b"trak"]
    shown = [track for track in tracks if _handler(clip, track) == b"vide"]
    if not shown:
        raise Refused("The clip holds no moving picture.")
    facts, frames = _facts(clip, shown[0]), _frames(clip, shown[0])
    for box in top:
        if box.kind == b"mdat":
            _keep_only(clip, box, frames)
        elif box.kind not in {b"ftyp", b"moov"}:
            _blank(clip, box)
    for track in tracks:
        if track is not shown[0]:
            _blank(clip, track)
    _prune(clip, moov)
    return Cleaned(data=bytes(clip), mime="video/mp4", **facts)


def _boxes(clip: bytearray, start: int, end: int) -> Iterator[Box]:
    at = start
    while at + 8 <= end:
        size, kind = struct.unpack_from(">I4s", clip, at)
        body = at + 8
        if size == 1:
            size, = struct.unpack_from(">Q", clip, body)
            body += 8
        stop = end if size == 0 else at + size
        if stop < body or stop > end:
            raise Refused("The clip is cut off or damaged; send it again.")
        yield Box(kind, at, body, stop)
        at = stop


def _find(clip: bytearray, box: Box, *path: bytes) -> Box | None:
    """Return the box at the end of a path of kinds, None where one is missing."""
    here: Box | None = box
    for kind in path:
        here = next((each for each in _boxes(clip, here.body, here.end) if each.kind == kind), None)
        if here is None:
            return None
    return here


def _need(clip: bytearray, box: Box, *path: bytes) -> Box:
    found = _find(clip, box, *path)
    if found is None:
        raise Refused("The clip is damaged: its picture track is not described; send it again.")
    return found


def _handler(clip: bytearray, track: Box) -> bytes:
    hdlr = _find(clip, track, b"mdia", b"hdlr")
    return bytes(clip[hdlr.body + 8:hdlr.body + 12]) if hdlr else b""


def _facts(clip: bytearray, track: Box) -> dict[str, float | int | None]:
    """Size on the screen and frames a second of the picture track."""
    tkhd = _need(clip, track, b"tkhd")
    width, height = struct.unpack_from(">II", clip, tkhd.end - 8)
    mdhd = _need(clip, track, b"mdia", b"mdhd")
    scale, = struct.unpack_from(">I", clip, mdhd.body + (20 if clip[mdhd.body] else 12))
    times = _need(clip, track, b"mdia", b"minf", b"stbl", b"stts")
    rows = _table(clip, times, ">II")
    count, ticks = sum(n for n, _ in rows), sum(n * step for n, step in rows)
    if not (count and ticks and scale):
        raise Refused("The clip holds no moving picture.")
    if ticks / scale > MOST_SECONDS:
        raise Refused(f"The clip lasts {ticks / scale:.0f} s; expected at most {MOST_SECONDS} s. Cut it on the phone.")
    return {"width_px": width >> 16, "height_px": height >> 16, "frame_rate": round(count * scale / ticks, 3)}


def _table(clip: bytearray, box: Box, row: str) -> list[tuple[int, ...]]:
    """Return the rows of a box: version and flags, a count, then rows."""
    count, = struct.unpack_from(">I", clip, box.body + 4)
    size = struct.calcsize(row)
    if count > MOST_ROWS or box.body + 8 + count * size > box.end:
        raise Refused("The clip is damaged: a table is longer than its place; send it again.")
    return [struct.unpack_from(row, clip, box.body + 8 + i * size) for i in range(count)]


def _frames(clip: bytearray, track: Box) -> list[tuple[int, int]]:
    """Return (start, end) of every frame of the track, in the order they lie in the file."""
    stbl = _need(clip, track, b"mdia", b"minf", b"stbl")
    places = _find(clip, stbl, b"stco")
    starts = [row[0] for row in (_table(clip, places, ">I") if places else _table(
        clip, _need(clip, stbl, b"co64"), ">Q"))]
    stsz = _need(clip, stbl, b"stsz")
    same, count = struct.unpack_from(">II", clip, stsz.body + 4)
    if count > MOST_ROWS:
        raise Refused("The clip is damaged: it counts more frames than a minute can hold.")
    sizes = [same] * count if same else list(struct.unpack_from(f">{count}I", clip, stsz.body + 12))
    many_from = {first: many for first, many, _ in _table(clip, _need(clip, stbl, b"stsc"), ">III")}
    frames, frame, many = [], 0, 0
    for chunk, at in enumerate(starts, start=1):
        many = many_from.get(chunk, many)
        for size in sizes[frame:frame + many]:
            frames.append((at, at + size))
            at += size
        frame += many
    return sorted(frames)


def _keep_only(clip: bytearray, box: Box, frames: list[tuple[int, int]]) -> None:
    """Write zeros over every byte of the media data that belongs to no frame."""
    at = box.body
    for start, end in [*frames, (box.end, box.end)]:
        start, end = max(start, box.body), min(end, box.end)
        if start > at:
            clip[at:start] = bytes(start - at)
        at = max(at, end)


def _blank(clip: bytearray, box: Box) -> None:
    """Turn a box into free space of the same length."""
    clip[box.start + 4:box.start + 8] = b"free"
    clip[box.body:box.end] = bytes(box.end - box.body)


def _prune(clip: bytearray, box: Box) -> None:
    """Keep what the picture track needs, blank the rest, and forget when the clip was made."""
    for inner in _boxes(clip, box.body, box.end):
        if inner.kind not in _INSIDE[box.kind]:
            if inner.kind != b"free":
                _blank(clip, inner)
        elif inner.kind in _INSIDE:
            _prune(clip, inner)
        elif inner.kind in {b"mvhd", b"tkhd", b"mdhd"}:
            long = 16 if clip[inner.body] else 8
            clip[inner.body + 4:inner.body + 4 + long] = bytes(long)
        elif inner.kind == b"hdlr":
            clip[inner.body + 24:inner.end] = bytes(inner.end - inner.body - 24)
