"""Published rates that may stand beside a player's, each with its mark. Not a level anybody has to reach."""

from dataclasses import dataclass

from metrics.method import Mark
from metrics.shortgame.designs import FOOT_M

_SAME_M = 0.05


@dataclass(frozen=True, kw_only=True)
class Published:
    """A share (0..1), of whom, and how well it is supported."""

    share: float
    of: str
    source: str
    mark: Mark


_TOUR = {3: 0.96, 5: 0.77, 8: 0.50, 10: 0.40, 15: 0.23, 20: 0.15, 30: 0.07}


def published_make(*, distance_m: float) -> Published | None:
    """Return the tour professionals' share of holed putts from this distance, None where no figure was read.

    Feet 3, 5, 8, 10, 15, 20 and 30 only, within 5 cm: nothing is drawn between them. Second-hand: figures of
    M. Broadie as quoted by others.
    """
    for feet, share in _TOUR.items():
        if abs(distance_m - feet * FOOT_M) <= _SAME_M:
            return Published(share=share, of="tour professionals", source="M. Broadie, as quoted by others",
                             mark="second-hand")
    return None
