"""Short clips for tests, written by another program's code (OpenCV's), and what phones put into theirs."""

import functools
import struct
import tempfile
from pathlib import Path

import cv2
import numpy as np

FRAMES, RATE = 20, 25.0
SECRET = b"+53.3498-006.2603/ spoken words"


@functools.cache
def clip(kind: str) -> bytes:
    """Twenty frames, each with its number: ``mp4`` or ``webm``."""
    code = {"mp4": "vp09", "webm": "VP80"}[kind]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"clip.{kind}"
        writer = cv2.VideoWriter(str(path), cv2.VideoWriter_fourcc(*code), RATE, (320, 240))
        for number in range(FRAMES):
            frame = np.full((240, 320, 3), 40, np.uint8)
            cv2.putText(frame, str(number), (80, 160), 0, 4, (255, 255, 255), 5)
            writer.write(frame)
        writer.release()
        return path.read_bytes()


def frames_of(data: bytes, kind: str) -> int:
    """Count the frames that the same program reads back."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"clip.{kind}"
        path.write_bytes(data)
        reader, count = cv2.VideoCapture(str(path)), 0
        while reader.read()[0]:
            count += 1
        return count


def box(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I4s", len(content) + 8, kind) + content


def grown(data: bytes, kind: bytes, extra: bytes) -> bytes:
    """An MP4 with ``extra`` at the end of its top box of this kind. OpenCV writes the table of places last, so only
    what stands before the media data would move it."""
    at = 0
    while at < len(data):
        size, found = struct.unpack_from(">I4s", data, at)
        if found == kind:
            return data[:at] + struct.pack(">I", size + len(extra)) + data[at + 4:at + size] + extra + data[at + size:]
        at += size
    raise AssertionError(f"no {kind!r}")


def inside(data: bytes, kind: bytes) -> bytes:
    """The first box of this kind inside ``moov``, whole."""
    at = data.index(kind) - 4
    return data[at:at + struct.unpack_from(">I", data, at)[0]]


def phone_mp4() -> bytes:
    """A clip with a place, a second track of another kind, and bytes between the frames."""
    whole = grown(clip("mp4"), b"mdat", SECRET)
    track = inside(whole, b"trak").replace(b"vide", b"meta", 1)
    for part in (track, box(b"udta", box(b"\xa9xyz", SECRET)), box(b"meta", SECRET)):
        whole = grown(whole, b"moov", part)
    return whole + box(b"uuid", SECRET)


def element(number: int, content: bytes, *, open_end: bool = False) -> bytes:
    """An element of a WebM, its size in eight bytes, or not said."""
    head = number.to_bytes((number.bit_length() + 7) // 8)
    return head + (b"\x01" + b"\xff" * 7 if open_end else b"\x01" + len(content).to_bytes(7)) + content


def phone_webm() -> bytes:
    """A recording that was never closed, with tags and with blocks of a second track."""
    data = clip("webm")
    at = data.index(b"\x18\x53\x80\x67")
    body = at + 4 + 9 - data[at + 4].bit_length()
    second = element(0xA3, b"\x82\x00\x00\x00" + SECRET)
    cluster = element(0x1F43B675, element(0xE7, b"\x00") + second, open_end=True)
    return data[:at] + element(0x18538067, data[body:] + cluster + element(0x1254C367, SECRET), open_end=True)
