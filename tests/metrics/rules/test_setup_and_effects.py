"""Checks, windows, predicted effects and overrides."""

import pytest

from metrics.rules.overrides import OverrideError, layer
from metrics.rules.predict import learned
from metrics.rules.setup_windows import window_of
from metrics.rules.types import BlockEvidence, Override, Response
from metrics.setup_geometry import ball_move_effect
from tests.library.shipped import shipped_library

from .cases import assess, column, contacts, finding, state_of

SLICE = {"club_path_deg": column(-6, 1.5, 10), "face_to_path_deg": column(5, 1.5, 10)}
DRAW = {"club_path_deg": column(7, 1.5, 10), "face_to_path_deg": column(-3, 1.5, 10)}


def window(checkpoint: str, **more: object) -> tuple[float, float] | None:
    more.setdefault("club_category", "driver")
    return window_of(checkpoint, evidence=BlockEvidence(**more), library=shipped_library())  # type: ignore[arg-type]


def test_at_most_three_checks_what_is_outside_first_then_what_was_not_looked_at():
    checks = finding(assess(SLICE, setup={"feet_deg": -6}), "slice").checks
    assert [c.checkpoint for c in checks] == ["feet_deg", "lead_knuckles", "shoulders_deg"]
    assert [c.outside for c in checks] == [True, None, None]


def test_a_check_inside_its_window_is_not_shown_and_neither_is_one_out_on_the_harmless_side():
    checks = finding(assess(SLICE, setup={"lead_knuckles": 2.5, "feet_deg": 9}), "slice").checks
    assert not {"lead_knuckles", "feet_deg"} & {c.checkpoint for c in checks}


def test_one_linked_check_outside_does_not_raise_a_hint_and_two_do():
    few = {key: values[:6] for key, values in SLICE.items()}
    one, two = ({"feet_deg": -6}, {"feet_deg": -6, "lead_knuckles": 1})
    assert finding(assess(few, setup=one), "slice").state == "hint"
    assert finding(assess(few, setup=two), "slice").state == "supported"


def test_setup_alone_never_raises_a_silent_pattern():
    setup = {"feet_deg": -6, "lead_knuckles": 0, "shoulders_deg": -8}
    straight = {"club_path_deg": column(0, 1, 10), "face_to_path_deg": column(0, 1, 10)}
    assert state_of(assess(straight, setup=setup), "slice") == "silent"


@pytest.mark.parametrize("intent, feet", [("straight", (-2, 2)), ("draw", (2, 5)), ("fade", (-5, -2))])
def test_the_feet_window_follows_the_shape_the_player_wants(intent, feet):
    assert window("feet_deg", intent=intent) == feet


def test_a_fairway_wood_has_one_ball_window_on_the_tee_and_another_on_the_turf():
    assert window("ball_position_cm", club_category="fairway") == (4, 8)
    assert window("ball_position_cm", club_category="fairway", on_tee=True) == (2, 5)


def test_a_chip_is_placed_from_the_middle_of_the_players_own_stance():
    """Derived: half of 0.3 shoulder widths of 39 cm is 5.85 cm; one ball of 4.267 cm further back is the edge."""
    low, high = window("ball_position_cm", club_category="chip", setup={"stance_width_ratio": 0.3})
    assert (low, high) == (pytest.approx(5.85), pytest.approx(5.85 + 4.267))


def test_moving_the_ball_to_the_edge_predicts_what_the_arc_gives():
    found = finding(assess(DRAW, setup={"ball_position_cm": 7}), "over_draw")
    check = next(c for c in found.checks if c.checkpoint == "ball_position_cm")
    path = next(e for e in check.effects if e.quantity == "club_path_deg")
    derived = ball_move_effect(club_category="driver", back_cm=-4.0).path_deg
    assert (path.low, path.mark) == (pytest.approx(derived, abs=0.01), "computed") and path.low < -0.8


def test_no_effect_is_predicted_for_what_was_not_measured():
    assert all(c.effects == () for c in finding(assess(DRAW), "over_draw").checks)


@pytest.mark.parametrize("own, expected", [([], (0.2, 0.5)), ([1.4] * 3, (0.8, 0.95)), ([0.5], (0.275, 0.5))])
def test_the_players_own_response_takes_over_with_n_over_n_plus_three(own, expected):
    assert learned(low=0.2, high=0.5, own=own) == pytest.approx(expected)


