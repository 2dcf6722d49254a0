"""One row for every number this package computes, for the Method page."""

from metrics.method import Method

METHODS: tuple[Method, ...] = (
    Method(
        key="air_density", label="Air density", unit="kg/m³",
        formula="ρ = p Mₐ / (Z R T) · (1 − xᵥ (1 − Mᵥ/Mₐ))",
        valid_range="−5..40 °C, 700..1040 hPa, 0..100 % (within 0.1 %)",
        source="CIPM-2007: Picard et al. 2008, Metrologia 45, 149-155; checked against CoolProp",
        mark="memory", function="metrics.flight.air.density_kg_m3",
    ),
    Method(
        key="air_pressure", label="Pressure at the venue", unit="hPa",
        formula="station pressure, or 1013.25 (1 − 0.0065 H / 288.15)^5.2559, scaled by a sea-level reading",
        valid_range="−430..4500 m", source="U.S. Standard Atmosphere 1976, handbook table", mark="source",
        function="metrics.flight.air.station_pressure_hpa",
    ),
    Method(
        key="air_viscosity", label="Viscosity of air", unit="Pa s",
        formula="1.458e-6 T^1.5 / (T + 110.4)", valid_range="−20..50 °C",
        source="U.S. Standard Atmosphere 1976 (Sutherland)", mark="second-hand",
        function="metrics.flight.air.dynamic_viscosity_pa_s",
    ),
    Method(
        key="drag_and_lift", label="Drag and lift of the model ball", unit="",
        formula="CD = 0.2028 − 0.2159 s + 2.8466 s² + 0.0165 R; CL = 0.0860 + 0.6463 s + 1.4789 s² − 0.0122 / R²",
        valid_range="spin ratio 0.044..0.218, Reynolds number 0.8e5..2e5; held or extended beyond",
        source="US patent 6,186,002, measured by a governing body on its own range; beyond it Bearman & Harvey 1976",
        mark="second-hand", function="metrics.flight.coefficients.drag_and_lift",
    ),
    Method(
        key="flight", label="Modelled flight: carry, side, apex, landing angle, time", unit="m, °, s",
        formula="a = −k CD |u| u + k CL |u| (axis × u) − g; Runge-Kutta, steps 0.04 to 0.2 s, cubic landing, no roll",
        valid_range="ball speed 18..85 m/s, launch 8..50°, spin 1000..12000 rpm; ±6 % to ±11 % of carry",
        source="equations of motion; spread of six published ball models", mark="computed",
        function="metrics.flight.trajectory.fly",
    ),
    Method(
        key="flight_picture", label="Modelled flight, drawn", unit="m",
        formula="the same flight at 41 points equally spaced in time", valid_range="as the modelled flight",
        source="equations of motion", mark="computed", function="metrics.flight.trajectory.trace",
    ),
    Method(
        key="carry_at_reference", label="Carry at the reference condition", unit="m",
        formula="measured carry + [model(20 °C, 1013.25 hPa, still) − model(the day's air)], same launch",
        valid_range="measured outdoors, launch from 8°, carry from 50 yd, wind up to 10 mph",
        source="difference method, tested with ten ball models: 2.2 yd left of 10.8 yd", mark="computed",
        function="metrics.flight.normalise.normalise",
    ),
    Method(
        key="correction_model_error", label="Model error of the correction", unit="m",
        formula="max(0.5 yd, f |D|), f 0.40 woods (wind 0.25), 0.30 hybrids, 0.20 irons, 0.15 wedges",
        valid_range="as the carry at the reference condition", source="spread of six published ball models",
        mark="computed", function="metrics.flight.errors.model_error_m",
    ),
    Method(
        key="correction_input_error", label="Weather's part of the error", unit="m",
        formula="√((1 °C · a)² + (5 hPa · b)² + (1 m/s · c)²), the wind only where there is one",
        valid_range="as the carry at the reference condition",
        source="sensitivities computed with the flight model; accuracy of the weather is common practice",
        mark="computed", function="metrics.flight.errors.input_error_m",
    ),
    Method(
        key="block_carry_at_reference", label="Mean carry of a block at the reference condition", unit="m",
        formula="mean over the balls; ± √(s²/n + common error²)",
        valid_range="one club, one provenance", source="standard error of a mean", mark="computed",
        function="metrics.flight.visit.block_at_reference",
    ),
    Method(
        key="carry_of_visits", label="Mean carry of several visits at the reference condition", unit="m",
        formula="mean of the blocks’ means; √Σ e²/J for balls and weather, the model’s error averaged",
        valid_range="same club, same reference condition, same model version", source="error propagation",
        mark="computed", function="metrics.flight.visits.mean_of_blocks",
    ),
    Method(
        key="carry_change", label="Change of carry between two visits", unit="m",
        formula="difference of the means; ± √(e₁² + e₂² + (f |D₂ − D₁|)² + weather²)",
        valid_range="same club, same reference condition, same model version",
        source="the model's error is common to all balls of a visit", mark="computed",
        function="metrics.flight.visit.compare_blocks",
    ),
    Method(
        key="spin_loft", label="Spin loft", unit="°",
        formula="angle between the direction of the head and the normal of the face", valid_range="0..90°",
        source="geometry", mark="computed", function="metrics.flight.impact.spin_loft_deg",
    ),
    Method(
        key="d_plane", label="Start direction and spin axis of a centred strike", unit="°",
        formula="axis = head × normal; the start lies in their plane, at the face's share of the way",
        valid_range="centred strikes", source="geometry; shares of Wood et al. 2018", mark="second-hand",
        function="metrics.flight.impact.d_plane",
    ),
    Method(
        key="strike_estimate", label="Ball speed, launch and spin from club data (estimate)", unit="m/s, °, rpm",
        formula="vₙ = u cos σ (1 + e)/(1 + m/M), vₜ = u sin σ/(1 + m/M + 2.5), spin = vₜ/(0.4 r)",
        valid_range="centred strikes; ball speed ±3..5 %, spin ±20 % or worse",
        source="momentum and restitution; Penner 2001", mark="second-hand", function="metrics.flight.impact.strike",
    ),
    Method(
        key="centre_strike_hint", label="Axis not explained by face and path", unit="°",
        formula="measured axis − D-plane axis", valid_range="face, path, loft and axis all measured",
        source="gear effect of off-centre strikes", mark="common practice",
        function="metrics.flight.impact.centre_strike_hint_deg",
    ),
    Method(
        key="smash_doubtful", label="Smash factor to look at", unit="",
        formula="ball speed / club speed outside 0.60..1.53", valid_range="all clubs",
        source="momentum and the restitution limit; the lower limit is common practice", mark="computed",
        function="metrics.flight.impact.smash_is_doubtful",
    ),
    Method(
        key="start_expected", label="Start direction from face and path", unit="°",
        formula="k face + (1 − k) path; k 0.76 driver, 0.69 mid iron, 0.61 wedge", valid_range="full flights",
        source="Wood, Henrikson & Broadie 2018, Proceedings 2(6):249", mark="second-hand",
        function="metrics.flight.infer.start_from_face_and_path",
    ),
    Method(
        key="face_inferred", label="Face angle (inferred)", unit="°",
        formula="(start − (1 − k) path)/k; u² = (uₛ/k)² + ((1−k)uₚ/k)² + (uₖ(start−path)/k²)²",
        valid_range="full flights; about ±0.8° driver, ±1.05° wedge",
        source="Wood, Henrikson & Broadie 2018; error propagation", mark="second-hand",
        function="metrics.flight.infer.face_from_start_and_path",
    ),
    Method(
        key="path_inferred", label="Club path (inferred, loose)", unit="°",
        formula="(start − k face)/(1 − k)", valid_range="full flights; three to four times the error of the inputs",
        source="Wood, Henrikson & Broadie 2018; error propagation", mark="second-hand",
        function="metrics.flight.infer.path_from_start_and_face",
    ),
    Method(
        key="face_path_from_ball", label="Face and path from the ball alone (inferred)", unit="°",
        formula="δ = atan(tan axis · tan spin loft); face = start + (1−k)δ; path = start − kδ",
        valid_range="centred strikes, assumed spin loft", source="D-plane geometry; shares of Wood et al. 2018",
        mark="second-hand", function="metrics.flight.infer.face_and_path_from_ball",
    ),
    Method(
        key="own_face_share", label="Player's own face share", unit="",
        formula="Σ(start−path)(face−path) / Σ(face−path)²",
        valid_range="at least 10 balls with |face − path| ≥ 1.5°", source="filter of Wood et al. 2018",
        mark="second-hand", function="metrics.flight.infer.own_face_share",
    ),
    Method(
        key="axis_from_curve", label="Spin axis from the curve (inferred)", unit="°",
        formula="the tilt at which the modelled flight curves as measured", valid_range="calm air, up to 60°",
        source="computed with the flight model; lift differs by 10 to 15 % between balls", mark="computed",
        function="metrics.flight.axis.axis_from_curve",
    ),
    Method(
        key="curve", label="Curve", unit="m", formula="side cos(start) − √(carry² − side²) sin(start)",
        valid_range="carry not below side", source="geometry", mark="computed",
        function="metrics.flight.shape.curve_from_side_m",
    ),
    Method(
        key="shape", label="Shot shape", unit="",
        formula="start beyond 1.5°: push or pull; curve beyond 2 % of carry: draw or fade, beyond 7 %: hook or slice",
        valid_range="start known; curve measured or from the axis", source="usual limits, configurable",
        mark="common practice", function="metrics.flight.shape.shape_of",
    ),
    Method(
        key="where_yards_came_from", label="Where the yards came from", unit="m",
        formula="Shapley parts of the modelled change over speed, strike, launch with spin, air; rest not explained",
        valid_range="8 balls or more in each block with all numbers",
        source="average over all orders; interval by resampling balls", mark="computed",
        function="metrics.flight.yards.where_the_yards_came_from",
    ),
    Method(
        key="what_if", label="What if (estimate)", unit="m, °",
        formula="measured launch + change of the strike model, flown", valid_range="small changes of delivery",
        source="strike model and flight model", mark="computed", function="metrics.flight.whatif.what_if",
    ),
)
"""Every computed number of ball flight and impact; tests resolve each function."""
