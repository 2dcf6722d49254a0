"""One number of a report."""

from dataclasses import dataclass
from typing import Literal

from metrics.change.words import Code

Went = Literal["better", "worse", "open"]
WENT: dict[Code, Went] = {"likely": "better", "established": "better", "slipped": "worse", "overshot": "worse"}
"""What a verdict counts as in the headline; everything else is open."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One number: before and now as text with interval and balls, the change, its word and which way it went.

    ``word`` is empty where the number stands in one battery only, or where no side of it is the better one.
    """

    label: str
    now: str
    before: str = ""
    change: str = ""
    word: str = ""
    went: Went = "open"
