"""Where kept pictures and clips lie: in the media folder, under a code that the program made, never under a name."""

import os
from collections.abc import Iterator
from pathlib import Path
from uuid import UUID

from django.conf import settings

from .types import SUFFIXES

FOLDER = "attached"


def path_of(*, code: UUID, mime: str) -> Path:
    """Return the file of a picture or clip. Only a code and a known type go into the path."""
    return _folder() / f"{UUID(str(code)).hex}{SUFFIXES[mime]}"


def write(*, code: UUID, mime: str, data: bytes) -> Path:
    """Write a file whole or not at all, readable by its owner only."""
    path = path_of(code=code, mime=mime)
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    partial = path.with_suffix(".partial")
    handle = os.open(partial, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    os.replace(partial, path)
    return path


def every_file() -> Iterator[tuple[str, Path]]:
    """Yield the code (hex) and the path of each file that lies there."""
    folder = _folder()
    if folder.exists():
        for path in folder.iterdir():
            yield path.stem, path


def _folder() -> Path:
    return Path(settings.MEDIA_ROOT) / FOLDER
