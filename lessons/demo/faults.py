"""The faults of the demo's players, each with the setup behind it, the change that answers it, and how it is felt.

Values are of a typical adult; a person's own are drawn around them. The speed is the person's, so none stands here.
"""

from dataclasses import dataclass, field


@dataclass(frozen=True, kw_only=True)
class Swing:
    """What one player does with one kind of club, on average. ``loss_rate`` is the share of mishits."""

    path: float
    face_to_path: float
    attack: float
    loft: float
    heel_toe_mm: float = 0.0
    high_low_mm: float = 0.0
    loss_rate: float = 0.04

    def toward(self, goal: "Swing", share: float) -> "Swing":
        """Return the swing at a share of the way; beyond 1 it goes out at the far side."""
        return Swing(**{
            name: getattr(self, name) + share * (getattr(goal, name) - getattr(self, name))
            for name in Swing.__dataclass_fields__
        })


@dataclass(frozen=True, kw_only=True)
class Fault:
    """A pattern as a player shows it. ``setup`` maps a checkpoint to where it is and where it should be; the first
    one is the one change."""

    pattern: str
    club: str
    now: Swing
    goal: Swing
    setup: dict[str, tuple[float, float]]
    cues: tuple[str, ...]
    stop_sign: str
    beliefs: tuple[str, ...]
    aids: tuple[str, ...] = ("sticks",)
    intent: str = "straight"
    goals: tuple[str, ...] = field(default=("Start the ball on the chosen side",))

    @property
    def checkpoint(self) -> str:
        return next(iter(self.setup))