def test_a_learned_response_is_used_and_said():
    own = (Response(checkpoint="feet_deg", quantity="club_path_deg", per_unit=(1.0, 1.0, 1.0)),)
    check = finding(assess(DRAW, setup={"feet_deg": 6}, responses=own), "over_draw").checks[0]
    effect = check.effects[0]
    assert (effect.low, effect.high) == (pytest.approx(-4 * 0.75), pytest.approx(-4 * 0.6))
    assert effect.own_repeats == 3 and "3 of your own changes" in effect.sentence


def test_an_academys_window_counts_and_the_shipped_one_stays_beside_it():
    wider = Override(target="window/driver/feet_deg", intent="straight", low=-2, high=8, reason="hip replacement")
    check = finding(assess(DRAW, setup={"feet_deg": 9}, overrides=(wider,)), "over_draw").checks[0]
    assert (check.window, check.shipped_window) == ((-2, 8), (-2, 2))
    inside = finding(assess(DRAW, setup={"feet_deg": 7}, overrides=(wider,)), "over_draw")
    assert "feet_deg" not in [c.checkpoint for c in inside.checks]


def test_the_players_own_value_wins_over_the_academys_whatever_the_order():
    player = Override(target="window/driver/feet_deg", scope="player", low=-1, high=1, reason="preference")
    academy = Override(target="window/driver/feet_deg", low=-5, high=5, reason="house rule")
    laid = layer(library=shipped_library(), overrides=(player, academy))
    assert window_of("feet_deg", evidence=BlockEvidence(club_category="driver"), library=laid) == (-1, 1)
    assert window("feet_deg") == (-2, 2)


def test_an_overridden_threshold_moves_the_finding():
    strict = Override(target="threshold/over_draw/numbers-straight/club_path_deg", watch=2, strong=4, reason="trial")
    shots = {"club_path_deg": column(3, 1, 10), "face_to_path_deg": column(-2, 1, 10)}
    assert state_of(assess(shots), "over_draw") == "silent"
    assert state_of(assess(shots, overrides=(strict,)), "over_draw") == "supported"


@pytest.mark.parametrize("override, said", [
    (Override(target="window/driver/feet_deg", low=0, high=1, reason=" "), "reason is empty"),
    (Override(target="window/driver/no_such", low=0, high=1, reason="x"), "no such window"),
    (Override(target="window/driver/feet_deg", low=2, high=1, reason="x"), "the lower one first"),
    (Override(target="threshold/over_draw/numbers-straight/club_path_deg", watch=9, reason="x"), "before watch 9"),
    (Override(target="colour/red", reason="x"), "was not understood"),
])
def test_an_override_that_fits_nothing_is_refused_with_a_sentence(override, said):
    with pytest.raises(OverrideError, match=said):
        layer(library=shipped_library(), overrides=(override,))


@pytest.mark.parametrize("spread, shown", [(2.0, True), (1.0, False)])
def test_a_ball_that_wanders_over_repeated_setups_is_a_check_and_a_steady_one_is_not(spread, shown):
    """Ten setups within half a ball width either way spread by 1.4 cm: range of ten normal values, 3.08 SD."""
    shots = {"club_path_deg": column(0, 1.5, 20), "face_angle_deg": column(0, 5, 20)}
    found = finding(assess(shots, setup_spread={"ball_position_cm": spread}), "face_scatter")
    checks = {check.checkpoint: check for check in found.checks}
    assert ("ball-spread" in checks) is shown
    if shown:
        check = found.checks[0]
        assert (check.checkpoint, check.value, check.unit, check.outside) == ("ball-spread", 2.0, "cm", True)


def far_away(cm: float):
    found = finding(assess(calls=contacts(top=7, clean=3), club_category="mid_iron", setup={"hand_thigh_cm": cm}),
                    "thin_top_iron")
    effects = next(c.effects for c in found.checks if c.checkpoint == "hand_thigh_cm")
    return next(e for e in effects if e.quantity == "strike_heel_toe_mm")


def test_an_effect_is_foretold_no_further_than_it_was_ever_noted():
    """Derived: 8 to 15 mm toward the heel for each 2 cm; noted for moves of up to 4 cm, whatever the move is."""
    near, far = far_away(17), far_away(22)
    assert (near.low, near.high) == (pytest.approx(8), pytest.approx(15))
    assert (far.low, far.high) == (pytest.approx(16), pytest.approx(30))
    assert "from the first 4 cm of the move" in far.sentence and "first" not in near.sentence


def test_a_foretold_change_says_which_way_it_goes():
    assert near_words(far_away(17)) == "toward the heel"
    path = finding(assess(DRAW, setup={"feet_deg": 6}), "over_draw").checks[0].effects[0]
    assert near_words(path) == "further out-to-in"


def near_words(effect) -> str:
    return effect.sentence.split(", ")[1]
