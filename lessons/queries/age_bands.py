"""What the private page says to which age.

The bands are common practice for juniors, without a source of their own: 3 to 6 play games; 7 to 10 move and hit
targets, not more than 20 minutes a task; 11 to 14 learn skills while they grow, so speed rests and lost timing is
expected; from 15 on with goals of their own. An academy's or association's own policy comes first.
"""

import re
from dataclasses import dataclass

from metrics.change.words import Code

_A_NUMBER = re.compile(r"\d\s?(°|cm|mm|%|m\b|yd)")


@dataclass(frozen=True, kw_only=True)
class Band:
    """How the page speaks to one age. ``most_minutes`` caps one task; ``numbers`` allows degrees and averages."""

    key: str
    oldest: int | None
    title: str = "one thing"
    begin: str = "Practise now"
    numbers: bool = True
    most_minutes: int | None = None
    asks_fun: bool = False
    word: str = ""

    def may_read(self, text: str) -> bool:
        """Say whether a text of a drill or a change is for this age: the young read no measures."""
        return self.numbers or not _A_NUMBER.search(text)


BANDS = (
    Band(
        key="games", oldest=6, title="game", begin="Play now", numbers=False, most_minutes=10, asks_fun=True,
        word="It is a game. Stop while it is still fun.",
    ),
    Band(
        key="targets", oldest=10, title="one thing", begin="Play now", numbers=False, most_minutes=20, asks_fun=True,
        word="Pick a target, have a go, see where it goes. Then do something else for a while.",
    ),
    Band(
        key="skills", oldest=14, asks_fun=True,
        word="When you grow, your timing can go away for some weeks. It comes back. No speed practice until it does.",
    ),
    Band(key="own", oldest=17),
)
ADULT = Band(key="adult", oldest=None)

_TO_A_CHILD: dict[Code, str] = {
    "established": "It stayed! You can do it now, on any day.",
    "likely": "It looks as if it stayed. Show it once more next time.",
    "in_window": "Just right as it is.",
    "better_today": "Good today. Next time we see if it stayed.",
    "cannot_tell": "Not enough balls yet to know. That is fine. Hit some more and we will see.",
    "slipped": "It hid for a while. That happens to everybody. Your coach helps you find it.",
    "overshot": "A bit too much of it. Now a little less.",
}


def band_of(*, age: int | None, adult_age: int) -> Band:
    """Return the band of an age; an unknown age reads as adult."""
    if age is None or age >= adult_age:
        return ADULT
    return next((band for band in BANDS if band.oldest is not None and age <= band.oldest), ADULT)


def to_a_child(code: Code) -> str:
    """Return a verdict as one sentence without numbers."""
    return _TO_A_CHILD[code]
