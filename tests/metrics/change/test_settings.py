"""Assumed values: an academy's own count inside a block, and nowhere else."""

import pytest

from metrics.change import judge_change
from metrics.change.drift import session_drift
from metrics.change.priors import balls_to_judge, sd_prior, smallest_worthwhile
from metrics.change.settings import SETTINGS, has_own_settings, own_settings, setting
from metrics.spread import playable_share
from tests.metrics.change.blocks import block, path_question


def test_an_own_value_counts_inside_the_block_and_the_shipped_one_after_it():
    assert setting("p_likely") == 0.90 and not has_own_settings()
    with own_settings({"p_likely": 0.8}):
        assert setting("p_likely") == 0.8 and setting("p_established") == 0.95
        with own_settings({}):
            assert setting("p_likely") == 0.90
        assert setting("p_likely") == 0.8
    assert setting("p_likely") == 0.90


def test_an_error_inside_the_block_leaves_nothing_behind():
    with pytest.raises(RuntimeError), own_settings({"k": 2.0}):
        raise RuntimeError("stop")
    assert setting("k") == 0.4


def test_a_setting_that_does_not_exist_is_refused_even_with_a_value_of_ones_own():
    with own_settings({"gravity": 9.8}), pytest.raises(KeyError):
        setting("gravity")


@pytest.mark.parametrize(("own", "code"), [({}, "likely"), ({"p_likely": 0.95}, "cannot_tell"),
                                           ({"p_likely": 0.89}, "likely")])
def test_a_stricter_chance_makes_a_stricter_verdict(own, code):
    with own_settings(own):
        verdict = judge_change(question=path_question(), before=[block(1, 5.0, 2, 12)], after=[block(8, 3.2, 2, 12)])
    assert verdict.code == code


def test_levels_sizes_and_ball_counts_follow_the_own_values():
    own = {"sd_club_path_deg_scratch": 0.7, "cv_driver_scratch": 0.03, "swc_club_path_deg": 2.0, "swc_carry_m": 0.05,
           "balls_to_judge_driver": 12, "swc_putter_deg": 0.5}
    with own_settings(own):
        assert sd_prior(quantity="club_path_deg", level="scratch").value == 0.7
        assert sd_prior(quantity="carry_m", level="scratch", category="driver", typical=200).value == pytest.approx(6)
        assert smallest_worthwhile(quantity="club_path_deg").value == 2.0
        assert smallest_worthwhile(quantity="carry_m", baseline=200).value == pytest.approx(10)
        assert smallest_worthwhile(quantity="face_angle_deg", category="putter").value == 0.5
        assert balls_to_judge(category="driver") == 12 and balls_to_judge(category="mid_iron") == 10


def test_every_shipped_value_lies_between_its_own_ends_and_has_a_label_of_its_own():
    assert len({(one.group, one.label) for one in SETTINGS.values()}) == len(SETTINGS)
    for one in SETTINGS.values():
        assert one.lowest <= one.value <= one.highest and one.group and one.mark
        assert not one.whole or one.value == int(one.value)


def test_a_wider_playable_strip_lets_more_balls_in():
    strict = playable_share("driver")
    with own_settings({"playable_driver": 0.12}):
        assert playable_share("driver") == 0.12 > strict


def test_drift_waits_for_as_many_balls_as_the_academy_wants():
    values = [0.1 * (i % 3) for i in range(24)]
    assert session_drift(values=values, swc=1.0).code == "steady"
    with own_settings({"drift_balls": 30}):
        found = session_drift(values=values, swc=1.0)
        assert found.code == "too_few" and "24, 30 needed" in found.coach.reason
