"""What another program may send, and what becomes of it."""

import json
import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import Change
from lessons.models import Block, Lesson, LiveBall, Shot
from lessons.services import history
from lessons.services.sources import MESSAGES_A_MINUTE, issue_token, revoke_token
from tests import factories

from .conftest import shot


def states(response) -> list[str]:
    assert response.status_code == 200, response.content
    return [one["state"] for one in response.json()["shots"]]


def fields(response) -> list[tuple]:
    return [(error["shot"], error["field"]) for error in response.json()["errors"]]


def test_a_ball_goes_into_the_lesson_of_its_device(send, lesson):
    assert states(send(shot(numbers={"club_path_deg": 4.5, "carry_m": {"value": 200, "unit": "yd"}}))) == ["stored"]
    ball = Shot.objects.get()
    assert (ball.block.lesson, ball.club_path_deg, ball.source) == (lesson, 4.5, "device")
    assert ball.carry_m == pytest.approx(182.88)  # international yard, exact since 1959
    assert ball.carry_provenance == "measured"
    ball.block.refresh_from_db()
    assert ball.block.summary["balls"] == 1


def test_the_same_key_is_stored_once_however_often_it_is_sent(send, lesson):
    message = [shot(), shot()]
    assert states(send(message)) == ["stored", "stored"]
    assert states(send([*message, shot()])) == ["already there", "already there", "stored"]
    assert Shot.objects.count() == 3


def test_a_left_handers_directions_are_turned_round_once(send, lesson, student):
    student.hand = "left"
    student.save()
    send(shot(numbers={"club_path_deg": 4.5, "attack_angle_deg": -2.0}, calls={"start": 1, "curve": -2, "height": 1}))
    ball = Shot.objects.get()
    assert (ball.club_path_deg, ball.attack_angle_deg) == (-4.5, -2.0)
    assert (ball.called_start, ball.called_curve, ball.called_height) == (-1, 2, 1)


def test_a_source_that_speaks_the_players_way_is_not_turned_round(send, lesson, student, source):
    student.hand, source.file_sign = "left", "player"
    student.save()
    source.save()
    send(shot())
    assert Shot.objects.get().club_path_deg == 4.5


def test_another_club_opens_a_block_of_its_own(send, lesson):
    assert states(send([shot(), shot(club="7 iron"), shot(club="7i")])) == ["stored"] * 3
    assert [(block.club_name, block.shots.count()) for block in Block.objects.order_by("position")] == [
        ("Driver", 1), ("7 iron", 2),
    ]


def test_one_message_is_one_change_that_can_be_taken_back(send, lesson, coach):
    send([shot(), shot()])
    change = history.undo_last(by=coach, lesson=lesson)
    assert str(change) == "2 balls came from Bay 3"
    assert not Shot.objects.present().exists()


def test_the_only_running_lesson_takes_balls_of_any_source_and_remembers_the_source(send, student, source):
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    assert states(send(shot())) == ["stored"]
    lesson.refresh_from_db()
    assert lesson.device == source


@pytest.mark.parametrize("case", ["none", "two", "finished", "old"])
def test_without_one_lesson_to_go_to_balls_wait(send, student, case):
    if case == "two":
        factories.make_lesson(student=student)
        factories.make_lesson(student=student)
    if case == "finished":
        factories.make_lesson(student=student, status=Lesson.Status.FINISHED)
    if case == "old":
        factories.make_lesson(student=student, days_ago=2)
    message = shot(numbers={"club_path_deg": 4.5})
    assert states(send(message)) == ["waiting"]
    assert states(send(message)) == ["waiting"]
    assert LiveBall.objects.get().numbers == {"club_path_deg": 4.5}
    assert not Shot.objects.exists()


def test_a_club_that_is_not_known_waits_instead_of_going_into_the_wrong_block(send, lesson):
    assert states(send([shot(), shot(club="Old Faithful")])) == ["stored", "waiting"]


