"""What the rules read: one block of balls by one player with one club, one intent and one aid state.

Signs are player-relative (+ = slice side for both hands); ``hand`` only chooses the words. Speeds in m/s,
distances in metres, angles in degrees, spin in rpm, strike in mm, low point in cm; missing = NaN or None.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from metrics.levels import Level
from metrics.windows import Intent

Balls = NDArray[np.float64]
Shots = Mapping[str, Balls]
"""Field key (``metrics.fields``) -> one value a ball, NaN where that ball has none."""

Hand = Literal["right", "left"]
Height = Literal["low", "mid", "high"]
Contact = Literal["clean", "fat", "thin", "top", "sky", "heel", "toe", "shank"]

CONTACTS: tuple[Contact, ...] = ("clean", "fat", "thin", "top", "sky", "heel", "toe", "shank")
WINDY_MPS = 4.47
"""From 10 mph carry, curve and finish are not judged. A judgement, no source."""


@dataclass(frozen=True, kw_only=True)
class BallCall:
    """What a person called for one ball; None = not called.

    ``start`` −1 hook side, 0 on line, +1 slice side; ``curve`` −2 strong hook .. +2 strong slice;
    ``done`` says whether the ball did its job (sand: out and on the green).
    """

    start: int | None = None
    curve: int | None = None
    height: Height | None = None
    contact: Contact | None = None
    done: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Health:
    """The answers to the pain question. ``max_pain`` 0..10 now; ``areas`` are keys of the body cautions."""

    max_pain: float = 0
    areas: tuple[str, ...] = ()
    new_pain: bool = False
    red_flag: bool = False


@dataclass(frozen=True, kw_only=True)
class Wind:
    """Wind of the block: a measured speed in m/s, or the coach's "windy" tag."""

    speed_mps: float | None = None
    windy: bool = False

    @property
    def spoils_carry(self) -> bool:
        """True where carry, curve and finish must not be judged."""
        return self.windy or (self.speed_mps is not None and self.speed_mps >= WINDY_MPS)


@dataclass(frozen=True, kw_only=True)
class EarlierFinding:
    """A pattern found on earlier visits, and on how many."""

    pattern: str
    visits: int = 1


@dataclass(frozen=True, kw_only=True)
class SetupChange:
    """A checkpoint moved just before this block, and the balls of the block before the move."""

    checkpoint: str
    before: float
    after: float
    shots_before: Shots = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class AidPair:
    """Two blocks of one visit, same club and intent: with the aids down and with nothing down.

    Where the player has come back since: ``baseline`` are the balls before the change, ``next_first_ten`` the
    first balls of the next visit, without aids.
    """

    with_aid: Shots = field(default_factory=dict)
    no_aid: Shots = field(default_factory=dict)
    baseline: Shots = field(default_factory=dict)
    next_first_ten: Shots = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class ClubStart:
    """The starts of one club, for the club-fit flag: its loft, the mean and the shot-to-shot SD in degrees."""

    loft_deg: float
    mean_deg: float
    sd_deg: float
    n: int


@dataclass(frozen=True, kw_only=True)
class Override:
    """A window or threshold the academy or the player keeps instead of the shipped one.

    ``target`` names it: ``window/driver/ball_position_cm`` (club and checkpoint), or
    ``threshold/over_draw/numbers-straight/club_path_deg`` (pattern, route, quantity). A window takes ``low``
    and ``high``; a threshold takes ``watch`` and may take ``strong``. ``scope`` "player" wins over "academy".
    ``intent`` and ``lie`` None: laid over the windows of every flight, or of tee and turf.
    """

    target: str
    reason: str
    scope: Literal["academy", "player"] = "academy"
    intent: Intent | None = None
    lie: Literal["", "tee", "turf"] | None = None
    low: float | None = None
    high: float | None = None
    watch: float | None = None
    strong: float | None = None


@dataclass(frozen=True, kw_only=True)
class Response:
    """How one player's number moved when one checkpoint was moved: per unit of the checkpoint."""

    checkpoint: str
    quantity: str
    per_unit: tuple[float, ...]


@dataclass(frozen=True, kw_only=True)
class BlockEvidence:
    """Everything the rules may look at. Only ``club_category`` is required; leave out what is not known.

    ``balls`` counts the balls struck where neither numbers nor calls exist for all of them; by default it is
    the longest column. ``setup`` maps checkpoint keys (``metrics.checkpoints``) to the latest value seen;
    ``setup_spread`` to the SD over repeated looks. ``on_tee`` chooses between the tee and turf windows of a
    fairway wood. ``effort_full`` is True only if the player said it was full effort.
    """

    club_category: str
    intent: Intent = "straight"
    hand: Hand = "right"
    aids: tuple[str, ...] = ()
    level: Level | None = None
    handicap_index: float | None = None
    shots: Shots = field(default_factory=dict)
    calls: tuple[BallCall, ...] = ()
    balls: int | None = None
    setup: Mapping[str, float] = field(default_factory=dict)
    setup_spread: Mapping[str, float] = field(default_factory=dict)
    health: Health = field(default_factory=Health)
    wind: Wind = field(default_factory=Wind)
    warmed_up: bool | None = None
    effort_full: bool | None = None
    on_tee: bool = False
    target_m: float | None = None
    own_medians: Mapping[str, float] = field(default_factory=dict)
    earlier: tuple[EarlierFinding, ...] = ()
    change: SetupChange | None = None
    pair: AidPair | None = None
    club_starts: tuple[ClubStart, ...] = ()
    overrides: tuple[Override, ...] = ()
    responses: tuple[Response, ...] = ()
    memo: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Columns already made from ``shots``: thirty patterns ask for the same few."""

    @property
    def count(self) -> int:
        """The number of balls in the block."""
        columns = [len(values) for values in self.shots.values()]
        return max([self.balls or 0, len(self.calls), *columns])
