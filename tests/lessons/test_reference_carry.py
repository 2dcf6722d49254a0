"""Carry at the reference condition: worked out once, refused with a sentence, compared like with like."""

import numpy as np
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from academy.models import Goal, Venue
from lessons.models import Block, DataSource, Lesson
from lessons.queries.held import held_for
from lessons.queries.progress.page import progress_of
from lessons.reference_carry import air_of, is_current, visit_carry
from lessons.summaries import SUMMARY_VERSION, references_for
from metrics.change.model import Components, standard_error
from metrics.flight.visit import compare_blocks
from tests import factories

YARD = 0.9144
MPH = 0.44704
# Ten balls with mean 0 and SD 6.0 yd, in no order.
TEN = tuple(3.0 * each * YARD for each in (0.2, -3.2, 2.0, -1.4, 1.0, -0.2, 3.2, -2.0, 1.4, -1.0))
DRIVE = {"ball_speed_mps": 140 * MPH, "launch_angle_deg": 12.5, "spin_rpm": 2700.0}


@pytest.fixture
def range_unit(db):
    return DataSource.objects.create(name="Range unit", carry_provenance="measured")


@pytest.fixture
def venue(db):
    return Venue.objects.create(name="Low field", altitude_m=0)


@pytest.fixture
def visit(student, range_unit, venue):
    """Return a maker of finished visits with one block of ten drives."""
    def make(*, days_ago=10.0, mean_yd=218.0, purpose="first_ten", provenance=None, launch=DRIVE, balls=TEN,
             category="driver", **lesson) -> Block:
        whole = {"venue": venue, "device": range_unit, "temperature_c": 20.0, "status": Lesson.Status.FINISHED}
        made = factories.make_lesson(student=student, days_ago=days_ago, **{**whole, **lesson})
        block = factories.make_block(lesson=made, purpose=purpose, category=category, feedback_shown=False)
        columns = {key: [value] * len(balls) for key, value in launch.items()}
        if provenance is not None:
            columns["carry_provenance"] = provenance
        factories.add_balls(block=block, carry_m=[mean_yd * YARD + ball for ball in balls], **columns)
        block.refresh_from_db()
        return block

    return make


def stored(block: Block) -> dict:
    """Read the number the way pages do, which works it out the first time."""
    fresh = Block.objects.select_related("lesson__venue", "lesson__device").get(pk=block.pk)
    references_for([fresh])
    block.refresh_from_db()
    return block.summary["reference"]


def test_a_cold_drive_is_stated_at_the_reference_with_its_correction_and_error(visit):
    """Driver at 5 °C: +3.5 yd ± 1.4 yd of model error, as worked out elsewhere; the pressure is known to 10 hPa."""
    found = stored(visit(temperature_c=5.0))
    assert found["correction_m"] / YARD == pytest.approx(3.5, abs=0.06)
    assert found["carry_m"] == pytest.approx(found["measured_m"] + found["correction_m"], abs=1e-5)
    assert found["model_error_m"] / YARD == pytest.approx(0.40 * 3.5, abs=0.03)
    assert found["sd"] / YARD == pytest.approx(np.std(TEN, ddof=1) / YARD, abs=0.01)
    assert found["n"] == 10 and found["refusal"] == "" and len(found["carries"]) == 10
    assert found["condition"]["temperature_c"] == 20.0 and found["model_version"].startswith("flight-")


def test_a_noted_pressure_is_trusted_more_than_an_altitude(visit):
    by_altitude = stored(visit(temperature_c=5.0))
    by_pressure = stored(visit(temperature_c=5.0, pressure_hpa=1013.25))
    assert by_pressure["input_error_m"] < by_altitude["input_error_m"]
    assert by_pressure["correction_m"] == pytest.approx(by_altitude["correction_m"], abs=0.01)