@pytest.mark.parametrize(("change", "where"), [
    ({"numbers": {"carry_m": 900}}, "numbers.carry_m"),
    ({"numbers": {"carry_m": True}}, "numbers.carry_m"),
    ({"numbers": {"carry_m": "150"}}, "numbers.carry_m"),
    ({"numbers": {"carry_m": {"value": 150, "unit": "mph"}}}, "numbers.carry_m"),
    ({"numbers": {"carry_m": {"value": 150}}}, "numbers.carry_m"),
    ({"numbers": {"weight_kg": 1}}, "numbers.weight_kg"),
    ({"numbers": []}, "numbers"),
    ({"numbers": {}}, "numbers"),
    ({"calls": {"start": 2}}, "calls.start"),
    ({"calls": {"start": True}}, "calls.start"),
    ({"calls": {"smell": 1}}, "calls.smell"),
    ({"club": "x" * 41}, "club"),
    ({"club": "iron\x00"}, "club"),
    ({"club": "\ud800"}, "club"),
    ({"hit_at": "2026-05-04T10:31:07"}, "hit_at"),
    ({"hit_at": "0001-01-01T00:00:00+14:00"}, "hit_at"),
    ({"hit_at": 5}, "hit_at"),
    ({"key": "no key"}, "key"),
    ({"key": None}, "key"),
    ({"colour": "red"}, "colour"),
])
def test_what_cannot_be_taken_is_named_field_by_field_and_nothing_is_stored(send, lesson, change, where):
    response = send([shot(), shot(**change)])
    assert response.status_code == 422
    assert fields(response) == [(1, where)]
    assert not Shot.objects.exists() and not LiveBall.objects.exists()


@pytest.mark.parametrize("number", [b"NaN", b"Infinity", b"-Infinity", b"1e400", b"1" + b"0" * 400])
def test_numbers_that_are_none_are_refused_beside_their_field(send, lesson, number):
    key = str(uuid.uuid4()).encode()
    response = send(None, raw=b'{"key": "' + key + b'", "numbers": {"carry_m": ' + number + b"}}")
    assert (response.status_code, fields(response)) == (422, [(0, "numbers.carry_m")])
    assert not Shot.objects.exists()


def test_every_wrong_field_of_a_message_is_named_at_once(send, lesson):
    response = send([shot(numbers={"carry_m": -1, "spin_rpm": "x"}), shot(club=5)])
    assert fields(response) == [(0, "numbers.carry_m"), (0, "numbers.spin_rpm"), (1, "club")]


def test_one_key_twice_in_a_message_is_refused(send, lesson):
    one = shot()
    assert fields(send([one, one])) == [(1, "key")]


@pytest.mark.parametrize(("raw", "status"), [
    (b" ", 400), (b"{", 400), (b"\xff\xfe", 400), (b"[" * 100_000, 400), (b'{"key": 1, "key": 2}', 400),
    (b"[]", 422), (b"5", 422), (b"null", 422), (b"[" + b"{}," * 200 + b"{}]", 422),
    (b" " * (256 * 1024 + 1), 413),
])
def test_a_message_that_is_no_list_of_shots_is_refused_with_a_sentence(send, lesson, raw, status):
    response = send(None, raw=raw)
    assert response.status_code == status
    assert response.json()["errors"][0]["problem"].endswith(".")


def test_another_kind_of_content_is_refused(send, lesson):
    assert send(shot(), kind="text/plain").status_code == 415


@pytest.mark.parametrize("bearer", ["", "wrong", "\u00e9" * 50])
def test_a_wrong_token_opens_nothing(send, lesson, bearer):
    response = send(shot(), bearer=bearer)
    assert response.status_code == 401
    assert response["WWW-Authenticate"].startswith("Bearer")
    assert not Shot.objects.exists()


def test_a_revoked_token_and_the_one_before_a_new_one_end_at_once(send, source, lesson):
    fresh = issue_token(source=source)
    assert send(shot()).status_code == 401
    assert send(shot(), bearer=fresh).status_code == 200
    revoke_token(source=source)
    assert send(shot(), bearer=fresh).status_code == 401


def test_a_session_of_a_coach_opens_nothing_without_a_token(as_coach, lesson):
    response = as_coach.post("/api/v1/shots", data=json.dumps(shot()), content_type="application/json")
    assert response.status_code == 401


def test_the_token_is_kept_as_a_keyed_digest_only(source):
    token = issue_token(source=source)
    source.refresh_from_db()
    kept = json.dumps([str(getattr(source, field.name)) for field in source._meta.fields])
    assert token not in kept and token[8:] not in kept


def test_too_many_messages_in_a_minute_have_to_wait_and_the_count_lies_in_the_database(send, source, lesson):
    source.minute_began_at, source.minute_calls = timezone.now(), MESSAGES_A_MINUTE - 1
    source.save()
    assert send(shot()).status_code == 200
    refused = send(shot())
    assert refused.status_code == 429
    assert 1 <= int(refused["Retry-After"]) <= 61
    source.refresh_from_db()
    source.minute_began_at -= timedelta(minutes=1)
    source.save()
    assert send(shot()).status_code == 200


def test_a_clock_that_went_back_does_not_shut_the_door(send, source, lesson):
    source.minute_began_at, source.minute_calls = timezone.now() + timedelta(hours=3), MESSAGES_A_MINUTE
    source.save()
    assert send(shot()).status_code == 200


def test_balls_in_the_inbox_leave_no_trace_in_a_students_history(send, student):
    send(shot())
    assert not Change.objects.exists()
