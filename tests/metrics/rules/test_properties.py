"""What must hold for any block at all."""

import dataclasses

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from metrics.rules.assessment import STATES, as_dict
from metrics.rules.engine import evaluate
from metrics.rules.setup_windows import window_of
from metrics.rules.types import BallCall, BlockEvidence
from metrics.units import from_si, to_si
from tests.library.shipped import shipped_library

from .cases import right_hander_or_mirror, state_of

KEYS = ("club_path_deg", "face_angle_deg", "attack_angle_deg", "launch_direction_deg", "launch_angle_deg",
        "strike_heel_toe_mm", "strike_high_low_mm", "smash_factor", "carry_m", "side_m")
CENTRES = dict(zip(KEYS, (0, 0, 0, 0, 13, 0, 0, 1.45, 200, 0), strict=True))
SPREADS = dict(zip(KEYS, (6, 6, 5, 5, 6, 15, 15, 0.05, 20, 20), strict=True))
SETUP = {"feet_deg": (-10, 10), "shoulders_deg": (-10, 10), "ball_position_cm": (-6, 12),
         "stance_width_ratio": (0.6, 1.5), "lead_knuckles": (0, 4), "hand_thigh_cm": (8, 28)}


@st.composite
def blocks(draw: st.DrawFn) -> BlockEvidence:
    n = draw(st.integers(4, 24))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    keys = draw(st.sets(st.sampled_from(KEYS), min_size=1))
    shots = {k: CENTRES[k] + rng.normal(0, SPREADS[k]) + rng.normal(0, SPREADS[k] / 4, n) for k in sorted(keys)}
    setup = {k: draw(st.floats(*SETUP[k])) for k in sorted(draw(st.sets(st.sampled_from(sorted(SETUP)))))}
    return BlockEvidence(club_category=draw(st.sampled_from(["driver", "mid_iron", "fairway", "short_iron"])),
                         intent=draw(st.sampled_from(["straight", "draw", "fade"])), shots=shots, setup=setup)


def answer(block: BlockEvidence):
    return evaluate(block, library=shipped_library())


PATIENT = settings(max_examples=40, deadline=None)


@PATIENT
@given(blocks())
def test_the_same_input_gives_the_same_words(block):
    assert as_dict(answer(block)) == as_dict(answer(block))


@PATIENT
@given(blocks())
def test_a_left_handers_mirrored_file_gives_the_same_patterns_in_the_same_order(block):
    mirrored = dataclasses.replace(block, hand="left", shots=right_hander_or_mirror(block.shots, "left"))
    left, right = answer(mirrored), answer(block)
    assert [(c.pattern, c.state, c.shown) for c in left.considered] == [
        (c.pattern, c.state, c.shown) for c in right.considered]
    assert [f.pattern for f in left.findings] == [f.pattern for f in right.findings]


@PATIENT
@given(blocks(), st.randoms(use_true_random=False))
def test_the_order_of_the_balls_does_not_matter(block, random):
    """Short of 20 balls, where drift is looked for, which is about order."""
    n = min(block.count, 19)
    order = list(range(n))
    random.shuffle(order)
    cut = dataclasses.replace(block, shots={k: v[:n] for k, v in block.shots.items()})
    shuffled = dataclasses.replace(block, shots={k: v[order] for k, v in cut.shots.items()})
    one, two = ([(f.pattern, f.state, f.explain) for f in answer(b).findings] for b in (cut, shuffled))
    assert one == two


@PATIENT
@given(blocks())
def test_a_check_inside_its_window_is_never_shown_and_the_limits_of_two_and_three_hold(block):
    found = answer(block)
    assert len(found.findings) <= 2
    for finding in found.findings:
        assert len(finding.checks) <= 3 and len(finding.drills) <= 4 and finding.state != "silent"
        for check in finding.checks:
            if check.value is not None and check.window is not None:
                assert not check.window[0] <= check.value <= check.window[1]