@pytest.mark.parametrize(("lesson", "code", "word"), [
    ({"temperature_c": None}, "no_air", "temperature"),
    ({"venue": None}, "no_air", "altitude"),
    ({"wind_along_mps": -6.0, "wind_cross_mps": 0.0}, "windy", "Windy"),
    ({"is_windy": True}, "felt_wind", "not measured"),
    ({"device": None}, "no_provenance", "not known"),
])
def test_what_the_hour_does_not_allow_is_refused_in_words(visit, lesson, code, word):
    found = stored(visit(**lesson))
    assert found["refusal"] == code and word in found["sentence"]
    assert found["carry_m"] is None and found["carries"] == []


def test_impossible_weather_says_what_was_found(visit):
    found = stored(visit(temperature_c=55.0))
    assert found["refusal"] == "no_air" and "55 °C" in found["sentence"]


def test_a_measured_wind_is_taken_out_and_a_felt_one_beside_it_does_not_refuse(visit):
    found = stored(visit(wind_along_mps=-4.0, wind_cross_mps=0.0, is_windy=True))
    assert found["refusal"] == "" and found["wind_correction_m"] / YARD == pytest.approx(9.6, abs=2.5)


@pytest.mark.parametrize(("venue_values", "device_values", "provenance", "code"), [
    ({"indoor": True}, {}, None, "indoor"),
    ({}, {"is_indoor_model": True}, None, "indoor"),
    ({}, {"carry_provenance": "computed"}, None, "computed"),
    ({}, {"carry_provenance": "normalised"}, None, "already_normalised"),
    ({}, {}, ["computed"] * 10, "computed"),
    ({}, {}, ["measured"] * 5 + ["computed"] * 5, "mixed_provenance"),
])
def test_a_carry_that_the_device_worked_out_is_never_corrected(
    visit, range_unit, venue, venue_values, device_values, provenance, code
):
    for row, values in ((venue, venue_values), (range_unit, device_values)):
        type(row).objects.filter(pk=row.pk).update(**values)
        row.refresh_from_db()
    assert stored(visit(provenance=provenance))["refusal"] == code


def test_carries_of_mixed_origin_have_no_mean_anywhere(visit):
    block = visit(provenance=["measured"] * 5 + ["computed"] * 5)
    for part in ("numbers", "numbers_struck"):
        assert block.summary[part]["carry_m"]["n"] == 10
        assert block.summary[part]["carry_m"]["mean"] is None
    assert block.summary["numbers"]["ball_speed_mps"]["mean"] is not None


def test_missing_spin_is_estimated_said_and_counts_double(visit):
    known = stored(visit(temperature_c=5.0))
    guessed = stored(visit(temperature_c=5.0, launch={key: DRIVE[key] for key in DRIVE if key != "spin_rpm"}))
    assert guessed["estimated_spin"] == 10 and guessed["refusal"] == ""
    assert guessed["model_error_m"] == pytest.approx(2 * known["model_error_m"], rel=0.02)


@pytest.mark.parametrize(("launch", "mean_yd", "code"), [
    ({**DRIVE, "launch_angle_deg": 6.0}, 200, "launch_low"),
    ({"launch_angle_deg": 12.5}, 200, "no_ball_speed"),
    (DRIVE, 30, "carry_short"),
])
def test_a_flight_outside_what_the_model_can_state_is_refused(visit, launch, mean_yd, code):
    assert stored(visit(launch=launch, mean_yd=mean_yd, balls=(0.0,) * 5))["refusal"] == code


def test_mishits_and_balls_taken_out_do_not_count(visit):
    block = visit()
    block.shots.filter(number=1).update(excluded_reason="ball of the next bay")
    factories.add_balls(block=block, carry_m=[80 * YARD], **{key: [value] for key, value in DRIVE.items()})
    assert stored(block)["n"] == 9


def test_a_block_without_a_carry_has_no_reference(student):
    block = factories.make_block(lesson=factories.make_lesson(student=student))
    factories.add_balls(block=block, club_path_deg=[1.0, 2.0])
    assert stored(block) is None
    assert is_current(block=block, stored=None)