OVER_DRAW = Fault(
    pattern="over_draw", club="driver", intent="draw",
    now=Swing(path=6.4, face_to_path=-2.6, attack=-1.0, loft=13.5),
    goal=Swing(path=3.0, face_to_path=-1.3, attack=1.0, loft=13.5),
    setup={"feet_deg": (7, 3), "shoulders_deg": (4, 1), "ball_position_cm": (7, 2)},
    cues=("toes on the railway line", "lead pocket behind the rope", "both feet see the same flag"),
    stop_sign="The ball starts {hook_side} and stays there", beliefs=("I cut across it", "My hands are too quick"),
    goals=("Turn the hook back into a draw", "Drives that end on the fairway"),
)
ONE_DEGREE = Fault(
    pattern="over_draw", club="driver", intent="draw",
    now=Swing(path=3.2, face_to_path=-1.5, attack=1.2, loft=12.5),
    goal=Swing(path=1.8, face_to_path=-0.8, attack=1.4, loft=12.5),
    setup={"feet_deg": (5, 3), "shoulders_deg": (2, 1), "ball_position_cm": (3, 1)},
    cues=("belt points at the mower line",), stop_sign="A straight ball that fades in the wind",
    beliefs=("The hook comes when I need a fairway",), goals=("A draw of five paces, not of ten",),
)
SLICE = Fault(
    pattern="slice", club="driver",
    now=Swing(path=-5.2, face_to_path=4.2, attack=-2.2, loft=15.5, heel_toe_mm=5),
    goal=Swing(path=-0.5, face_to_path=0.6, attack=0.5, loft=14),
    setup={"lead_knuckles": (1, 2.5), "shoulders_deg": (-6, 0), "ball_position_cm": (-3, 1)},
    cues=("two knuckles and a half", "watch face to the sky", "hold it like a broom"), stop_sign="Low hooks",
    beliefs=("I come over the top", "I need a new driver", "I lift my head"), aids=("feel", "mirror"),
    goals=("Keep the driver in play", "Lose the big curve"),
)
SHOULDERS = Fault(
    pattern="shoulders_vs_feet", club="driver",
    now=Swing(path=-3.9, face_to_path=1.8, attack=1.2, loft=13.5),
    goal=Swing(path=0.2, face_to_path=0.3, attack=1.2, loft=13.5),
    setup={"shoulders_deg": (-7, 0), "feet_deg": (0, 0), "ball_position_cm": (0, 1)},
    cues=("shoulders ride the same rail", "trail shoulder lower, not further out", "club across the chest, then go"),
    stop_sign="The whole body aims to the {slice_side}", beliefs=("No idea, it comes and goes", "My tempo is off"),
    goals=("Stand to the ball the same way each time",), aids=("sticks", "mirror"),
)
SKY = Fault(
    pattern="sky_ball", club="driver",
    now=Swing(path=1.0, face_to_path=0.5, attack=-4.0, loft=17, high_low_mm=17, loss_rate=0.10),
    goal=Swing(path=0.5, face_to_path=0.3, attack=1.0, loft=14, high_low_mm=3, loss_rate=0.04),
    setup={"ball_position_cm": (8, 1), "stance_width_ratio": (0.80, 1.1), "tee_height_mm": (50, 40)},
    cues=("ball off the lead heel", "sweep the dew", "tee stays standing"), stop_sign="Topped or low-face shots",
    beliefs=("I swing too fast", "I tee it too high"), goals=("No more drives straight up",), aids=("line",),
)
STEEP_DRIVER = Fault(
    pattern="driver_steep", club="driver",
    now=Swing(path=-1.5, face_to_path=1.0, attack=-4.8, loft=13, high_low_mm=-6),
    goal=Swing(path=-0.2, face_to_path=0.4, attack=1.5, loft=14),
    setup={"ball_position_cm": (7, 1), "lead_weight_pct": (60, 48), "shoulder_tilt_deg": (2, 10)},
    cues=("zip behind the ball", "brush it off the tee", "feel the trail foot longer"), stop_sign="Hanging back",
    beliefs=("I hit down like the pros", "The loft is wrong"), goals=("Hit the driver on the way up",),
    aids=("towel",),
)
PUSH = Fault(
    pattern="push_block", club="mid_iron",
    now=Swing(path=4.6, face_to_path=0.2, attack=-3.2, loft=25),
    goal=Swing(path=0.8, face_to_path=-0.2, attack=-3.8, loft=24.5),
    setup={"feet_deg": (6, 0), "ball_position_cm": (17, 12), "lead_knuckles": (1.5, 2.5)},
    cues=("rails beside the flag", "belt buckle to the target", "stand beside where you look"),
    stop_sign="Hooks that fall {hook_side}", beliefs=("I aim fine, I just miss", "I slide"),
    goals=("Aim the face before the feet", "Start irons at the flag"),
)
PULL = Fault(
    pattern="pull", club="mid_iron",
    now=Swing(path=-4.6, face_to_path=0.1, attack=-4.6, loft=23.5),
    goal=Swing(path=-0.6, face_to_path=0.2, attack=-3.8, loft=24.5),
    setup={"feet_deg": (-6, 0), "shoulders_deg": (-5, 0), "ball_position_cm": (6, 11)},
    cues=("stand beside the line, not across it", "trail foot back a shoe", "close the gate"), stop_sign="Pushes",
    beliefs=("My back side is in the way", "I am too early with the arms"), goals=("Pitch it on the right line",),
)
AIMS_SLICE_SIDE = Fault(
    pattern="aims_slice_side", club="mid_iron",
    now=Swing(path=4.3, face_to_path=-0.4, attack=-3.8, loft=24.5),
    goal=Swing(path=0.4, face_to_path=-0.2, attack=-3.8, loft=24.5),
    setup={"feet_deg": (7, 0), "shoulders_deg": (5, 0), "face_aim_deg": (3, 0)},
    cues=("face first, feet second", "two lines that never meet", "leaf in front of the ball"),
    stop_sign="Lines that open",
    beliefs=("I aim fine, I just miss", "The range points that way"), goals=("Aim the face before the feet",),
    aids=("sticks", "line"),
)
FAT = Fault(
    pattern="fat_iron", club="short_iron",
    now=Swing(path=-3.1, face_to_path=0.8, attack=-1.2, loft=33, high_low_mm=-4, loss_rate=0.32),
    goal=Swing(path=-0.4, face_to_path=0.2, attack=-4.2, loft=30, loss_rate=0.06),
    setup={"lead_weight_pct": (42, 54), "ball_position_cm": (20, 14), "handle_ahead_cm": (-1, 3)},
    cues=("chest over the lead knee", "grass after the ball", "zip over the lead foot"), stop_sign="Thin ones",
    beliefs=("I dip", "I look up too late"), goals=("Brush the ground after the ball",), aids=("towel", "line"),
)
WEAK = Fault(
    pattern="weak_high_iron", club="mid_iron",
    now=Swing(path=-3.4, face_to_path=1.9, attack=-0.2, loft=31, high_low_mm=-5),
    goal=Swing(path=-0.3, face_to_path=0.4, attack=-3.6, loft=25),
    setup={"handle_ahead_cm": (-2, 3), "ball_position_cm": (6, 11), "lead_weight_pct": (44, 53)},
    cues=("shaft leans to the flag", "hands win the race", "low and long"), stop_sign="Low, digging shots",
    beliefs=("I help it up", "I am too weak for a seven iron"), goals=("A flatter, longer iron",), aids=("feel",),
)
STEEP_IRON = Fault(
    pattern="steep_iron", club="short_iron",
    now=Swing(path=-2.8, face_to_path=0.4, attack=-8.6, loft=26),
    goal=Swing(path=-0.8, face_to_path=0.2, attack=-4.6, loft=29),
    setup={"ball_position_cm": (21, 14), "lead_weight_pct": (64, 53), "shoulders_deg": (-4, 0)},
    cues=("thin slices, not steaks", "shallow like a skimming stone", "stay tall through it"),
    stop_sign="Thin ones", beliefs=("I take a divot like I should",), goals=("Shallow divots, all the same depth",),
    aids=("towel",),
)
TOE = Fault(
    pattern="toe_strike", club="mid_iron",
    now=Swing(path=0.8, face_to_path=-0.8, attack=-3.6, loft=24.5, heel_toe_mm=-16),
    goal=Swing(path=0.4, face_to_path=-0.3, attack=-3.8, loft=24.5, heel_toe_mm=-2),
    setup={"hand_thigh_cm": (21, 13), "weight_toe_heel": (-1, 0), "forward_bend_deg": (30, 38)},
    cues=("laces under the hands", "stay in the posture to the finish"), stop_sign="Heel strikes",
    beliefs=("My irons are dead", "I pull my arms in"), goals=("Find the middle of the face",), aids=("barrier",),
)
HOOKING_WOOD = Fault(
    pattern="over_draw", club="fairway", intent="draw",
    now=Swing(path=6.2, face_to_path=-2.4, attack=-2.0, loft=17.5),
    goal=Swing(path=2.9, face_to_path=-1.2, attack=-2.2, loft=17.5),
    setup={"feet_deg": (6, 3), "ball_position_cm": (11, 6), "shoulders_deg": (4, 1)},
    cues=("toes along the fence", "swing down the street"), stop_sign="Weak fades",
    beliefs=("The ground makes it hook", "I roll my wrists"), goals=("A wood off the turf that I trust",),
)
SLICED_HYBRID = Fault(
    pattern="slice", club="hybrid_long_iron",
    now=Swing(path=-5.0, face_to_path=3.6, attack=-3.4, loft=22.5, heel_toe_mm=4),
    goal=Swing(path=-0.8, face_to_path=0.5, attack=-2.6, loft=21.5),
    setup={"lead_knuckles": (1, 2.5), "feet_deg": (-5, 0), "shoulders_deg": (-5, 0)},
    cues=("thumb a little off the centre", "shake hands with it"), stop_sign="Low pulls",
    beliefs=("I hang back", "The hybrid is too light"), goals=("The hybrid finds the green",), aids=("feel",),
)
PULLED_WEDGE = Fault(
    pattern="pull", club="wedge_full",
    now=Swing(path=-4.4, face_to_path=0.0, attack=-5.6, loft=37),
    goal=Swing(path=-0.6, face_to_path=0.1, attack=-4.6, loft=36),
    setup={"shoulders_deg": (-6, -1), "feet_deg": (-9, -2), "ball_position_cm": (8, 13)},
    cues=("chest at the flag", "narrow and square"), stop_sign="Pushed wedges",
    beliefs=("Wedges always go to one side", "The lie is too upright"), goals=("Wedges inside five paces",),
)
TOPPED = Fault(
    pattern="thin_top_iron", club="mid_iron",
    now=Swing(path=-4.0, face_to_path=3.0, attack=0.5, loft=27, high_low_mm=-14, loss_rate=0.55),
    goal=Swing(path=-2.0, face_to_path=1.5, attack=-2.5, loft=26, high_low_mm=-4, loss_rate=0.16),
    setup={"hand_thigh_cm": (22, 13), "forward_bend_deg": (28, 38), "grip_pressure": (8, 4)},
    cues=("brush the tee", "sweep the crumbs off the table"), stop_sign="Fat shots",
    beliefs=("I look up", "I am not made for this"), goals=("Brush the tee eight times of ten",), aids=("helper",),
)

