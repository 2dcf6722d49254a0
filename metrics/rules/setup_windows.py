"""Where a number or a checkpoint is wanted for this player, club and intent."""

from metrics.checkpoints import BALL_WIDTH_CM, CHECKPOINTS, DEFAULT_SHOULDER_WIDTH_CM
from metrics.rules.limits import Window, intent_window
from metrics.rules.records import Library, SetupWindow
from metrics.rules.types import BlockEvidence


def wanted_window(quantity: str, *, evidence: BlockEvidence, library: Library) -> Window | None:
    """Return the setup window of a checkpoint or the intent window of path or face to path, or None."""
    if quantity in CHECKPOINTS:
        return window_of(quantity, evidence=evidence, library=library)
    return intent_window(quantity, evidence=evidence)


def window_of(checkpoint: str, *, evidence: BlockEvidence, library: Library) -> Window | None:
    """Return the window of a checkpoint for club, intent and lie, in the checkpoint's unit, or None.

    The window for the intent wins over the general one, then the one for the lie; a player's
    override was layered on before (``metrics.rules.overrides``).
    """
    lie = "tee" if evidence.on_tee else "turf"
    fits = [w for w in library.windows
            if w.club == evidence.club_category and w.checkpoint == checkpoint
            and w.intent in ("", evidence.intent) and w.lie in ("", lie)]
    if not fits:
        return None
    best = max(fits, key=lambda w: (bool(w.intent), bool(w.lie)))
    return _in_cm_from_heel(best, evidence, library) if best.basis == "centre_widths" else (best.low, best.high)


def _in_cm_from_heel(window: SetupWindow, evidence: BlockEvidence, library: Library) -> Window:
    """Ball widths from the middle of the stance -> cm from the lead heel, for this player's stance."""
    ratio = evidence.setup.get("stance_width_ratio")
    if ratio is None:
        stance = window_of("stance_width_ratio", evidence=evidence, library=library)
        ratio = sum(stance) / 2 if stance else 1.0
    centre = ratio * DEFAULT_SHOULDER_WIDTH_CM / 2
    return centre + window.low * BALL_WIDTH_CM, centre + window.high * BALL_WIDTH_CM
