"""Reading a block: what its numbers and calls say, and how many balls are still missing."""

from dataclasses import dataclass, field
from typing import Any

from lessons.evidence import wind_speed
from lessons.models import Block
from lessons.models.shot import CarryProvenance, Contact
from lessons.summaries import summary_of
from metrics.change.priors import balls_to_judge, setting
from metrics.fields import FIELDS
from metrics.rules.types import Wind

from .balls import IN_ORDER
from .keypad import NEAR, to_player

MOST_AT_ONCE = 6

_HEIGHTS = {"-1": "low", "0": "mid-height", "1": "high"}


@dataclass(frozen=True, kw_only=True)
class NumberReading:
    """One quantity of a block. ``stage`` is "none" (dots only), "early" (a mean in grey), "judged", or "mixed" where
    measured carries stand beside computed ones, which have no mean in common."""

    key: str
    n: int
    mean: float | None
    lo: float | None
    hi: float | None
    sd: float | None
    stage: str
    more: int
    derived: bool
    in_wind: bool
    struck_mean: float | None = None
    struck_n: int = 0


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What a block says so far."""

    block: Block
    balls: int
    judged: int
    mishits: int
    more: int
    numbers: list[NumberReading] = field(default_factory=list)
    calls: list[str] = field(default_factory=list)
    origins: list[str] = field(default_factory=list)
    """How its carries came about, in words."""

    @property
    def shown_from(self) -> int:
        return int(setting("balls_to_show"))

    @property
    def first(self) -> list[NumberReading]:
        """The numbers that say most, for the eye that has ten seconds."""
        return self.numbers[:MOST_AT_ONCE]

    @property
    def rest(self) -> list[NumberReading]:
        return self.numbers[MOST_AT_ONCE:]

    @property
    def excluded(self) -> int:
        return self.balls - self.judged


def reading(block: Block, *, left_handed: bool) -> Reading:
    """Return the reading of a block from its stored summary. No query unless the summary is of an older form."""
    summary = summary_of(block) if block.summary_version else block.summary
    enough = balls_to_judge(category=block.category)
    judged = summary.get("judged", 0)
    windy = Wind(speed_mps=wind_speed(block.lesson), windy=block.lesson.is_windy).spoils_carry
    return Reading(
        block=block, balls=summary.get("balls", 0), judged=judged, mishits=summary.get("mishits", 0),
        more=max(0, enough - _counting(summary)), calls=_calls(summary.get("calls", {}), left_handed),
        origins=_origins(block, summary),
        numbers=[_number(key, summary, enough, windy) for key in IN_ORDER if key in summary.get("numbers", {})],
    )


def _counting(summary: dict[str, Any]) -> int:
    """Return the balls a verdict will count: mishits are left out of averages, so where numbers were taken a first
    ten with a mishit in it is one ball short; called balls all count."""
    judged: int = summary.get("judged", 0)
    return judged - summary.get("mishits", 0) if summary.get("numbers") else judged


def _origins(block: Block, summary: dict[str, Any]) -> list[str]:
    """Name the origins of the block's carries: those of single balls, and the device's usual one for the others."""
    device = block.lesson.device
    kinds = {*summary.get("provenance", []), device.carry_provenance if device else ""}
    return [CarryProvenance(kind).label.lower() for kind in CarryProvenance.values if kind in kinds]


def _number(key: str, summary: dict[str, Any], enough: int, windy: bool) -> NumberReading:
    got = summary["numbers"][key]
    struck = summary.get("numbers_struck", {}).get(key) or {}
    n = got["n"]
    stage = "judged" if n >= enough else "early" if n >= setting("balls_to_show") else "none"
    if n and got["mean"] is None:
        stage = "mixed"
    return NumberReading(
        key=key, n=n, mean=got["mean"], lo=got["lo"], hi=got["hi"], sd=got["sd"], stage=stage,
        more=max(0, enough - n), derived=key in summary.get("derived", []),
        in_wind=windy and not FIELDS[key].survives_wind,
        struck_mean=struck.get("mean") if struck.get("n") != n else None, struck_n=struck.get("n", 0),
    )


def _calls(calls: dict[str, dict[str, int]], left_handed: bool) -> list[str]:
    """Say the counts as seen from behind the ball: "7 of 10 start left"."""
    said = []
    for kind, words in (("start", _start_word), ("curve", _curve_word), ("height", _height_word),
                        ("contact", _contact_word)):
        counts: dict[str, int] = {}
        for value, count in calls.get(kind, {}).items():
            word = words(value, left_handed)
            counts[word] = counts.get(word, 0) + count
        total = sum(counts.values())
        if total:
            parts = ", ".join(f"{n} {word}" for word, n in sorted(counts.items(), key=lambda item: -item[1]))
            said.append(f"{kind.capitalize()}, of {total}: {parts}")
    return said


def _start_word(value: str, left_handed: bool) -> str:
    seen = to_player(int(value), left_handed)
    return NEAR[seen] if seen else "on line"


def _curve_word(value: str, left_handed: bool) -> str:
    seen = to_player(int(value), left_handed)
    return NEAR[(seen > 0) - (seen < 0)]


def _height_word(value: str, left_handed: bool) -> str:
    return _HEIGHTS.get(value, value)


def _contact_word(value: str, left_handed: bool) -> str:
    return Contact(value).label.lower()
