"""One message into balls: strict, every field checked, all or none.

Numbers stay in the signs of their source; they are turned round where a ball is stored, because only there it is
known whose it is.
"""

import json
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from metrics.fields import FIELDS

from .fields import CALLS, Wrong, read_call, read_club, read_moment, read_number

MAX_BYTES = 256 * 1024
MAX_SHOTS = 200
MOST_ERRORS = 100
MEMBERS = ("key", "hit_at", "club", "numbers", "calls")


@dataclass(frozen=True, kw_only=True)
class SentBall:
    """A ball as it was sent. ``numbers`` in the fields' units; ``category`` is empty where the club is unknown."""

    key: uuid.UUID
    hit_at: datetime | None = None
    club: str = ""
    category: str = ""
    numbers: dict[str, float] = field(default_factory=dict)
    calls: dict[str, Any] = field(default_factory=dict)
    raw: str = ""


class Refused(ValueError):
    """A message that cannot be taken. ``errors`` hold ``{"shot", "field", "problem"}``; nothing was stored."""

    def __init__(self, errors: list[dict[str, Any]], *, status: int = 422) -> None:
        super().__init__(errors[0]["problem"])
        self.errors = errors[:MOST_ERRORS]
        self.status = status


def read_message(data: bytes, *, club_names: Mapping[str, str], now: datetime) -> tuple[SentBall, ...]:
    """Return the balls of a JSON message: one shot or a list of them. Raises ``Refused``.

    ``club_names`` maps what the source calls clubs to categories; ``now`` bounds the times that can be.
    """
    if len(data) > MAX_BYTES:
        sentence = f"The message has more than {MAX_BYTES // 1024} kB; send fewer shots at once."
        raise Refused(_whole(sentence), status=413)
    found = _parsed(data)
    items = found if isinstance(found, list) else [found]
    if not items:
        raise Refused(_whole("The list is empty; expected at least one shot."))
    if len(items) > MAX_SHOTS:
        raise Refused(_whole(f"{len(items)} shots were found; expected at most {MAX_SHOTS} in one message."))
    errors: list[dict[str, Any]] = []
    balls = [_read_shot(item, place, errors, club_names=club_names, now=now) for place, item in enumerate(items)]
    _refuse_twins(balls, errors)
    if errors:
        raise Refused(errors)
    return tuple(balls)


def _parsed(data: bytes) -> Any:
    try:
        # NaN and Infinity are no JSON; they are let through here and refused beside the name of their field.
        return json.loads(data.decode("utf-8"), object_pairs_hook=_once)
    except UnicodeDecodeError as error:
        raise Refused(_whole("The message is not UTF-8 text."), status=400) from error
    except Wrong as error:
        raise Refused(_whole(str(error)), status=400) from error
    except RecursionError as error:
        raise Refused(_whole("The message is nested too deeply."), status=400) from error
    except ValueError as error:
        raise Refused(_whole("The message is not JSON."), status=400) from error


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Refuse an object that says one name twice: which of the two was meant cannot be known."""
    found = dict(pairs)
    if len(found) < len(pairs):
        raise Wrong("A name stands twice in one object.")
    return found


def _read_shot(item: Any, place: int, errors: list[dict[str, Any]], **known: Any) -> SentBall:
    """Read one shot and add what is wrong with it; the ball returned counts only where nothing was added."""

    def tried(name: str, read: Any, *given: Any) -> Any:
        try:
            return read(*given)
        except Wrong as wrong:
            errors.append({"shot": place, "field": name, "problem": str(wrong)})
            return None

    if not isinstance(item, dict):
        tried("", _wrong, "A shot is an object with key, numbers and so on.")
        return SentBall(key=uuid.uuid4())
    for name in sorted(set(item) - set(MEMBERS)):
        tried(_shown(name), _wrong, f"This is no member of a shot; expected {', '.join(MEMBERS)}.")
    numbers = {
        name: tried(f"numbers.{_shown(name)}", read_number, name, value)
        for name, value in (tried("numbers", _object, item, "numbers") or {}).items()
    }
    calls = {
        name: tried(f"calls.{_shown(name)}", read_call, name, value)
        for name, value in (tried("calls", _object, item, "calls") or {}).items()
    }
    if not numbers and not calls and all(isinstance(item.get(name, {}), dict) for name in ("numbers", "calls")):
        tried("numbers", _wrong, f"Nothing was seen of this ball; expected at least one of {', '.join(FIELDS)}.")
    club, category = tried("club", read_club, item.get("club"), known["club_names"]) or ("", "")
    return SentBall(
        key=tried("key", _key, item.get("key")) or uuid.uuid4(), club=club, category=category,
        hit_at=tried("hit_at", read_moment, item.get("hit_at"), known["now"]), numbers=numbers,
        calls={CALLS[name].column: value for name, value in calls.items() if name in CALLS},
        raw=json.dumps(item, ensure_ascii=True)[:4000],
    )


def _refuse_twins(balls: list[SentBall], errors: list[dict[str, Any]]) -> None:
    seen: set[uuid.UUID] = set()
    for place, ball in enumerate(balls):
        if ball.key in seen:
            errors.append({
                "shot": place, "field": "key", "problem": "The same key stands in this message already.",
            })
        seen.add(ball.key)


def _key(value: Any) -> uuid.UUID:
    if not isinstance(value, str) or len(value) != 36:
        raise Wrong("A key is expected: a UUID such as 3f1c9a52-6a0e-4f5b-9a55-0f4f3c1f7a10, made once for each ball.")
    try:
        return uuid.UUID(value)
    except ValueError as error:
        raise Wrong(f"“{_shown(value)}” is no UUID.") from error


def _object(item: dict[str, Any], name: str) -> dict[str, Any]:
    value = item.get(name, {})
    if not isinstance(value, dict):
        raise Wrong("An object is expected, with one member for each thing that was seen.")
    return value


def _wrong(sentence: str) -> None:
    raise Wrong(sentence)


def _whole(sentence: str) -> list[dict[str, Any]]:
    return [{"shot": None, "field": "", "problem": sentence}]


def _shown(name: str) -> str:
    """Return a name from outside, short enough to send back."""
    return name if len(name) <= 40 else name[:39] + "…"
