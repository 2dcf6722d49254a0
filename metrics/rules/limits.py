"""What is wanted of a number, and how much it usually varies at the player's level."""

import math

from metrics.change.priors import sd_prior
from metrics.flight.families import CLUBS
from metrics.levels import Level, level_of
from metrics.rules.types import BlockEvidence
from metrics.windows import find_window, window_for_level

Window = tuple[float, float]
UNKNOWN_SPREAD: Level = "index_6_12"
"""Level taken for spreads where none is known: 1.3 times its face SD is the 3° that counts for anybody."""
WITH_TOLERANCE = frozenset({"driver", "fairway", "hybrid_long_iron", "mid_iron", "short_iron", "wedge_full", "pitch"})
"""Clubs for which a level's tolerance around the intent window is kept."""
PUTTER_SHARE, SHORT_SHARE = 0.90, 0.61
"""Share of the face in the start direction where no flight is modelled: putter from memory, chip and sand as a
wedge."""


def start_share(club_category: str) -> float:
    """Return the share of the face in the start direction; the rest follows the path."""
    if club_category in CLUBS:
        return CLUBS[club_category].face_share
    return PUTTER_SHARE if club_category == "putter" else SHORT_SHARE


def intent_window(quantity: str, *, evidence: BlockEvidence) -> Window | None:
    """Return where path or face to path is wanted for this club and intent, player-relative, or None."""
    if quantity not in ("club_path_deg", "face_to_path_deg"):
        return None
    return usual_window(quantity, evidence=evidence)


def usual_window(quantity: str, *, evidence: BlockEvidence) -> Window | None:
    """Return the intent window or the usual range for the club, in the stored unit, or None."""
    window = find_window(quantity=quantity, intent=evidence.intent, category=evidence.club_category)
    return (window.lo, window.hi) if window else None


def livable_window(quantity: str, *, evidence: BlockEvidence) -> Window | None:
    """Return the intent window widened to what this player's level can live with, or None."""
    if intent_window(quantity, evidence=evidence) is None or evidence.club_category not in WITH_TOLERANCE:
        return intent_window(quantity, evidence=evidence)
    found = window_for_level(quantity=quantity, intent=evidence.intent, category=evidence.club_category,
                             level=spread_level(evidence))
    return found.lo, found.hi


def spread_level(evidence: BlockEvidence) -> Level:
    """Return the level whose spreads are expected: the one given, else from the index, else a middling one."""
    if evidence.level is not None:
        return evidence.level
    return UNKNOWN_SPREAD if evidence.handicap_index is None else level_of(evidence.handicap_index)


def sd_prior_of(quantity: str, *, evidence: BlockEvidence) -> float | None:
    """Return the usual shot-to-shot SD at the player's level in the stored unit (carry: per cent of its mean).

    The start direction's is put together from those of face and path. None where no prior is kept.
    """
    level, club = spread_level(evidence), evidence.club_category
    if quantity == "face_or_start_deg":
        face_known = bool({"face_angle_deg", "face_to_path_deg"} & set(evidence.shots))
        quantity = "face_angle_deg" if face_known else "launch_direction_deg"
    if quantity == "launch_direction_deg":
        return _start_spread(level, start_share(club))
    prior = sd_prior(quantity=quantity, level=level, category=club, typical=100.0)
    return prior.value if prior else None


def _start_spread(level: Level, share: float) -> float | None:
    """SD of share x face + (1 - share) x path; the spread of their difference tells how far they move together."""
    found = [sd_prior(quantity=q, level=level) for q in ("face_angle_deg", "club_path_deg", "face_to_path_deg")]
    face, path, gap = (setting.value if setting else math.nan for setting in found)
    together = (face**2 + path**2 - gap**2) / 2
    variance = (share * face) ** 2 + ((1 - share) * path) ** 2 + 2 * share * (1 - share) * together
    return None if math.isnan(variance) else math.sqrt(variance)
