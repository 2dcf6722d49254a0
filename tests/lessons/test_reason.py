"""The stop “reason”: the teacher's cases through the page, and the coach's word on them. For both hands.

Figures of the trade: common practice, no source.
"""

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import Finding, SetupObservation
from lessons.services.library import override_window
from tests import factories
from tests.metrics.rules.cases import column

from .hour import data_of, draw_lesson, note_setup, stop, strike

HANDS = pytest.mark.parametrize("hand", ["right", "left"])


def of_hand(student, hand):
    student.hand = hand
    student.save()
    return student


def cards(client, lesson):
    return data_of(client, lesson, "reason")["cards"]


def answer(client, lesson):
    return data_of(client, lesson, "reason")["assessment"]


@HANDS
def test_a_draw_player_too_far_in_to_out_is_led_to_feet_ball_and_width(as_coach, student, hand):
    lesson = draw_lesson(student=of_hand(student, hand))
    note_setup(as_coach, lesson, feet_deg="7", ball_position_cm="7", stance_width_ratio="0.80")
    card = cards(as_coach, lesson)[0]
    assert (card.finding.pattern, card.finding.state, card.finding.raised_by_setup) == ("over_draw", "supported", True)
    assert [check.check.checkpoint for check in card.checks] == ["feet_deg", "ball_position_cm", "stance_width_ratio"]
    assert card.checks[1].then == "shoulder line"
    text = stop(as_coach, lesson, "reason")
    assert "goal path 2.0 to 4.0°, not 0" in text and "state-supported" in text
    assert f"start direction averaged 3.0° {hand}" in text.lower() or f"3.0° {hand}" in text


def test_the_two_hands_get_the_same_findings_in_mirrored_words(as_coach, coach):
    texts = {}
    for hand in ("right", "left"):
        lesson = draw_lesson(student=factories.make_student(coach=coach, name=f"Kit {hand}", hand=hand))
        note_setup(as_coach, lesson, feet_deg="7")
        texts[hand] = cards(as_coach, lesson)[0].finding
    assert texts["right"].pattern == texts["left"].pattern
    assert texts["left"].explain == texts["right"].explain.replace("arc right", "arc left") != texts["right"].explain


def test_in_the_window_with_and_without_sticks_is_better_today_at_most(as_coach, student):
    lesson = draw_lesson(student=student)
    strike(lesson=lesson, path=2.9, sd=1.7, aids=["sticks"], purpose="with_aid")
    strike(lesson=lesson, path=3.3, sd=2.0)
    text = stop(as_coach, lesson, "reason")
    assert "In your window both ways" in text and "better today at most" in text and "improv" not in text


@HANDS
def test_six_balls_of_a_slice_ask_for_two_more_and_warn_about_the_aim(as_coach, student, hand):
    lesson = factories.make_lesson(student=of_hand(student, hand))
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=list(column(-4.6, 2.4, 6)), face_to_path_deg=list(column(4, 1, 6)))
    found = answer(as_coach, lesson)
    assert [f.pattern for f in found.findings] == ["slice"] and found.findings[0].state == "hint"
    text = stop(as_coach, lesson, "reason")
    assert "2 more balls" in text and f"Squaring the aim alone sends the ball further {hand}" in text


@HANDS
def test_heel_strikes_come_before_a_scattering_face(as_coach, student, hand):
    lesson = factories.make_lesson(student=of_hand(student, hand))
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=list(column(0.4, 1.5, 20)), face_angle_deg=list(column(0, 3.6, 20)),
                        strike_heel_toe_mm=list(column(14, 5, 20)))
    found = answer(as_coach, lesson)
    assert found.findings[0].pattern == "heel_shank"
    assert "face_scatter" not in [f.pattern for f in found.findings]


def test_four_balls_are_counted_and_nothing_is_averaged(as_coach, student):
    lesson = factories.make_lesson(student=student)
    factories.add_balls(block=factories.make_block(lesson=lesson), club_path_deg=[9.0, 9.0, 9.0, 9.0])
    text = stop(as_coach, lesson, "reason")
    assert "4 balls logged" in text and "averaged" not in text


@HANDS
def test_a_ball_moved_forward_between_two_blocks_asks_for_the_shoulders_first(as_coach, student, hand):
    lesson = factories.make_lesson(student=of_hand(student, hand))
    block = factories.make_block(lesson=lesson)
    factories.add_balls(block=block, club_path_deg=list(column(-1, 1.5, 10)))
    note_setup(as_coach, lesson, ball_position_cm="5")
    as_coach.post(reverse("lessons:look", args=[lesson.code]), {"after-ball_position_cm": "0.7"})
    lesson.__dict__.pop("present_blocks", None)
    moved = factories.make_block(lesson=lesson)
    factories.add_balls(block=moved, club_path_deg=list(column(-4, 1.5, 10)), face_to_path_deg=list(column(4, 1, 10)))
    found = answer(as_coach, lesson)
    assert [f.pattern for f in found.findings] == ["shoulders_vs_feet"]
    assert found.findings[0].checks[0].checkpoint == "shoulders_deg"
    assert "check the shoulder line" in stop(as_coach, lesson, "reason")


