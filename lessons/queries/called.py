"""What a person called, counted: the evidence behind a finding by eye, to argue with."""

from collections import Counter
from collections.abc import Callable, Hashable

from metrics.rules.types import BallCall, Hand
from metrics.rules.words import fill, joined

_START = {-1: "{hook_side}", 0: "on line", 1: "{slice_side}"}
_CURVE = {-2: "hard {hook_side}", -1: "{hook_side}", 0: "none", 1: "{slice_side}", 2: "hard {slice_side}"}
_CONTACT = {"clean": "clean", "fat": "ground first", "thin": "thin", "top": "topped", "sky": "off the top edge",
            "heel": "heel", "toe": "toe", "shank": "hosel"}
_HEIGHT = {"high": "high", "mid": "middling", "low": "low"}


def tallies(calls: tuple[BallCall, ...], *, hand: Hand) -> list[tuple[str, str]]:
    """Return for each thing that was called its name and its counts, most frequent first. No query.

    >>> tallies((BallCall(start=1), BallCall(start=1), BallCall(start=0)), hand="left")
    [('Start', '2 left and 1 on line, of 3 called')]
    """
    kinds: list[tuple[str, Callable[[BallCall], Hashable], dict]] = [
        ("Start", lambda call: call.start, _START), ("Curve", lambda call: call.curve, _CURVE),
        ("Height", lambda call: call.height, _HEIGHT), ("Contact", lambda call: call.contact, _CONTACT)]
    counted = [(name, Counter(seen for call in calls if (seen := look(call)) is not None), words)
               for name, look, words in kinds]
    return [(name, _said(counts, words, hand)) for name, counts, words in counted if counts]


def _said(counts: Counter, words: dict, hand: Hand) -> str:
    parts = [f"{n} {fill(words[seen], hand=hand)}" for seen, n in counts.most_common()]
    return f"{joined(parts)}, of {counts.total()} called"
