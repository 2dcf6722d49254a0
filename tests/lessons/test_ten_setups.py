"""Ten setups without a ball: typed, taken from the board or a photo; judged by the drill's mark; read by the rules."""

import pytest
from django.urls import reverse

from lessons.evidence import evidence_for
from lessons.models import Lesson, SetupLook, SetupObservation, SetupSeries
from lessons.queries.assess import assess
from lessons.services.history import undo_last
from tests import factories

from .hour import note_setup
from .test_photo import clicks

OPEN_AIM = ["6", "7", "5", "8", "6", "7", "6", "5", "7", "8"]


@pytest.fixture
def block(student):
    return factories.make_block(lesson=factories.make_lesson(student=student))


@pytest.fixture
def series(as_coach, block):
    return begin(as_coach, block)


def address(block, name="ten_setups") -> str:
    return reverse(f"lessons:{name}", args=[block.lesson.code])


def begin(client, block, **values) -> SetupSeries:
    client.post(address(block, "ten_setups_begin"), {"block": str(block.code), **values})
    return SetupSeries.objects.last()


def type_in(client, block, series, **columns):
    boxes = {f"look-{n}-{key}": text for key, texts in columns.items() for n, text in enumerate(texts, start=1)}
    return client.post(address(block), {"series": str(series.code), "method": "tape", **boxes})


def shown(client, block) -> str:
    return client.get(address(block)).content.decode()


def test_ten_numbers_give_bias_and_spread_with_intervals_and_the_mark(as_coach, block, series):
    assert type_in(as_coach, block, series, feet_deg=OPEN_AIM).status_code == 302
    text = shown(as_coach, block)
    assert "Feet line: Not passed yet" in text and "Average 6° closed, wanted 0°" in text
    assert "SD 1.1° (0.7 to 2.0)" in text and "0 of 10 within 2°" in text
    assert "average error of 2° or less and an SD of 2° or less" in text


def test_a_steady_aim_passes(as_coach, block, series):
    type_in(as_coach, block, series, feet_deg=["1", "0", "-1", "1", "0", "2", "0", "-1", "1", "0"])
    assert "Feet line: Passed" in shown(as_coach, block)


def test_fewer_than_ten_say_how_many_are_missing(as_coach, block, series):
    type_in(as_coach, block, series, feet_deg=["1", "2", "0"])
    assert "Not enough setups yet: 3 of 10" in shown(as_coach, block)


def test_shoulders_are_held_against_the_feet_of_the_same_setup(as_coach, block, series):
    type_in(as_coach, block, series, feet_deg=["0"] * 10, shoulders_deg=["-6"] * 10)
    text = shown(as_coach, block)
    assert "Shoulders against feet: Not passed yet" in text and "8 of 10 within 3°" in text


def test_numbers_by_eye_are_told_to_be_coarser_than_the_mark(as_coach, block, series):
    boxes = {f"look-{n}-feet_deg": "1" for n in range(1, 11)}
    as_coach.post(address(block), {"series": str(series.code), "method": "eye", **boxes})
    assert "finer than this way of looking can tell" in shown(as_coach, block)


def test_what_was_not_changed_stays_and_what_was_emptied_goes(as_coach, block, series):
    type_in(as_coach, block, series, feet_deg=["1", "2"])
    sent = {"series": str(series.code), "look-1-feet_deg": "", "was-look-1-feet_deg": "1",
            "look-2-feet_deg": "2", "was-look-2-feet_deg": "2"}
    as_coach.post(address(block), sent)
    assert [(look.number, look.value) for look in SetupLook.objects.filter(removed_at__isnull=True)] == [(2, 2.0)]


def test_a_wrong_box_is_named_and_keeps_its_text_while_the_others_are_stored(as_coach, block, series):
    answer = type_in(as_coach, block, series, feet_deg=["1", "wide"])
    text = answer.content.decode()
    assert answer.status_code == 422 and "Setup 2, Feet line:" in text and 'value="wide"' in text
    assert SetupLook.objects.count() == 1


