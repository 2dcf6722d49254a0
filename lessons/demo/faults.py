"""The faults of the demo's players, each with the setup behind it and the change that answers it."""

from .players import Fault, Swing

OVER_DRAW = Fault(
    pattern="over_draw", category="driver", club_name="Driver", intent="draw",
    now=Swing(club_path_deg=6.0, face_to_path_deg=-2.6, attack_angle_deg=-1.0, dynamic_loft_deg=14,
              club_speed_mps=42),
    goal=Swing(club_path_deg=3.0, face_to_path_deg=-1.3, attack_angle_deg=1.0, dynamic_loft_deg=14,
               club_speed_mps=42),
    setup_now={"feet_deg": 7, "shoulders_deg": 4, "ball_position_cm": 7, "stance_width_ratio": 0.80},
    setup_goal={"feet_deg": 3, "shoulders_deg": 1, "ball_position_cm": 2, "stance_width_ratio": 1.10},
    checkpoint="feet_deg", change="Feet from 7° closed to 3° closed", cue="toes on the railway line",
    stop_sign="The ball starts left and stays there",
    belief="I cut across it",
)
SLICE = Fault(
    pattern="slice", category="driver", club_name="Driver", intent="straight",
    now=Swing(club_path_deg=-5.2, face_to_path_deg=4.2, attack_angle_deg=-2.2, dynamic_loft_deg=16,
              club_speed_mps=40, heel_toe_mm=5),
    goal=Swing(club_path_deg=-0.5, face_to_path_deg=0.6, attack_angle_deg=0.5, dynamic_loft_deg=14.5,
               club_speed_mps=40.5),
    setup_now={"lead_knuckles": 1, "shoulders_deg": -6, "feet_deg": -4, "ball_position_cm": -3},
    setup_goal={"lead_knuckles": 2.5, "shoulders_deg": 0, "feet_deg": 0, "ball_position_cm": 1},
    checkpoint="lead_knuckles", change="Lead hand from 1 knuckle to 2½", cue="two knuckles and a half",
    stop_sign="Low hooks",
    belief="I come over the top",
)
PUSH = Fault(
    pattern="push_block", category="mid_iron", club_name="7 iron", intent="straight",
    now=Swing(club_path_deg=4.4, face_to_path_deg=0.2, attack_angle_deg=-3.2, dynamic_loft_deg=24,
              club_speed_mps=35),
    goal=Swing(club_path_deg=0.8, face_to_path_deg=-0.2, attack_angle_deg=-3.8, dynamic_loft_deg=23.5,
               club_speed_mps=35),
    setup_now={"feet_deg": 5, "ball_position_cm": 17, "lead_knuckles": 1.5, "stance_width_ratio": 0.95},
    setup_goal={"feet_deg": 0, "ball_position_cm": 12, "lead_knuckles": 2.5, "stance_width_ratio": 0.9},
    checkpoint="feet_deg", change="Feet from 5° closed to square", cue="rails beside the flag",
    stop_sign="Hooks that fall left",
    belief="I aim fine, I just miss",
)
PULL = Fault(
    pattern="pull", category="mid_iron", club_name="7 iron", intent="straight",
    now=Swing(club_path_deg=-4.0, face_to_path_deg=0.1, attack_angle_deg=-4.2, dynamic_loft_deg=23,
              club_speed_mps=36),
    goal=Swing(club_path_deg=-0.6, face_to_path_deg=0.2, attack_angle_deg=-3.8, dynamic_loft_deg=23.5,
               club_speed_mps=36),
    setup_now={"feet_deg": -6, "shoulders_deg": -5, "ball_position_cm": 6},
    setup_goal={"feet_deg": 0, "shoulders_deg": 0, "ball_position_cm": 11},
    checkpoint="feet_deg", change="Feet from 6° open to square", cue="stand beside the line, not across it",
    stop_sign="Pushes", belief="my right side is in the way",
)
AIMS_SLICE_SIDE = Fault(
    pattern="aims_slice_side", category="mid_iron", club_name="7 iron", intent="straight",
    now=Swing(club_path_deg=4.2, face_to_path_deg=-0.4, attack_angle_deg=-3.8, dynamic_loft_deg=23.5,
              club_speed_mps=34),
    goal=Swing(club_path_deg=0.4, face_to_path_deg=-0.2, attack_angle_deg=-3.8, dynamic_loft_deg=23.5,
               club_speed_mps=34),
    setup_now={"feet_deg": 7, "shoulders_deg": 5, "face_aim_deg": 3},
    setup_goal={"feet_deg": 0, "shoulders_deg": 0, "face_aim_deg": 0},
    checkpoint="feet_deg", change="Feet from 7° closed to square", cue="face first, feet second",
    stop_sign="Lines that open",
    belief="I aim fine, I just miss",
)
SHOULDERS = Fault(
    pattern="shoulders_vs_feet", category="driver", club_name="Driver", intent="straight",
    now=Swing(club_path_deg=-3.6, face_to_path_deg=1.8, attack_angle_deg=1.5, dynamic_loft_deg=14,
              club_speed_mps=41),
    goal=Swing(club_path_deg=0.2, face_to_path_deg=0.3, attack_angle_deg=1.5, dynamic_loft_deg=14,
               club_speed_mps=41),
    setup_now={"feet_deg": 0, "shoulders_deg": -7, "ball_position_cm": 0},
    setup_goal={"feet_deg": 0, "shoulders_deg": 0, "ball_position_cm": 1},
    checkpoint="shoulders_deg", change="Shoulders from 7° open to square", cue="shoulders ride the same rail",
    stop_sign="The whole body aims right",
    belief="no idea, it comes and goes",
)
SKY = Fault(
    pattern="sky_ball", category="driver", club_name="Driver", intent="straight",
    now=Swing(club_path_deg=1.0, face_to_path_deg=0.5, attack_angle_deg=-3.5, dynamic_loft_deg=18,
              club_speed_mps=38, high_low_mm=17, loss_rate=0.12),
    goal=Swing(club_path_deg=0.5, face_to_path_deg=0.3, attack_angle_deg=0.5, dynamic_loft_deg=15,
               club_speed_mps=38, high_low_mm=3, loss_rate=0.05),
    setup_now={"ball_position_cm": 8, "stance_width_ratio": 0.80, "tee_height_mm": 50},
    setup_goal={"ball_position_cm": 1, "stance_width_ratio": 1.1, "tee_height_mm": 40},
    checkpoint="ball_position_cm", change="Ball from 8 cm to 1 cm inside the lead heel", cue="ball off the lead heel",
    stop_sign="Topped or low-face shots",
    belief="I swing too fast",
)
TOPPED = Fault(
    pattern="thin_top_iron", category="mid_iron", club_name="7 iron", intent="straight",
    now=Swing(club_path_deg=-4.0, face_to_path_deg=3.0, attack_angle_deg=0.5, dynamic_loft_deg=27,
              club_speed_mps=27, high_low_mm=-14, loss_rate=0.55),
    goal=Swing(club_path_deg=-2.0, face_to_path_deg=1.5, attack_angle_deg=-2.5, dynamic_loft_deg=26,
               club_speed_mps=28, high_low_mm=-4, loss_rate=0.2),
    setup_now={"hand_thigh_cm": 22, "forward_bend_deg": 28, "grip_pressure": 8},
    setup_goal={"hand_thigh_cm": 13, "forward_bend_deg": 38, "grip_pressure": 4},
    checkpoint="hand_thigh_cm", change="Hands from 22 cm to 13 cm off the thigh", cue="brush the tee",
    stop_sign="Fat shots", belief="I look up",
)

COMMON = (OVER_DRAW, SLICE, PUSH, PULL, AIMS_SLICE_SIDE, SHOULDERS, SKY)
