"""The library as it is shipped, read from its files."""

import json
from functools import lru_cache
from pathlib import Path

from metrics.rules.library import parse_library
from metrics.rules.records import Library

FOLDER = Path(__file__).parents[2] / "fixtures" / "library"


def documents() -> dict[str, list[dict]]:
    """Return every document of the shipped library by its name."""
    return {path.relative_to(FOLDER).with_suffix("").as_posix(): json.loads(path.read_text(encoding="utf-8"))
            for path in sorted(FOLDER.rglob("*.json"))}


@lru_cache(maxsize=1)
def shipped_library() -> Library:
    """Return the parsed library; it never changes, so it is read once."""
    return parse_library(documents=documents())
