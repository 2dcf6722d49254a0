"""The setup checkpoints: what can be looked at, in which unit, and what plus means.

Alignment is player-relative: + is closed (aimed to the slice side). Ball position counts from the
inside of the lead heel toward the trail foot; − is ahead of the heel.
"""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Checkpoint:
    """One thing to look at in the setup. ``step`` is one press of an arrow key on the setup board."""

    key: str
    label: str
    unit: str
    digits: int
    step: float
    lower: float
    upper: float
    plus_means: str = ""
    photo_error: float | None = None
    """Half-width of what a phone photo can tell, in the unit; None where a photo cannot show it."""


_ALL = (
    Checkpoint(key="face_aim_deg", label="Face aim", unit="°", digits=1, step=0.5, lower=-30, upper=30,
               plus_means="open", photo_error=3),
    Checkpoint(key="feet_deg", label="Feet line", unit="°", digits=0, step=1, lower=-45, upper=45,
               plus_means="closed", photo_error=3),
    Checkpoint(key="hips_deg", label="Hip line", unit="°", digits=0, step=1, lower=-45, upper=45,
               plus_means="closed", photo_error=3),
    Checkpoint(key="shoulders_deg", label="Shoulder line", unit="°", digits=0, step=1, lower=-45, upper=45,
               plus_means="closed", photo_error=3),
    Checkpoint(key="ball_position_cm", label="Ball position", unit="cm", digits=1, step=0.5, lower=-30,
               upper=60, plus_means="toward the trail foot", photo_error=1.5),
    Checkpoint(key="stance_width_ratio", label="Stance width", unit="× shoulder width", digits=2, step=0.05,
               lower=0, upper=2.5, plus_means="wider", photo_error=0.04),
    Checkpoint(key="hand_thigh_cm", label="Hands from thigh", unit="cm", digits=0, step=1, lower=0, upper=40,
               plus_means="further from the body"),
    Checkpoint(key="toe_ball_cm", label="Toes to ball", unit="cm", digits=0, step=1, lower=5, upper=120,
               plus_means="further from the ball", photo_error=2),
    Checkpoint(key="shoulder_tilt_deg", label="Shoulder tilt", unit="°", digits=0, step=1, lower=-20,
               upper=40, plus_means="trail shoulder lower", photo_error=3),
    Checkpoint(key="trunk_tilt_deg", label="Trunk away from target", unit="°", digits=0, step=1, lower=-20,
               upper=40, plus_means="away from the target", photo_error=3),
    Checkpoint(key="forward_bend_deg", label="Forward bend", unit="°", digits=0, step=1, lower=0, upper=90,
               plus_means="more bend", photo_error=3),
    Checkpoint(key="lead_weight_pct", label="Weight on lead foot", unit="%", digits=0, step=5, lower=0,
               upper=100, plus_means="more on the lead foot"),
    Checkpoint(key="weight_toe_heel", label="Weight toward toes", unit="", digits=0, step=1, lower=-1,
               upper=1, plus_means="toward the toes"),
    Checkpoint(key="lead_knuckles", label="Lead-hand knuckles seen", unit="", digits=1, step=0.5, lower=0,
               upper=4, plus_means="stronger"),
    Checkpoint(key="grip_pressure", label="Grip pressure", unit="of 10", digits=0, step=1, lower=1, upper=10,
               plus_means="tighter"),
    Checkpoint(key="handle_ahead_cm", label="Handle ahead of ball", unit="cm", digits=0, step=1, lower=-15,
               upper=25, plus_means="ahead", photo_error=1.5),
    Checkpoint(key="tee_height_mm", label="Tee height", unit="mm", digits=0, step=1, lower=0, upper=100,
               plus_means="higher"),
    Checkpoint(key="lead_flare_deg", label="Lead-foot flare", unit="°", digits=0, step=5, lower=-20,
               upper=90, plus_means="turned out", photo_error=3),
    Checkpoint(key="trail_flare_deg", label="Trail-foot flare", unit="°", digits=0, step=5, lower=-20,
               upper=90, plus_means="turned out", photo_error=3),
    Checkpoint(key="knee_flex_deg", label="Knee flex", unit="°", digits=0, step=5, lower=0, upper=90,
               plus_means="more flex", photo_error=3),
    Checkpoint(key="eyes_inside_cm", label="Eyes inside the ball line", unit="cm", digits=0, step=1,
               lower=-15, upper=30, plus_means="inside"),
)

CHECKPOINTS: dict[str, Checkpoint] = {checkpoint.key: checkpoint for checkpoint in _ALL}
"""Every checkpoint by its key, in the order of inspection."""

DEFAULT_SHOULDER_WIDTH_CM = 39.0
"""Adult shoulder width used, and said to be used, until the player's own is known. Common practice."""
BALL_WIDTH_CM = 4.267
"""One ball: Rules of Golf, Equipment Rules Part 4 (diameter not less than 42.67 mm)."""
