"""Numbers that a ball can have and seldom has: asked about beside the ball, never refused. No query anywhere here.

The limits are common practice for full swings of players of every level, no source. They are wide on purpose: a
question that is asked for every tenth ball is not read.
"""

from lessons.models import Block, Shot
from lessons.models.shot import Contact
from metrics import units
from metrics.fields import FIELDS
from metrics.rules.words import unit_suffix

USUAL_CARRY_M = {
    "driver": (70.0, 320.0), "fairway": (60.0, 270.0), "hybrid_long_iron": (55.0, 240.0), "mid_iron": (45.0, 205.0),
    "short_iron": (35.0, 175.0), "wedge_full": (20.0, 150.0), "pitch": (3.0, 90.0), "chip": (1.0, 40.0),
    "sand": (1.0, 60.0),
}
USUAL = {
    "club_path_deg": (-20.0, 20.0), "face_angle_deg": (-20.0, 20.0), "attack_angle_deg": (-15.0, 15.0),
    "smash_factor": (0.8, 1.55),
}


def doubt_about(shot: Shot, *, block: Block, system: str) -> str:
    """Return one question about the first unusual number of a ball, in the reader's units; empty where nothing is.

    A contact that was called explains what a number does, so it is not asked about.
    """
    if shot.contact not in ("", Contact.CLEAN):
        return ""
    usual = {"carry_m": USUAL_CARRY_M[block.category]} if block.category in USUAL_CARRY_M else {}
    for key, (low, high) in {**usual, **USUAL}.items():
        value = getattr(shot, key)
        if value is not None and not low <= value <= high:
            return _question(key, value, (low, high), block=block, system=system)
    return ""


def _question(key: str, value: float, limits: tuple[float, float], *, block: Block, system: str) -> str:
    shown = [units.display(field_key=key, value=each, system=system)[0] for each in (value, *limits)]
    unit = unit_suffix(units.display_unit(field_key=key, system=system))
    said, low, high = (f"{abs(each) if key in USUAL else each:.3g}{unit}" for each in shown)
    usual = f"below {high}" if key in USUAL and limits[0] < 0 else f"{low} to {high}"
    return f"{FIELDS[key].label} {said} is unusual with {block.club_name}; {usual} is usual. Is it right?"
