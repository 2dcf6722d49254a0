"""The stop “change”: one thing, proposed by the first check outside its window, tried with aids and without."""

import pytest
from django.urls import reverse

from lessons.models import Block, DrillAssignment, Finding, Prescription
from lessons.queries.note import words_of
from tests import factories

from .hour import data_of, draw_lesson, note_setup, stop, strike


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def choose(client, lesson, **values):
    whole = {"change": "Feet line: from 7° closed to 5° closed", "cue": "belt at the flag", **values}
    return client.post(reverse("lessons:change", args=[lesson.code]), whole)


def test_the_first_check_outside_its_window_is_proposed_with_its_stop_sign(as_coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7", ball_position_cm="7")
    start = data_of(as_coach, lesson, "change")["start"]
    assert start["change"] == "Feet line: from 7° closed to 5° closed"
    assert (start["checkpoint"], start["value_from"], start["value_to"]) == ("feet_deg", 7, 5)
    assert start["stop_sign"] == "The lines end open and the ball starts left"
    text = stop(as_coach, lesson, "change")
    assert "Club path about −1.0 to −0.4°" in text and "ball position. One change at a time" in text


def test_without_a_setup_number_nothing_is_proposed(as_coach, lesson):
    assert data_of(as_coach, lesson, "change")["proposals"] == []


def test_the_change_is_stored_with_its_expected_effect_and_its_finding(as_coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7")
    choose(as_coach, lesson, checkpoint="feet_deg", value_from="7", value_to="4", pattern="over_draw",
           stop_sign="ball starts left")
    stored = Prescription.objects.get()
    assert (stored.cue, stored.value_from, stored.value_to) == ("belt at the flag", 7, 4)
    assert stored.expected["club_path_deg"] == pytest.approx([-1.5, -0.6])
    assert stored.finding == Finding.objects.get() and stored.finding.decision == ""


def test_choosing_again_replaces_the_one_change(as_coach, lesson):
    choose(as_coach, lesson)
    choose(as_coach, lesson, change="Ball position: from 7.0 cm back to 3.0 cm back", cue="")
    assert Prescription.objects.get().change.startswith("Ball position")


def test_an_overruled_finding_proposes_nothing(as_coach, lesson):
    note_setup(as_coach, lesson, feet_deg="7")
    as_coach.post(reverse("lessons:finding_decide", args=[lesson.code]), {
        "pattern": "over_draw", "decision": "overruled", "reason": "the mat lay crooked"})
    assert data_of(as_coach, lesson, "change")["proposals"] == []


@pytest.mark.parametrize(("values", "words"), [
    ({"change": ""}, "Say what changes"), ({"checkpoint": "feet_deg", "value_to": "far"}, "“far” was found"),
    ({"value_to": "4"}, "needs a checkpoint"), ({"pattern": "nonsense"}, "was not looked at"),
])
def test_what_cannot_be_stored_is_refused_and_what_was_typed_stays(as_coach, lesson, values, words):
    refused = choose(as_coach, lesson, **values)
    text = refused.content.decode()
    assert refused.status_code == 422 and words in text and 'value="belt at the flag"' in text
    assert not Prescription.objects.exists()


def test_a_drill_can_be_given_with_the_change(as_coach, lesson):
    choose(as_coach, lesson, drill="two-stick-station")
    assert DrillAssignment.objects.get().card["name"] == "Two-stick station"


def test_two_taps_open_the_block_with_aids_and_then_the_one_without(as_coach, lesson):
    for start, key in (("aid_from", "aid_key"), ("plain_from", "plain_key")):
        data = data_of(as_coach, lesson, "change")
        as_coach.post(reverse("lessons:block_next", args=[data[start]["block"].code]),
                      {"change": data[start]["change"], "key": data[key]})
    blocks = list(Block.objects.filter(lesson=lesson))
    assert [(block.purpose, bool(block.aids)) for block in blocks] == [
        ("first_ten", False), ("with_aid", True), ("no_aid", False)]
    assert {block.intent for block in blocks} == {"draw"}


def test_today_s_blocks_are_compared_like_with_like_and_never_called_an_improvement(as_coach, lesson):
    strike(lesson=lesson, path=2.9, sd=1.7, aids=["sticks"], purpose="with_aid")
    strike(lesson=lesson, path=3.3, sd=2.0)
    text = stop(as_coach, lesson, "change")
    assert "In the window both ways" in text and "Better today" in text and "improv" not in text.lower()
    assert "Block 1 against block 3" in text


def test_a_block_of_another_club_is_not_compared(as_coach, lesson):
    strike(lesson=lesson, path=1.0, category="mid_iron", club_name="7 iron")
    assert data_of(as_coach, lesson, "change")["today"] is None


def test_better_with_the_sticks_only_says_so(as_coach, lesson):
    strike(lesson=lesson, path=3.0, sd=1.0, n=12, aids=["sticks"], purpose="with_aid")
    strike(lesson=lesson, path=6.4, sd=1.0, n=12)
    assert "Needs the aids" in stop(as_coach, lesson, "change")


def test_looking_around_is_over_once_the_change_is_chosen(as_coach, student):
    lesson = draw_lesson(student=student)
    around = strike(lesson=lesson, path=5.0, purpose="explore")
    url = reverse("lessons:block_next", args=[around.code])
    as_coach.post(url, {"change": "same"})
    assert Block.objects.latest("pk").purpose == "explore"
    choose(as_coach, lesson)
    as_coach.post(url, {"change": "same"})
    assert Block.objects.latest("pk").purpose == "no_aid"


def test_an_effect_known_as_a_share_only_is_said_and_not_followed_as_a_number(as_coach, lesson):
    note_setup(as_coach, lesson, stance_width_ratio="0.8x")
    offer = next(o for o in data_of(as_coach, lesson, "change")["proposals"] if o.checkpoint == "stance_width_ratio")
    assert any("Club speed" in words and "%" in words for words in offer.effects)
    assert "club_speed_mps" not in offer.expected and "club_path_deg" in offer.expected


def call(lesson, *, clean: int, topped: int, **values) -> None:
    block = factories.make_block(lesson=lesson, club_name="7 iron", category="mid_iron", reading="calls", **values)
    for contact, count in (("clean", clean), ("top", topped)):
        for _ in range(count):
            factories.add_call(block=block, contact=contact)


def test_balls_called_by_eye_are_better_today_and_no_more(as_coach, student):
    lesson = factories.make_lesson(student=student)
    call(lesson, clean=2, topped=8, purpose="explore")
    assert data_of(as_coach, lesson, "change")["contact"] is None
    call(lesson, clean=9, topped=3, purpose="no_aid")
    text = stop(as_coach, lesson, "change")
    assert "Better today" in text and "today only" in text and "2 of 10 struck clean" in text
    assert "9 of 12 struck clean" in text and "improve" not in text.lower()


def test_two_called_blocks_that_luck_could_part_are_not_called_better(as_coach, student):
    lesson = factories.make_lesson(student=student)
    call(lesson, clean=4, topped=6, purpose="explore")
    call(lesson, clean=6, topped=4, purpose="no_aid")
    assert "Better today" not in stop(as_coach, lesson, "change")


def test_the_students_note_counts_clean_balls_where_nothing_was_measured(student):
    lesson = factories.make_lesson(student=student)
    call(lesson, clean=2, topped=8, purpose="explore")
    call(lesson, clean=9, topped=3, purpose="no_aid")
    assert "Better today: 2 of 10 clean at first, then 9 of 12." in words_of(lesson)