def test_the_last_storing_can_be_taken_back(as_coach, block, series, coach):
    type_in(as_coach, block, series, feet_deg=["1", "2"])
    undo_last(by=coach, lesson=block.lesson)
    assert not SetupLook.objects.filter(removed_at__isnull=True).exists()
    assert type_in(as_coach, block, series, feet_deg=["3"]).status_code == 302


def test_the_board_s_numbers_become_the_next_setup_with_their_method(as_coach, block, series):
    note_setup(as_coach, block.lesson, feet_deg="4", ball_position_cm="8")
    for _ in range(2):
        as_coach.post(address(block, "ten_setups_board"), {"series": str(series.code), "phase": "before"})
    assert sorted(SetupLook.objects.values_list("number", "checkpoint", "method")) == [
        (1, "ball_position_cm", "eye"), (1, "feet_deg", "eye"), (2, "ball_position_cm", "eye"), (2, "feet_deg", "eye")]


def test_the_board_s_numbers_need_a_series_to_go_to(as_coach, block):
    answer = as_coach.post(address(block, "ten_setups_board"), follow=True)
    assert "Begin ten setups first" in answer.content.decode()


def test_a_photo_becomes_the_next_setup_and_leaves_the_board_alone(as_coach, block, series):
    answer = as_coach.post(address(block, "photo"), clicks(store="yes", series=str(series.code)))
    assert answer.status_code == 302 and "/setups/" in answer["Location"]
    looks = {look.checkpoint: look for look in SetupLook.objects.all()}
    assert looks["feet_deg"].value == pytest.approx(3, abs=0.01) and looks["feet_deg"].uncertainty < 1.2
    assert not SetupObservation.objects.exists()


def test_the_rules_see_mean_and_spread_of_five_setups_or_more_without_aids(as_coach, block, series):
    type_in(as_coach, block, series, feet_deg=["6", "7", "5", "8"], ball_position_cm=["1", "2", "3", "2", "1"])
    found = evidence_for(block=block)
    assert found.setup == {"ball_position_cm": pytest.approx(1.8)}
    assert found.setup_spread == {"ball_position_cm": pytest.approx(0.837, abs=1e-3)}
    aided = begin(as_coach, block, aids=["sticks"])
    type_in(as_coach, block, aided, feet_deg=["0"] * 6)
    assert "feet_deg" not in evidence_for(block=block).setup


def test_a_look_after_the_series_counts_more_and_one_before_it_less(as_coach, block, series):
    note_setup(as_coach, block.lesson, feet_deg="1")
    type_in(as_coach, block, series, feet_deg=OPEN_AIM, shoulders_deg=["0"] * 5)
    assert evidence_for(block=block).setup["feet_deg"] == pytest.approx(6.5)
    note_setup(as_coach, block.lesson, shoulders_deg="3")
    assert evidence_for(block=block).setup["shoulders_deg"] == 3


@pytest.mark.parametrize(("columns", "pattern"), [
    ({"feet_deg": OPEN_AIM}, "aims_slice_side"),
    ({"feet_deg": ["0"] * 10, "shoulders_deg": ["-6"] * 10}, "shoulders_vs_feet"),
])
def test_aim_and_shoulders_are_found_without_a_ball_being_hit(as_coach, block, series, columns, pattern):
    type_in(as_coach, block, series, **columns)
    lesson = Lesson.objects.get(pk=block.lesson_id)
    found, _ = assess(lesson=lesson, block=lesson.blocks.get())
    assert pattern in {finding.pattern for finding in found.findings}


def test_a_wrong_code_is_a_missing_page_and_other_coaches_see_nothing(client, as_coach, block, other_coach):
    assert as_coach.get(address(block), {"series": "nonsense"}).status_code == 404
    client.force_login(other_coach)
    assert client.get(address(block)).status_code == 404


def test_without_a_block_the_page_asks_for_one(as_coach, student):
    lesson = factories.make_lesson(student=student)
    assert "open a block first" in as_coach.get(reverse("lessons:ten_setups", args=[lesson.code])).content.decode()
