"""The file behind --beside: what is known of the player and the balls that no shot file holds, as JSON."""

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lessons.imports import UnreadableFile
from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS
from metrics.rules.reader import LibraryError, Reader
from metrics.rules.types import CONTACTS, BallCall, EarlierFinding, Health, Wind

_CURVES = {"none": 0, "right": 1, "left": -1, "hard right": 2, "hard left": -2}
_STARTS = {"line": 0, "right": 1, "left": -1}


@dataclass(frozen=True, kw_only=True)
class Moved:
    """A checkpoint that was moved just before these balls, in its own unit."""

    checkpoint: str
    before: float
    after: float


@dataclass(frozen=True, kw_only=True)
class Beside:
    """What the rules are told beside the balls. ``known`` are fields of ``BlockEvidence`` as they stand there."""

    known: dict[str, Any] = field(default_factory=dict)
    calls: tuple[BallCall, ...] = ()
    moved: Moved | None = None


def read_beside(path: Path, *, hand: str) -> Beside:
    """Return what the file says; sides are said as right and left of the target and turned for a left-hander.

    Raises ``UnreadableFile`` with a sentence for a key that is not known and for a value that cannot be.
    """
    try:
        data = json.loads(path.read_text(encoding="utf-8-sig"))
        return _beside(Reader(data, path.name), hand)
    except OSError as error:
        raise UnreadableFile(f"{path} cannot be opened: {error.strerror}.") from None
    except LibraryError as error:
        raise UnreadableFile(str(error)) from None
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{path} is not JSON: {error}.") from None


def _beside(r: Reader, hand: str) -> Beside:
    known: dict[str, Any] = {
        "setup": _numbers(r, "setup", CHECKPOINTS),
        "own_medians": _numbers(r, "usual", FIELDS), "target_m": r.optional_number("target_m"),
        "health": Health(max_pain=r.optional_number("pain") or 0, areas=r.texts("sore"), new_pain=r.flag("new_pain"),
                         red_flag=r.flag("red_flag")),
        "wind": Wind(speed_mps=r.optional_number("wind_mps"), windy=r.flag("windy")),
        "effort_full": r.flag("full_effort"), "on_tee": r.flag("on_tee"),
        "earlier": tuple(EarlierFinding(pattern=slug) for slug in r.texts("seen_before")),
    }
    calls = tuple(_call(item, -1 if hand == "left" else 1) for item in r.items("calls"))
    moved = _moved(r.item("moved")) if r.has("moved") else r.raw("moved")
    r.done()
    return Beside(known=known, calls=calls, moved=moved if isinstance(moved, Moved) else None)


def _numbers(r: Reader, key: str, allowed: dict[str, Any]) -> dict[str, float]:
    if not r.has(key):
        r.raw(key)
        return {}
    inner = r.item(key)
    found = {name: inner.number(name) for name in allowed if inner.has(name)}
    inner.done(allowed)
    return found


def _moved(r: Reader) -> Moved:
    moved = Moved(checkpoint=r.choice("checkpoint", tuple(CHECKPOINTS)), before=r.number("before"),
                  after=r.number("after"))
    r.done()
    return moved


def _call(r: Reader, turn: int) -> BallCall:
    start, curve = (_worded(r, key, words) for key, words in (("start", _STARTS), ("curve", _CURVES)))
    call = BallCall(start=None if start is None else turn * start, curve=None if curve is None else turn * curve,
                    height=_maybe(r, "height", ("low", "mid", "high")), contact=_maybe(r, "contact", CONTACTS),
                    done=r.flag("done") if r.has("done") else None)
    r.raw("done")
    r.done()
    return call


def _worded(r: Reader, key: str, words: dict[str, int]) -> int | None:
    word = _maybe(r, key, tuple(words))
    return None if word is None else words[word]


def _maybe(r: Reader, key: str, options: tuple[str, ...]) -> Any:
    return r.choice(key, (*options, None)) if r.has(key) else r.raw(key)