COMMON = (
    OVER_DRAW, SLICE, SHOULDERS, SKY, STEEP_DRIVER, PUSH, PULL, AIMS_SLICE_SIDE, FAT, WEAK, STEEP_IRON, TOE,
    HOOKING_WOOD, SLICED_HYBRID, PULLED_WEDGE,
)
"""What most people have; beginners top it."""

NEUTRAL: dict[str, Swing] = {
    "driver": Swing(path=0.2, face_to_path=0.4, attack=0.4, loft=14),
    "fairway": Swing(path=0.2, face_to_path=0.3, attack=-2.2, loft=17.5),
    "hybrid_long_iron": Swing(path=0.0, face_to_path=0.3, attack=-2.8, loft=21),
    "mid_iron": Swing(path=-0.2, face_to_path=0.2, attack=-3.6, loft=25),
    "short_iron": Swing(path=-0.3, face_to_path=0.2, attack=-4.2, loft=30),
    "wedge_full": Swing(path=-0.4, face_to_path=0.1, attack=-4.6, loft=36),
}
"""A swing with a club that nobody works on."""

CLUBS: dict[str, tuple[str, float, float, float]] = {
    "driver": ("Driver", 1.0, 10.5, 114.5), "fairway": ("5 wood", 0.935, 18.0, 107.0),
    "hybrid_long_iron": ("4 hybrid", 0.895, 22.0, 101.0), "mid_iron": ("7 iron", 0.80, 31.0, 94.0),
    "short_iron": ("9 iron", 0.765, 40.0, 91.5), "wedge_full": ("Pitching wedge", 0.74, 45.0, 90.5),
}
"""Kind -> name, share of the driver's club speed, loft [°], length [cm]."""
