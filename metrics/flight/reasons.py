"""Why a number is refused or carries a warning: a stable code and a sentence a coach can read."""

REFUSALS: dict[str, str] = {
    "no_carry": "There is no carry for this ball.",
    "already_normalised": (
        "The device has already corrected this carry for the air; correcting it again would count the weather twice."
    ),
    "indoor": "Hit indoors: the device worked the carry out from the launch, so today's air is not in it.",
    "computed": (
        "The device worked this carry out from the launch, so today's air is not in it: nothing to correct."
    ),
    "no_provenance": "It is not known whether this carry was measured or worked out by the device; say which.",
    "not_a_full_flight": "This is not a full flight; the carry stands as it is.",
    "no_air": "Air temperature and the altitude or pressure of the venue are needed to compare carry across days.",
    "windy": "Windy, not comparable: above 10 mph (4.5 m/s) a corrected carry would be a guess.",
    "no_ball_speed": "Without ball speed the effect of the air cannot be worked out.",
    "no_launch_angle": "Without launch angle the effect of the air cannot be worked out.",
    "launch_low": "The ball started below 8°; for so low a flight the effect of the air is not reliable.",
    "carry_short": "Carry under 50 yd (46 m): the air changes so short a shot by less than can be told.",
    "no_flight": "These launch numbers do not make a flight; look at the speed, the launch angle and the spin.",
    "mixed_provenance": (
        "Some carries were measured, others worked out or corrected by the device; they are not averaged together."
    ),
    "too_few_balls": "Not enough balls yet with all the numbers this needs.",
    "different_reference": (
        "The two carries are stated for different reference conditions or by different versions of the model; "
        "work both out again first."
    ),
    "different_club": "Two different kinds of club are not compared.",
    "not_calm": "Only in calm air does the curve tell the spin axis; a side wind bends the flight as well.",
    "curve_too_large": "No spin axis gives so much curve from this launch; look at the side and the start direction.",
    "share_needs_face_to_path": "An own share needs at least 10 balls with face and path 1.5° or more apart.",
}

WARNINGS: dict[str, str] = {
    "estimated_spin": "Estimated spin: none was measured, so the usual spin of the club was taken and the ± doubled.",
    "outside_range": "Outside the launches the flight model was checked on; treat the correction with care.",
    "path_is_loose": "Path worked out from start and face is three to four times less exact than either of them.",
    "centred_only": "Only right for a centred strike: off centre, a wood's face turns the spin axis as well.",
    "inferred": "Worked out from other numbers, not measured.",
    "air_not_in_it": "The carries were worked out by the device, so the air has no part in the change.",
    "air_unknown": "The air of one of the days is not known; whatever it did is in the part not explained.",
    "thinned": "Worked out from an even choice of the balls, to keep the answer quick.",
}
