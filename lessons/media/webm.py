"""WebM clips: the elements are read, and everything but one picture track is blanked in place.

Blanked (turned into Void elements of the same length): sound and every other track with its blocks, tags,
attachments, chapters, title, file name and time of making. The frames themselves are not opened. Element layout:
RFC 8794 and RFC 9559, from memory; held in the tests to clips that another program wrote.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from .mp4 import MOST_SECONDS
from .types import Cleaned, Refused

_HEAD, _SEGMENT, _CLUSTER, _VOID = 0x1A45DFA3, 0x18538067, 0x1F43B675, 0xEC
_INFO, _TRACKS, _CUES, _SEEK = 0x1549A966, 0x1654AE6B, 0x1C53BB6B, 0x114D9B74
_ENTRY, _TRACK_NUMBER, _TRACK_TYPE, _VIDEO, _WIDE, _HIGH = 0xAE, 0xD7, 0x83, 0xE0, 0xB0, 0xBA
_NAME = 0x536E
_DOCTYPE, _SCALE, _TIME, _SIMPLE, _GROUP, _BLOCK = 0x4282, 0x2AD7B1, 0xE7, 0xA3, 0xA0, 0xA1
_INFO_KEPT = {_SCALE, 0x4489}
"""Length of a tick, and duration."""
_IN_CLUSTER = {_TIME, _SIMPLE, _GROUP, 0xA7, 0xAB, _VOID, 0xBF}


@dataclass(frozen=True)
class Element:
    """An element: its number, where it starts, where its content starts, where it ends."""

    kind: int
    start: int
    body: int
    end: int


def looks_like_webm(data: bytes) -> bool:
    """Say whether the file begins as a WebM does, whatever it is called."""
    return data[:4] == b"\x1a\x45\xdf\xa3"


def clean_webm(data: bytes) -> Cleaned:
    """Return the clip with one picture track and nothing else. Raises Refused with a sentence."""
    clip = bytearray(data)
    try:
        return _cleaned(clip)
    except IndexError as error:
        raise Refused("The clip is cut off or damaged; send it again.") from error


def _cleaned(clip: bytearray) -> Cleaned:
    top = list(_elements(clip, 0, len(clip)))
    kind = _child(clip, top[0], _DOCTYPE)
    if kind is None or bytes(clip[kind.body:kind.end]).rstrip(b"\0") != b"webm":
        raise Refused("This is not a WebM clip; expected MP4, MOV or WebM.")
    segment = next((each for each in top if each.kind == _SEGMENT), None)
    tracks = _child(clip, segment, _TRACKS) if segment else None
    entry = _picture_track(clip, tracks) if tracks else None
    if segment is None or entry is None:
        raise Refused("The clip holds no moving picture.")
    number = _whole(clip, _child(clip, entry, _TRACK_NUMBER))
    facts = _size(clip, entry)
    parts = list(_elements(clip, segment.body, segment.end))
    times = [time for part in parts if part.kind == _CLUSTER for time in _cluster(clip, part, number)]
    info = next((part for part in parts if part.kind == _INFO), None)
    rate = _rate(times, _whole(clip, _child(clip, info, _SCALE) if info else None) or 1_000_000)
    for part in parts:
        if part.kind == _INFO:
            _keep(clip, part, _INFO_KEPT)
        elif part.kind not in {_TRACKS, _CLUSTER, _CUES, _SEEK, _VOID}:
            _blank(clip, part)
    for each in [*_elements(clip, tracks.body, tracks.end), _child(clip, entry, _NAME)]:
        if each not in (entry, None):
            _blank(clip, each)
    for part in top[1:]:
        if part.kind != _SEGMENT:
            _blank(clip, part)
    return Cleaned(data=bytes(clip), mime="video/webm", frame_rate=rate, **facts)


def _elements(clip: bytearray, start: int, end: int) -> Iterator[Element]:
    at = start
    while at < end:
        kind, body = _number(clip, at, marked=True)
        size, body = _number(clip, body)
        stop = _open_end(clip, kind, body, end) if size is None else body + size
        if stop > end:
            raise Refused("The clip is cut off or damaged; send it again.")
        yield Element(kind, at, body, stop)
        at = stop


def _number(clip: bytearray, at: int, *, marked: bool = False) -> tuple[int | None, int]:
    """Read a number of variable length; ``marked`` keeps its length mark. None for "not known"."""
    first = clip[at]
    length = 9 - first.bit_length()
    if first == 0 or length > (4 if marked else 8):
        raise Refused("The clip is cut off or damaged; send it again.")
    if at + length > len(clip):
        raise IndexError
    value = int.from_bytes(clip[at:at + length])
    if marked:
        return value, at + length
    value &= (1 << 7 * length) - 1
    return (None if value == (1 << 7 * length) - 1 else value), at + length


def _open_end(clip: bytearray, kind: int, body: int, end: int) -> int:
    """A recording that was never closed: a segment runs to the end, a cluster to the next one."""
    if kind != _CLUSTER:
        return end
    at = body
    while at < end:
        inner, after = _number(clip, at, marked=True)
        if inner not in _IN_CLUSTER:
            return at
        size, after = _number(clip, after)
        at = after + (size or 0)
    return end


def _child(clip: bytearray, parent: Element, kind: int) -> Element | None:
    return next((each for each in _elements(clip, parent.body, parent.end) if each.kind == kind), None)


def _whole(clip: bytearray, element: Element | None) -> int:
    return int.from_bytes(clip[element.body:element.end]) if element else 0


def _picture_track(clip: bytearray, tracks: Element) -> Element | None:
    entries = (each for each in _elements(clip, tracks.body, tracks.end) if each.kind == _ENTRY)
    return next((each for each in entries if _whole(clip, _child(clip, each, _TRACK_TYPE)) == 1), None)


def _size(clip: bytearray, entry: Element) -> dict[str, int]:
    video = _child(clip, entry, _VIDEO)
    wide, high = (_whole(clip, _child(clip, video, kind)) if video else 0 for kind in (_WIDE, _HIGH))
    if not (0 < wide < 20_000 and 0 < high < 20_000):
        raise Refused("The clip does not say how large its picture is; send it again.")
    return {"width_px": wide, "height_px": high}


def _cluster(clip: bytearray, cluster: Element, number: int) -> list[int]:
    """Blank the blocks of other tracks and return the times of this one's, in ticks."""
    base, times = 0, []
    for part in list(_elements(clip, cluster.body, cluster.end)):
        if part.kind == _TIME:
            base = _whole(clip, part)
        elif part.kind in {_SIMPLE, _GROUP}:
            block = part if part.kind == _SIMPLE else _child(clip, part, _BLOCK)
            track, at = _number(clip, block.body) if block else (None, 0)
            if track == number:
                times.append(base + int.from_bytes(clip[at:at + 2], signed=True))
            else:
                _blank(clip, part)
        elif part.kind != _VOID:
            _blank(clip, part)
    return times


def _rate(times: list[int], tick_ns: int) -> float | None:
    """Frames a second from the first and last frame; refuses a clip that lasts too long."""
    span = (max(times) - min(times)) * tick_ns / 1e9 if times else 0.0
    if not times:
        raise Refused("The clip holds no moving picture.")
    if span > MOST_SECONDS:
        raise Refused(f"The clip lasts {span:.0f} s; expected at most {MOST_SECONDS} s. Cut it on the phone.")
    return round((len(times) - 1) / span, 3) if span else None


def _keep(clip: bytearray, parent: Element, kinds: set[int]) -> None:
    for each in list(_elements(clip, parent.body, parent.end)):
        if each.kind not in kinds | {_VOID}:
            _blank(clip, each)


def _blank(clip: bytearray, element: Element) -> None:
    """Turn an element into a Void of the same length."""
    length = element.end - element.start
    short = length <= 128
    head = bytes([_VOID, 0x80 | length - 2]) if short else bytes([_VOID, 1]) + (length - 9).to_bytes(7)
    clip[element.start:element.end] = head + bytes(length - len(head))
