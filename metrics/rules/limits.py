"""What is wanted of a number (the intent window), and how much it usually varies at a level."""

from metrics.rules.types import BlockEvidence

WOODS = frozenset({"driver", "fairway", "hybrid_long_iron"})
Window = tuple[float, float]
_STRAIGHT: dict[str, Window] = {"club_path_deg": (-1.5, 1.5), "face_to_path_deg": (-1.0, 1.0)}
_DRAW_WOODS: dict[str, Window] = {"club_path_deg": (2.0, 4.0), "face_to_path_deg": (-2.0, -0.7)}
_DRAW_IRONS: dict[str, Window] = {"club_path_deg": (1.0, 3.0), "face_to_path_deg": (-2.0, -0.6)}
_PRIORS: dict[str, dict[str, float]] = {}


def intent_window(quantity: str, evidence: BlockEvidence) -> Window | None:
    """Return the window of path or face to path for this club and intent, player-relative, or None."""
    if evidence.intent == "straight":
        return _STRAIGHT.get(quantity)
    draw = _DRAW_WOODS if evidence.club_category in WOODS else _DRAW_IRONS
    window = draw.get(quantity)
    if window is None or evidence.intent == "draw":
        return window
    return -window[1], -window[0]


def sd_prior_of(quantity: str, evidence: BlockEvidence) -> float | None:
    """Return the usual shot-to-shot SD at the player's level, or None where level or quantity is unknown."""
    return _PRIORS.get(evidence.level or "", {}).get(quantity)