def test_correcting_the_conditions_of_the_hour_works_the_number_out_again_and_once(visit):
    block = visit(temperature_c=20.0)
    Lesson.objects.filter(pk=block.lesson.pk).update(temperature_c=5.0)
    fresh = Block.objects.select_related("lesson__venue", "lesson__device").get(pk=block.pk)
    assert references_for([fresh])[fresh.pk]["correction_m"] / YARD == pytest.approx(3.5, abs=0.06)
    again = Block.objects.select_related("lesson__venue", "lesson__device").get(pk=block.pk)
    with CaptureQueriesContext(connection) as queries:
        assert references_for([again])[again.pk]["correction_m"] / YARD == pytest.approx(3.5, abs=0.06)
    assert len(queries) == 0


def test_a_ball_that_is_added_waits_for_no_flight_and_the_next_reader_gets_the_number_with_it(visit, monkeypatch):
    block = visit()
    assert stored(block)["n"] == 10
    drive = {key: [value] for key, value in DRIVE.items()}
    with monkeypatch.context() as grounded:
        grounded.setattr("lessons.reference_carry.normalise", lambda **given: pytest.fail("a ball was flown"))
        factories.add_balls(block=block, carry_m=[218 * YARD], **drive)
    assert stored(block)["n"] == 11


def test_a_later_model_or_an_older_summary_is_worked_out_again(visit):
    block = visit(temperature_c=5.0)
    stored(block)
    for stale in ({"summary": {**block.summary, "reference": {
            **block.summary["reference"], "inputs": {**block.summary["reference"]["inputs"],
                                                     "model_version": "flight-0"}, "carry_m": 1.0}}},
                  {"summary_version": "1", "summary": {}}):
        Block.objects.filter(pk=block.pk).update(**stale)
        fresh = Block.objects.select_related("lesson__venue", "lesson__device").get(pk=block.pk)
        assert references_for([fresh])[fresh.pk]["carry_m"] > 190
        fresh.refresh_from_db()
        assert fresh.summary_version == SUMMARY_VERSION


def test_what_is_stored_reads_back_as_the_number_room_knows_it(visit):
    cold, hot = (visit_carry(stored(visit(temperature_c=t))) for t in (5.0, 30.0))
    found = compare_blocks(first=cold, second=hot)
    assert found.change_m / YARD == pytest.approx(-5.5, abs=0.15)  # the same measured mean, so the air alone
    assert found.refusal == ""


def test_without_a_venue_the_air_is_not_known_and_says_nothing_wrong(student):
    lesson = factories.make_lesson(student=student, temperature_c=12.0)
    assert air_of(lesson).air is None and air_of(lesson).problem == ""


# The verdict --------------------------------------------------------------------------------------------------


@pytest.fixture
def carry_goal(student):
    return Goal.objects.create(student=student, quantity="carry_m", category="driver", text="Ten yards more")


def verdict_of(student):
    return progress_of(student=student, wanted={"show": "driver:carry_m"}, system="yards").verdict


def test_weather_alone_is_not_called_a_gain(student, visit):
    """The same strike in 5 °C and in 30 °C: 5.5 yd of raw carry, and nothing at the reference."""
    visit(days_ago=40, temperature_c=5.0, mean_yd=214.5)
    visit(days_ago=10, temperature_c=30.0, mean_yd=220.0)
    numbers = verdict_of(student).numbers
    assert abs(numbers.change) / YARD < 0.2
    assert numbers.before / YARD == pytest.approx(218.0, abs=0.2)


def common_error_m(numbers) -> float:
    """What is in a verdict's error besides balls and days, by the published error of the visit model."""
    parts = Components(s_w=numbers.s_w, s_b=numbers.k * numbers.s_w, k=numbers.k, df=20, k_seen=None, k_df=0, lag1=0.0)
    return (numbers.se**2 - standard_error(parts=parts, before=[10], after=[10]) ** 2) ** 0.5


