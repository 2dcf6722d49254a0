"""The sentences: numbers for the coach, none of the trade's statistics for the student; and the Method rows."""

import importlib
import re

import pytest

from metrics.change import Goal, judge_change, question_for
from metrics.change.methods import METHODS
from metrics.change.words import WORDS, Sentences, in_hundred, shown, student_sentences
from tests.metrics.change.blocks import block, path_question

JARGON = re.compile(
    r"\b(SD|SE|MDC|SWC|standard|error|interval|probab\w*|significan\w*|mean|sample|variance|n=\d*|percent\w*)\b")


@pytest.mark.parametrize("code", WORDS)
def test_the_student_reads_no_statistics_and_no_number(code):
    words = student_sentences(code=code, question=path_question())
    text = f"{words.verdict} {words.reason} {words.next_step}"
    assert not JARGON.search(text) and not re.search(r"\d", text)
    assert words.reason.endswith(".") and words.next_step.endswith(".")
    assert "bad" not in text.lower().split()


def test_the_coach_reads_balls_visits_error_smallest_and_detectable_change():
    verdict = judge_change(question=path_question(), before=[block(1, 5.0, 2, 12)], after=[block(8, 3.2, 2, 12)])
    assert verdict.coach == Sentences(
        verdict="Likely kept",
        reason="Club path +5.0° before, +3.2° after, wanted +2.0° to +4.0°. The chance that it truly moved the right "
               "way is 90 in 100, that it moved by 1.0° or more is 71 in 100.",
        next_step="If the change stays at 1.8°, 4 more visits of 12 balls would settle it as “established”.",
        numbers="12 balls in 1 visit against 12 balls in 1 visit; standard error 1.4°; smallest change that matters "
                "1.0°; detectable change 2.7°.")


def test_a_carry_is_read_in_the_readers_unit_and_judged_the_same():
    verdicts = [
        judge_change(question=question_for(quantity="carry_m", category="driver", intent="straight", typical=200,
                                           system=system),
                     before=[block(1, 200, 8, 12)], after=[block(8, 214, 8, 12)])
        for system in ("metres", "yards")]
    assert verdicts[0].code == verdicts[1].code and verdicts[0].numbers == verdicts[1].numbers
    assert "214.0 m after" in verdicts[0].coach.reason and "234.0 yd after" in verdicts[1].coach.reason


def test_chances_are_rounded_down_and_never_certain():
    assert [in_hundred(p) for p in (0.9, 0.8999, 0.29, 1.0, 0.0)] == [
        "90 in 100", "89 in 100", "29 in 100", "more than 99 in 100", "less than 1 in 100"]


def test_numbers_carry_a_true_minus_and_nothing_is_minus_zero():
    assert shown(-3.24, question=path_question(), signed=True) == "−3.2°"
    assert shown(-0.01, question=path_question(), signed=True) == "0.0°"
    smash = question_for(quantity="smash_factor", category="driver", intent="draw")
    assert shown(1.456, question=smash, signed=True) == "1.46"


def test_a_question_takes_the_shipped_settings_and_a_goal_is_a_window_or_a_direction():
    path = question_for(quantity="club_path_deg", category="driver", intent="fade", level="index_6_12")
    assert (path.goal.window.lo, path.swc, path.k, path.balls_needed, path.sd_prior) == (-4, 1.0, 0.4, 8, 1.8)
    speed = question_for(quantity="club_speed_mps", category="mid_iron", intent="straight", typical=40)
    assert (speed.goal.upward, speed.swc, speed.k, speed.balls_needed) == (1, 0.8, 0.7, 10)
    with pytest.raises(ValueError, match="either a window or a direction"):
        Goal()


@pytest.mark.parametrize("method", METHODS, ids=lambda method: method.key)
def test_every_method_row_leads_to_a_documented_function(method):
    module, _, name = method.function.rpartition(".")
    function = getattr(importlib.import_module(module), name)
    assert callable(function) and len(function.__doc__) > 40
    assert method.formula and method.valid_range and method.source


def test_no_method_stands_twice():
    assert len({m.key for m in METHODS}) == len({m.function for m in METHODS}) == len(METHODS)