def test_pain_shows_no_pattern_and_offers_putting_and_aim(as_coach, student):
    lesson = draw_lesson(student=student)
    HealthFlag.objects.create(student=student, area="low_back", severity=5, reported_at=timezone.now())
    text = stop(as_coach, lesson, "reason")
    assert "Health comes first" in text and "Putting" in text and "Aim work" in text
    assert "too far in-to-out" not in text.split("Health comes first")[1]


def test_a_tick_with_a_number_is_kept_and_the_finding_is_read_anew(as_coach, student):
    lesson = draw_lesson(student=student)
    assert cards(as_coach, lesson)[0].finding.state == "hint"
    url = reverse("lessons:check", args=[lesson.code])
    for box, value in (("before-feet_deg", "7"), ("before-ball_position_cm", "7")):
        as_coach.post(url, {box: value}, headers={"HX-Request": "true"})
    assert SetupObservation.objects.count() == 2
    assert cards(as_coach, lesson)[0].finding.state == "supported"
    refused = as_coach.post(url, {"before-feet_deg": "lots"}, headers={"HX-Request": "true"})
    assert refused.status_code == 422 and "“lots” was found" in refused.content.decode()


def decide(client, lesson, **values):
    return client.post(reverse("lessons:finding_decide", args=[lesson.code]), {
        "block": lesson.blocks.first().code, "pattern": "over_draw", "decision": "confirmed", **values})


def test_a_confirmed_finding_keeps_its_evidence_and_the_student_s_belief(as_coach, student):
    lesson = draw_lesson(student=student, belief="I cut across it")
    assert decide(as_coach, lesson).status_code == 302
    finding = Finding.objects.get()
    assert (finding.decision, finding.state, finding.belief) == ("confirmed", "hint", "I cut across it")
    assert finding.evidence["explain"].startswith("A hint, not settled: in 10 balls")
    decide(as_coach, lesson)
    assert Finding.objects.count() == 1


def test_later_numbers_do_not_rewrite_what_was_confirmed(as_coach, student):
    lesson = draw_lesson(student=student)
    decide(as_coach, lesson)
    before = Finding.objects.get().evidence
    note_setup(as_coach, lesson, feet_deg="7", ball_position_cm="7")
    decide(as_coach, lesson, decision="overruled", reason="the mat lay crooked")
    finding = Finding.objects.get()
    assert finding.evidence == before
    assert (finding.decision, finding.decision_reason) == ("overruled", "the mat lay crooked")


def test_overruling_needs_a_reason(as_coach, student):
    lesson = draw_lesson(student=student)
    refused = decide(as_coach, lesson, decision="overruled")
    assert refused.status_code == 422 and "Say why you overrule it" in refused.content.decode()
    assert not Finding.objects.exists()


def test_a_pattern_that_was_not_looked_at_is_refused(as_coach, student):
    refused = decide(as_coach, draw_lesson(student=student), pattern="putt_pace")
    assert refused.status_code == 422 and "was not looked at" in refused.content.decode()


def test_the_expert_sees_every_pattern_that_was_looked_at_with_the_reason(as_coach, student):
    lesson = draw_lesson(student=student)
    found, text = answer(as_coach, lesson), stop(as_coach, lesson, "reason")
    assert f"All {len(found.considered)} patterns that were looked at" in text
    assert all(other.reason for other in data_of(as_coach, lesson, "reason")["others"])


def test_the_student_s_own_window_is_shown_beside_the_shipped_one(as_coach, coach, student):
    lesson = draw_lesson(student=student)
    override_window(by=coach, club="driver", checkpoint="feet_deg", low=6, high=9, intent="draw", reason="new hip",
                    student=student)
    note_setup(as_coach, lesson, feet_deg="7")
    assert "feet_deg" not in [check.check.checkpoint for check in cards(as_coach, lesson)[0].checks]
    note_setup(as_coach, lesson, feet_deg="12")
    check = cards(as_coach, lesson)[0].checks[0]
    assert (check.window, check.shipped) == ("6 to 9°", "2 to 5°")


def test_another_block_can_be_read(as_coach, student):
    lesson = draw_lesson(student=student)
    later = strike(lesson=lesson, path=3.0)
    url = reverse("lessons:reason", args=[lesson.code])
    assert data_of(as_coach, lesson, "reason")["block"] == later
    first = as_coach.get(url, {"block": lesson.blocks.first().code}, headers={"HX-Request": "true"})
    assert "block 1, Driver" in first.content.decode()
    stranger = factories.make_block(lesson=factories.make_lesson(student=student))
    assert as_coach.get(url, {"block": stranger.code}).status_code == 404