@pytest.mark.parametrize(("later_temperature_c", "model_yd"), [(30.0, 0.40 * 5.5), (5.0, 0.0)])
def test_the_models_error_between_unlike_days_is_in_the_verdict_and_vanishes_in_like_air(
    student, visit, later_temperature_c, model_yd
):
    """2.2 yd between 5 °C and 30 °C with a driver, as worked out elsewhere; the weather's own error on top."""
    blocks = [visit(days_ago=40, temperature_c=5.0), visit(days_ago=10, temperature_c=later_temperature_c)]
    weather = np.hypot(*(stored(block)["input_error_m"] for block in blocks))
    found = common_error_m(verdict_of(student).numbers)
    assert found / YARD == pytest.approx(np.hypot(model_yd, weather / YARD), abs=0.06)


def test_measured_and_worked_out_carries_are_not_compared(student, visit, range_unit):
    visit(days_ago=40)
    visit(days_ago=10, provenance=["computed"] * 10)
    found = verdict_of(student)
    assert found.code == "cannot_tell" and found.numbers is None
    assert "measured, while the newest carries are not" in found.coach.reason


def test_carries_that_the_device_worked_out_are_compared_as_they_stand_and_it_is_said(student, visit):
    for days_ago, mean_yd in ((40, 200), (10, 215)):
        visit(days_ago=days_ago, mean_yd=mean_yd, provenance=["computed"] * 10, temperature_c=5.0)
    found = verdict_of(student)
    assert found.numbers.change / YARD == pytest.approx(15.0, abs=0.01)
    assert any("compared as they stand" in note for note in found.notes)


def test_a_windy_visit_is_left_out_with_its_day_and_reason(student, visit):
    visit(days_ago=40)
    visit(days_ago=20, is_windy=True, mean_yd=240)
    visit(days_ago=10)
    found = verdict_of(student)
    assert abs(found.numbers.change) < 0.01
    assert any("left out: Windy" in note for note in found.notes)


def test_where_no_visit_can_be_stated_the_answer_says_what_to_note(student, visit, carry_goal):
    for days_ago in (40, 10):
        visit(days_ago=days_ago, temperature_c=None)
    found = held_for(student=student)
    assert found.code == "cannot_tell" and "Air temperature" in found.sentence
    assert "Note temperature" in found.verdict.coach.next_step


def test_the_roster_and_the_progress_page_give_one_answer(student, visit, carry_goal):
    visit(days_ago=40, temperature_c=5.0, mean_yd=214.5)
    visit(days_ago=10, temperature_c=30.0, mean_yd=220.0)
    assert held_for(student=student).verdict.numbers == verdict_of(student).numbers


def test_the_page_shows_measured_and_reference_side_by_side_with_the_reason(as_coach, student, visit):
    visit(days_ago=40, temperature_c=5.0)
    visit(days_ago=10, is_windy=True)
    visit(days_ago=5, provenance=["measured"] * 5 + ["computed"] * 5)
    address = reverse("lessons:progress", args=[student.code])
    page = as_coach.get(address, {"show": "driver:carry_m"}).content.decode()
    assert "At reference, yd" in page and "221.5 ±" in page
    assert "would carry 3.5 yd more than measured, give or take" in page
    assert "not comparable" in page and "felt but not measured" in page
    assert "not averaged" in page
    assert "At reference" not in as_coach.get(address, {"show": "driver:ball_speed_mps"}).content.decode()


def test_carry_takes_no_more_queries_for_many_visits_than_for_few(student, visit):
    for days_ago in (40, 10):
        visit(days_ago=days_ago)
    verdict_of(student)  # the first reader works the new flights out
    with CaptureQueriesContext(connection) as few:
        verdict_of(student)
    for days_ago in (41, 42, 43, 44):
        visit(days_ago=days_ago)
    verdict_of(student)
    with CaptureQueriesContext(connection) as many:
        verdict_of(student)
    assert len(many) == len(few) <= 10
