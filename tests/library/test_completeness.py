"""The shipped library is whole: nothing a coach needs is missing from any card."""

import re

import pytest

from metrics.checkpoints import CHECKPOINTS
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.rules.quantities import info
from tests.library.shipped import documents, shipped_library

PATTERNS = {
    "over_draw", "push_block", "two_way_miss", "slice", "pull", "pull_hook", "face_scatter", "aims_slice_side",
    "aims_hook_side", "shoulders_vs_feet", "driver_steep", "sky_ball", "driver_low_top", "driver_over_up", "fat_iron",
    "thin_top_iron", "weak_high_iron", "steep_iron", "fairway_top", "heel_shank", "toe_strike", "low_smash",
    "under_speed", "carry_scatter", "high_spin_driver", "aid_dependent", "session_drift", "wedge_distance",
    "chip_contact", "bunker", "putt_start_bias", "putt_scatter_speed", "fit_flag",
}
LIBRARY = shipped_library()
every_pattern = pytest.mark.parametrize("pattern", LIBRARY.patterns.values(), ids=lambda p: p.slug)
every_drill = pytest.mark.parametrize("drill", LIBRARY.drills.values(), ids=lambda d: d.slug)


def numbered(data: object) -> list[dict]:
    """Return every object of the documents that carries a number of its own."""
    found = []
    if isinstance(data, dict):
        if any(isinstance(v, (int, float)) and not isinstance(v, bool) for k, v in data.items()):
            found.append(data)
        for value in data.values():
            found += numbered(value)
    elif isinstance(data, list):
        for value in data:
            found += numbered(value)
    return found


def test_all_patterns_and_at_least_51_drills_are_there():
    assert set(LIBRARY.patterns) == PATTERNS
    assert len(LIBRARY.drills) >= 51


@every_pattern
def test_a_pattern_has_a_mark_a_retest_an_over_correction_sign_a_caution_and_two_drills(pattern):
    assert pattern.mark and pattern.source and pattern.caution
    assert pattern.retest.text and pattern.over_correction.text
    assert len(pattern.drills) >= 2


@every_pattern
def test_a_pattern_names_only_quantities_and_checkpoints_that_exist(pattern):
    for condition in (c for r in pattern.routes for c in r.conditions):
        known = condition.quantity in FIELDS or condition.quantity in CHECKPOINTS
        assert known or info(condition.quantity).label != condition.quantity
    for check in pattern.checks:
        assert check.checkpoint in CHECKPOINTS or re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)+|fitter", check.checkpoint)


@every_pattern
def test_every_route_reaches_a_club_of_its_pattern(pattern):
    for route in pattern.routes:
        clubs = set(route.clubs or pattern.clubs) & set(pattern.clubs)
        triggers = [c for c in route.conditions if c.role == "trigger"]
        assert any(not c.clubs or set(c.clubs) & clubs for c in triggers)


@every_pattern
def test_every_measured_check_has_a_window_for_each_of_its_clubs(pattern):
    windows = {(w.club, w.checkpoint) for w in LIBRARY.windows}
    for check in pattern.checks:
        if check.checkpoint in CHECKPOINTS and check.window is None:
            clubs = set(check.clubs or pattern.clubs)
            missing = [club for club in clubs if (club, check.checkpoint) not in windows]
            # A tee height means nothing for a ball on the ground, nor a chest line for a pitch.
            assert not missing or (check.checkpoint, pattern.group) in {("shoulders_deg", "aim")}, missing


@every_drill
def test_a_drill_has_steps_dose_measure_pass_mark_caution_cue_and_ways_up_and_down(drill):
    assert len(drill.steps) >= 1 and all(step.endswith(".") for step in drill.steps)
    for text in (drill.dose, drill.measure, drill.pass_mark, drill.caution, drill.cue, drill.harder, drill.easier,
                 drill.why, drill.setup, drill.name):
        assert text.strip() and text.strip() != "—"
    assert drill.minutes > 0 and drill.places


@every_drill
def test_a_drill_serves_the_patterns_that_name_it_and_those_exist(drill):
    assert set(drill.patterns) <= set(LIBRARY.patterns) and drill.patterns
    named = {p.slug for p in LIBRARY.patterns.values() if drill.slug in p.drills}
    assert named <= set(drill.patterns)
    assert not named & set(drill.not_for)


def test_every_club_has_its_setup_windows():
    for club in CATEGORIES:
        have = {w.checkpoint for w in LIBRARY.windows if w.club == club}
        assert {"stance_width_ratio", "ball_position_cm", "feet_deg", "lead_weight_pct", "forward_bend_deg"} <= have


@pytest.mark.parametrize("name", sorted(set(documents()) - {"drills"}))
def test_every_number_stands_beside_a_mark_and_a_source(name):
    for row in numbered(documents()[name]):
        marked = {"mark", "source"} <= set(row)
        # Inside a marked condition or retest the counts belong to its mark.
        assert marked or set(row) <= {"key", "kind", "minimum_n", "hint_n", "ceiling", "clubs", "intents",
                                      "conditions", "comes_first"}, row


def test_no_window_is_given_twice_for_the_same_club_checkpoint_intent_and_lie():
    keys = [(w.club, w.checkpoint, w.intent, w.lie) for w in LIBRARY.windows]
    assert len(keys) == len(set(keys))


def test_no_text_calls_a_player_or_a_number_bad_nor_promises():
    text = str(documents()).lower()
    for word in (" bad ", "perfect swing", "guaranteed", "tour-like", "optimi"):
        assert word not in text


def test_only_the_two_sides_and_the_hand_are_placeholders():
    used = set(re.findall(r"\{(\w+)\}", "".join(map(str, documents().values()))))
    assert used <= {"slice_side", "hook_side", "hand"}


def test_every_body_area_a_student_can_report_has_its_caution():
    from academy.models import HealthFlag

    assert set(HealthFlag.Area.values) - {HealthFlag.Area.OTHER} <= set(LIBRARY.cautions)
