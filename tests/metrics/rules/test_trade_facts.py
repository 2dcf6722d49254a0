"""What every teacher knows must come out of the rules. Common practice, no source."""

import pytest

from metrics.rules.types import BallCall, BlockEvidence
from metrics.setup_geometry import ball_width_effect
from tests.library.shipped import shipped_library

from .cases import assess, column, contacts, finding

LIBRARY = shipped_library()


def windows(checkpoint: str, club: str) -> list[tuple[float, float]]:
    return [(w.low, w.high) for w in LIBRARY.windows if (w.checkpoint, w.club) == (checkpoint, club) and not w.intent]


def test_the_driver_is_played_opposite_the_lead_heel():
    low, high = windows("ball_position_cm", "driver")[0]
    assert low <= 0 <= high <= 4.27


def test_the_shorter_the_club_the_narrower_the_stance_and_the_further_back_the_ball():
    full = ["driver", "hybrid_long_iron", "mid_iron", "short_iron"]
    widths = [windows("stance_width_ratio", club)[0] for club in full]
    balls = [windows("ball_position_cm", club)[0] for club in full]
    assert widths == sorted(widths, reverse=True) and balls == sorted(balls)


def test_a_narrow_stance_goes_with_less_speed():
    rows = [e for e in LIBRARY.effects if (e.checkpoint, e.quantity) == ("stance_width_ratio", "club_speed_mps")]
    assert rows and all(row.step > 0 and row.low >= 0 < row.high for row in rows)
    slow = assess({"club_speed_mps": column(36, 0.6, 10)}, own_medians={"club_speed_mps": 40}, effort_full=True,
                  setup={"stance_width_ratio": 0.85})
    assert finding(slow, "under_speed").checks[0].checkpoint == "stance_width_ratio"


def test_a_ball_too_far_back_goes_with_a_path_further_out():
    assert all(ball_width_effect(club_category=club).path_deg > 0 for club in ("driver", "mid_iron", "wedge_full"))


def test_a_ball_too_far_back_is_the_first_thing_to_look_at_for_pop_ups():
    answer = assess(calls=contacts(sky=3, clean=7), setup={"ball_position_cm": 8})
    assert finding(answer, "sky_ball").checks[0].checkpoint == "ball_position_cm"


def test_moving_the_ball_forward_always_asks_for_the_shoulders_next():
    for pattern in LIBRARY.patterns.values():
        for check in pattern.checks:
            full_swing = set(pattern.clubs) - {"pitch", "chip", "sand", "putter"}
            if check.checkpoint == "ball_position_cm" and full_swing:
                assert check.then_check == "shoulders_deg", pattern.slug


@pytest.mark.parametrize("intent, path", [("draw", 3.0), ("fade", -3.0)])
def test_a_player_who_wants_a_shape_is_not_corrected_to_zero(intent, path):
    sign = 1 if path > 0 else -1
    answer = assess({"club_path_deg": column(path, 1.2, 12), "face_to_path_deg": column(-sign * 1.2, 1, 12)},
                    intent=intent)
    assert answer.findings == () and f"window for a {intent}" in answer.in_window
    assert assess({"club_path_deg": column(path * 2.4, 1.2, 12), "face_to_path_deg": column(-sign * 4, 1, 12)},
                  intent=intent).findings[0].own_goal.endswith("not 0.")


def test_full_effort_must_be_stated_before_anybody_is_called_slow():
    shots = {"club_speed_mps": column(36, 0.6, 10)}
    unknown = assess(shots, own_medians={"club_speed_mps": 40})
    assert unknown.findings == ()


def test_a_lost_lesson_in_the_sand_is_found_by_counting_balls_out():
    calls = (BallCall(done=False),) * 6 + (BallCall(done=True),) * 4
    answer = assess(club_category="sand", calls=calls)
    assert finding(answer, "bunker").checks


def test_a_drill_that_feeds_the_fault_is_never_offered():
    for pattern in LIBRARY.patterns.values():
        for slug in pattern.drills:
            assert pattern.slug not in LIBRARY.drills[slug].not_for
    assert "over_draw" in LIBRARY.drills["trail-foot-back"].not_for


def test_evidence_needs_only_a_club():
    assert BlockEvidence(club_category="driver").count == 0
    assert assess().findings == ()
