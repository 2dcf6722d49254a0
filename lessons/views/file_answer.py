"""Handing out a kept file: one known type, never interpreted as anything else, in pieces where a player asks so."""

import re
from collections.abc import Iterator
from pathlib import Path

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse

from lessons.media import store
from lessons.media.types import SUFFIXES
from lessons.models import Attachment

_RANGE = re.compile(r"bytes=([0-9]{0,15})-([0-9]{0,15})")
_PIECE = 64 * 1024
HEADERS = {
    # A file that was opened by itself may load nothing, run nothing and be framed by nobody.
    "Content-Security-Policy": "default-src 'none'; img-src 'self'; media-src 'self'; style-src 'unsafe-inline'; "
                               "sandbox; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    # Withdrawn consent works at once, so no copy may wait in the browser.
    "Cache-Control": "no-store",
    "Accept-Ranges": "bytes",
}


def file_answer(request: HttpRequest, row: Attachment) -> HttpResponse:
    """Answer with the file, or the piece that was asked for: without pieces no browser lets a clip be stepped.
    Raises Http404 where the file is gone."""
    path = store.path_of(code=row.code, mime=row.mime)
    if not path.is_file():
        raise Http404("There is no such picture.")
    size = path.stat().st_size
    asked = _asked(request.headers.get("Range", ""), size)
    if asked is None:
        return HttpResponse(status=416, headers={**HEADERS, "Content-Range": f"bytes */{size}"})
    start, end = asked
    whole = (start, end) == (0, size) and "Range" not in request.headers
    response = StreamingHttpResponse(_read(path, start, end), content_type=row.mime, status=200 if whole else 206)
    for name, value in HEADERS.items():
        response[name] = value
    response["Content-Length"] = str(end - start)
    response["Content-Disposition"] = f'inline; filename="{"clip" if row.is_clip else "picture"}{SUFFIXES[row.mime]}"'
    if not whole:
        response["Content-Range"] = f"bytes {start}-{end - 1}/{size}"
    return response


def _asked(header: str, size: int) -> tuple[int, int] | None:
    """Return (start, end) of the asked piece; the whole for what is not understood; None for one outside the file."""
    found = _RANGE.fullmatch(header.strip())
    if found is None or found.groups() == ("", ""):
        return 0, size
    first, last = found.groups()
    if not first:
        return (max(0, size - int(last)), size) if int(last) else None
    start, end = int(first), min(int(last) + 1, size) if last else size
    return (start, end) if start < end else None


def _read(path: Path, start: int, end: int) -> Iterator[bytes]:
    with open(path, "rb") as file:
        file.seek(start)
        while start < end:
            piece = file.read(min(_PIECE, end - start))
            if not piece:
                return
            start += len(piece)
            yield piece