@PATIENT
@given(blocks(), st.floats(0.05, 0.95))
def test_seeing_a_linked_checkpoint_inside_its_window_never_raises_a_pattern(block, where):
    bare = dataclasses.replace(block, setup={k: v for k, v in block.setup.items() if k != "ball_position_cm"})
    low, high = window_of("ball_position_cm", evidence=bare, library=shipped_library())
    seen = dataclasses.replace(bare, setup={**bare.setup, "ball_position_cm": low + where * (high - low)})
    for before, after in zip(answer(bare).considered, answer(seen).considered, strict=True):
        assert STATES.index(after.state) <= STATES.index(before.state)


@PATIENT
@given(blocks(), st.floats(0.5, 6))
def test_moving_every_ball_away_from_the_fault_never_raises_it(block, away):
    if "club_path_deg" not in block.shots or "face_angle_deg" not in block.shots:
        return
    shots = {k: block.shots[k] for k in ("club_path_deg", "face_angle_deg")}
    less = {k: v - away for k, v in shots.items()}  # less in-to-out, the same face to path
    one, two = (dataclasses.replace(block, shots=s, setup={}, club_category="driver") for s in (shots, less))
    assert STATES.index(state_of(answer(two), "over_draw")) <= STATES.index(state_of(answer(one), "over_draw"))


@PATIENT
@given(blocks())
def test_speeds_typed_in_other_units_give_the_same_findings(block):
    """A file in mph, turned into m/s at the door, against the same speeds in m/s."""
    rng = np.random.default_rng(block.count)
    speed = rng.normal(36, 0.5, block.count)
    typed = to_si(value=from_si(value=speed, unit="mph", dimension="speed"), unit="mph", dimension="speed")
    known = {"own_medians": {"club_speed_mps": 40.0}, "effort_full": True, "club_category": "driver"}
    one, two = (dataclasses.replace(block, shots={**block.shots, "club_speed_mps": s}, **known)
                for s in (speed, typed))
    assert [f.explain for f in answer(one).findings] == [f.explain for f in answer(two).findings]


@PATIENT
@given(st.integers(0, 2**32 - 1), st.integers(8, 20), st.integers(1, 6), st.floats(1, 8))
def test_balls_that_speak_against_a_pattern_never_raise_it(seed, n, more, away):
    """From the balls it is judged from on: before that, any ball makes the count."""
    rng = np.random.default_rng(seed)
    path = rng.normal(rng.uniform(2, 8), rng.uniform(0.5, 3), n)
    face = path - 3
    against = 4.0 - away - rng.uniform(0, 1, more)
    known = {"club_category": "driver"}
    one = BlockEvidence(shots={"club_path_deg": path, "face_angle_deg": face}, **known)
    two = BlockEvidence(shots={"club_path_deg": np.r_[path, against], "face_angle_deg": np.r_[face, against - 3]},
                        **known)
    assert STATES.index(state_of(answer(two), "over_draw")) <= STATES.index(state_of(answer(one), "over_draw"))


@PATIENT
@given(st.integers(6, 14), st.integers(0, 8), st.integers(1, 8))
def test_calls_that_speak_against_a_pattern_never_raise_it(hits, others, more):
    hit, other = BallCall(start=1, curve=-1), BallCall(start=0, curve=0)
    calls = (hit,) * hits + (other,) * others
    one, two = (BlockEvidence(club_category="driver", calls=seen, balls=len(seen))
                for seen in (calls, calls + (other,) * more))
    if len(calls) < 10:
        return
    assert STATES.index(state_of(answer(two), "over_draw")) <= STATES.index(state_of(answer(one), "over_draw"))
    assert len(answer(two).findings) <= len(answer(one).findings)


@PATIENT
@given(blocks())
def test_what_is_watched_is_a_hint_and_is_not_shown_as_a_finding(block):
    found = answer(block)
    titles = {f.title for f in found.findings}
    assert not any(line.startswith(tuple(titles)) for line in found.watching) if titles else True
    hints = {c.title for c in found.considered if c.state == "hint" and not c.shown}
    assert all(line.startswith(tuple(hints)) for line in found.watching)
