"""Storing balls: at once, once, and undoably."""

import uuid
from datetime import UTC, datetime

import pytest
from django.core.exceptions import ValidationError

from academy.journal import CannotUndo
from lessons.frames import shots_of
from lessons.models import Shot
from lessons.services import history
from lessons.services import shots as service
from tests import factories


@pytest.fixture
def block(student):
    return factories.make_block(lesson=factories.make_lesson(student=student))


def test_a_ball_sent_twice_with_one_key_is_stored_once(block, coach):
    key = uuid.uuid4()
    first, new = service.add_ball(by=coach, block=block, key=key, numbers={"club_path_deg": 3.0})
    again, new_again = service.add_ball(by=coach, block=block, key=key, numbers={"club_path_deg": 9.0})
    assert (new, new_again) == (True, False)
    assert again.pk == first.pk and again.club_path_deg == 3.0
    assert Shot.objects.count() == 1


def test_balls_are_numbered_in_the_order_they_come(block, coach):
    for _ in range(3):
        service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 150.0})
    assert list(Shot.objects.values_list("number", flat=True)) == [1, 2, 3]


def test_a_number_that_cannot_be_is_refused_with_what_was_expected(block, coach):
    with pytest.raises(ValidationError, match=r"Club path: 300 ° was found; expected -30 to 30"):
        service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"club_path_deg": 300.0})
    assert not Shot.objects.exists()


def test_not_a_number_is_refused(block, coach):
    with pytest.raises(ValidationError, match="expected"):
        service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": float("nan")})


def test_an_empty_ball_is_refused(block, coach):
    with pytest.raises(ValidationError, match="no number and no call"):
        service.add_ball(by=coach, block=block, key=uuid.uuid4())


def test_many_balls_come_back_as_they_were_written(block):
    paths = [1.5, -2.25, 0.0]
    assert factories.add_balls(block=block, club_path_deg=paths, carry_m=[200.0, 210.5, 190.0]) == 3
    stored = shots_of([block])[block.pk]
    assert stored.numbers["club_path_deg"].tolist() == paths
    assert stored.count == 3


def test_exact_differences_are_filled_in_and_named_as_derived(block):
    factories.add_balls(
        block=block, club_path_deg=[4.0], face_angle_deg=[1.5], ball_speed_mps=[60.0], club_speed_mps=[40.0]
    )
    stored = shots_of([block])[block.pk]
    assert stored.numbers["face_to_path_deg"].tolist() == [-2.5]
    assert stored.numbers["smash_factor"].tolist() == [1.5]
    assert stored.derived == {"face_to_path_deg", "smash_factor"}
    assert Shot.objects.get().face_to_path_deg is None


def test_the_summary_of_a_block_follows_its_balls(block, coach):
    factories.add_balls(block=block, club_path_deg=[1.0, 2.0, 3.0])
    block.refresh_from_db()
    assert block.summary["numbers"]["club_path_deg"]["mean"] == 2.0
    ball = Shot.objects.get(number=3)
    service.change_ball(by=coach, shot=ball, excluded_reason="hit the mat edge")
    block.refresh_from_db()
    assert block.summary["numbers"]["club_path_deg"]["n"] == 2
    assert block.summary["numbers"]["club_path_deg"]["mean"] == 1.5
    assert block.summary["balls"] == 3


def test_undo_takes_the_last_ball_back_and_the_summary_with_it(block, coach):
    service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"club_path_deg": 3.0})
    service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"club_path_deg": 5.0})
    history.undo_last(by=coach, lesson=block.lesson)
    assert Shot.objects.present().count() == 1
    block.refresh_from_db()
    assert block.summary["balls"] == 1


def test_a_ball_put_back_whose_number_is_taken_gets_the_next_free_one(block, coach):
    def add():
        return service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 150.0})[0]
    add()
    second = add()
    service.remove_ball(by=coach, shot=second)
    out = history.changes_of(lesson=block.lesson)[0]
    assert add().number == 2
    history.undo_change(by=coach, change=out)
    assert sorted(Shot.objects.present().values_list("number", flat=True)) == [1, 2, 3]
    second.refresh_from_db()
    assert second.number == 3


def test_undo_puts_a_corrected_number_back(block, coach):
    shot, _ = service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"club_path_deg": 3.0})
    service.change_ball(by=coach, shot=shot, club_path_deg=4.0)
    history.undo_last(by=coach, lesson=block.lesson)
    shot.refresh_from_db()
    assert shot.club_path_deg == 3.0


def test_undo_refuses_where_somebody_changed_the_value_since(block, coach):
    shot, _ = service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"club_path_deg": 3.0})
    service.change_ball(by=coach, shot=shot, club_path_deg=4.0)
    change = history.changes_of(lesson=block.lesson)[0]
    Shot.objects.filter(pk=shot.pk).update(club_path_deg=7.0)
    with pytest.raises(CannotUndo, match="changed again since"):
        history.undo_change(by=coach, change=change)
    shot.refresh_from_db()
    assert shot.club_path_deg == 7.0


def test_a_ball_far_shorter_than_the_own_median_is_tagged_kept_and_shown_with_and_without(block):
    factories.add_balls(block=block, carry_m=[200.0, 205.0, 195.0, 198.0, 202.0, 118.0])
    block.refresh_from_db()
    assert Shot.objects.get(is_mishit=True).carry_m == 118.0
    assert block.summary["mishits"] == 1
    assert block.summary["numbers"]["carry_m"]["n"] == 6
    assert block.summary["numbers_struck"]["carry_m"]["n"] == 5


def test_a_tag_goes_when_the_number_behind_it_was_a_typing_error(block, coach):
    factories.add_balls(block=block, carry_m=[200.0, 205.0, 195.0, 198.0, 202.0, 20.0])
    service.change_ball(by=coach, shot=Shot.objects.get(is_mishit=True), carry_m=200.0)
    assert not Shot.objects.filter(is_mishit=True).exists()


def test_below_five_balls_no_number_makes_a_mishit(block):
    factories.add_balls(block=block, carry_m=[200.0, 205.0, 195.0, 20.0])
    assert not Shot.objects.filter(is_mishit=True).exists()


def test_a_ball_called_topped_is_a_mishit_without_any_number(block):
    factories.add_call(block=block, called_start=0, called_curve=0, contact="top")
    factories.add_call(block=block, called_start=0, called_curve=0, contact="clean")
    assert [ball.is_mishit for ball in Shot.objects.order_by("number")] == [True, False]


def test_many_balls_get_keys_of_their_own_that_are_random_uuids(block, coach):
    service.add_balls(by=coach, block=block, columns={"carry_m": [150.0] * 300})
    keys = list(Shot.objects.values_list("key", flat=True))
    assert len(set(keys)) == 300
    assert {(key.version, key.variant) for key in keys} == {(4, uuid.RFC_4122)}


def test_moments_and_keys_that_are_given_come_back_as_they_were(block, coach):
    moments = [datetime(2026, 5, 1, 10, 0, second, 250_000, tzinfo=UTC) for second in range(3)]
    keys = [uuid.uuid4() for _ in moments]
    service.add_balls(by=coach, block=block, columns={"carry_m": [150.0] * 3, "hit_at": moments, "key": keys})
    assert list(Shot.objects.order_by("number").values_list("key", "hit_at")) == list(zip(keys, moments, strict=True))
