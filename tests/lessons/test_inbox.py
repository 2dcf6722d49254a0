"""Balls that wait: where they may go, who may put them there, and the way back. And sources with their tokens."""

import uuid

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from lessons.api import SentBall
from lessons.models import DataSource, Lesson, LiveBall, Shot
from lessons.services import history
from lessons.services.live import take
from tests import factories

INBOX = "/inbox/"


@pytest.fixture
def source(academy):
    return DataSource.objects.create(name="Bay 3")


def wait(source, *, club: str = "Driver", category: str = "driver", **numbers) -> LiveBall:
    key = uuid.uuid4()
    take(source=source, balls=[SentBall(key=key, club=club, category=category, numbers=numbers or {"carry_m": 150.0})])
    return LiveBall.objects.get(key=key)


def place(client, words: str) -> str:
    """Return the choice on the page that holds these words."""
    form = client.get(INBOX).context["form"]
    return next(name for name, _ in form.fields["place"].choices if words in name)


def post(client, do: str, *balls: LiveBall, into: str = ""):
    return client.post(INBOX, {"do": do, "balls": [ball.code for ball in balls], "place": into}, follow=True)


def test_the_page_shows_what_waits_with_club_numbers_and_source(as_coach, source):
    wait(source, club="7 iron", category="mid_iron", carry_m=137.16)
    page = as_coach.get(INBOX).content.decode()
    assert "7 iron" in page and "Bay 3" in page
    assert "150" in page  # 137.16 m are 150 yd


def test_an_empty_inbox_says_so(as_coach):
    assert "Nothing waits" in as_coach.get(INBOX).content.decode()


def test_balls_go_into_a_block_for_each_club(as_coach, source, student):
    balls = [wait(source), wait(source, club="7 iron", category="mid_iron"), wait(source)]
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    post(as_coach, "assign", *balls, into=place(as_coach, "a block for each club"))
    assert [(block.club_name, block.shots.count()) for block in lesson.blocks.order_by("position")] == [
        ("Driver", 1), ("7 iron", 1), ("Driver", 1),
    ]
    assert not LiveBall.objects.filter(shot=None).exists()


def test_a_club_that_is_not_known_needs_a_block(as_coach, source, student):
    ball = wait(source, club="Old Faithful", category="")
    factories.make_block(lesson=factories.make_lesson(student=student))
    refused = post(as_coach, "assign", ball, into=place(as_coach, "a block for each club"))
    assert refused.status_code == 422
    assert "It is not known what club “Old Faithful” is" in refused.content.decode()
    post(as_coach, "assign", ball, into=place(as_coach, "block 1, Driver"))
    assert Shot.objects.get().block.club_name == "Driver"


def test_a_left_handers_directions_are_turned_round_when_the_ball_gets_its_student(as_coach, source, student):
    student.hand = "left"
    student.save()
    ball = wait(source, club_path_deg=4.5, attack_angle_deg=2.0)
    factories.make_block(lesson=factories.make_lesson(student=student))
    post(as_coach, "assign", ball, into=place(as_coach, "block 1"))
    shot = Shot.objects.get()
    assert (shot.club_path_deg, shot.attack_angle_deg) == (-4.5, 2.0)


def test_assigning_is_undone_in_the_lesson_and_can_be_done_again(as_coach, coach, source, student):
    ball = wait(source)
    lesson = factories.make_lesson(student=student)
    factories.make_block(lesson=lesson)
    into = place(as_coach, "block 1")
    post(as_coach, "assign", ball, into=into)
    assert str(history.undo_last(by=coach, lesson=lesson)) == "1 ball taken from the inbox"
    assert not Shot.objects.present().exists()
    assert "Driver" in as_coach.get(INBOX).content.decode()
    post(as_coach, "assign", ball, into=into)
    assert Shot.objects.present().count() == 1


def test_a_second_click_assigns_nothing_twice(as_coach, source, student):
    ball = wait(source)
    factories.make_block(lesson=factories.make_lesson(student=student))
    into = place(as_coach, "block 1")
    post(as_coach, "assign", ball, into=into)
    post(as_coach, "assign", ball, into=into)
    assert Shot.objects.count() == 1


def test_a_ball_sent_again_after_it_was_assigned_or_discarded_is_already_there(as_coach, source, student):
    kept, dropped = wait(source), wait(source)
    factories.make_block(lesson=factories.make_lesson(student=student, status=Lesson.Status.FINISHED))
    post(as_coach, "assign", kept, into=place(as_coach, "block 1"))
    post(as_coach, "discard", dropped)
    again = [SentBall(key=ball.key, numbers={"carry_m": 150.0}) for ball in (kept, dropped)]
    assert [one.state for one in take(source=source, balls=again)] == ["already there", "already there"]


def test_discarded_balls_can_be_put_back(as_coach, source):
    ball = wait(source)
    post(as_coach, "discard", ball)
    assert "Nothing waits" in as_coach.get(INBOX).content.decode()
    post(as_coach, "back", ball)
    assert "Nothing waits" not in as_coach.get(INBOX).content.decode()


def test_a_colleagues_lesson_is_no_place_for_them(as_coach, source, other_coach):
    ball = wait(source)
    theirs = factories.make_lesson(student=factories.make_student(coach=other_coach, name="Tove Lind"))
    block = factories.make_block(lesson=theirs)
    assert "Tove Lind" not in as_coach.get(INBOX).content.decode()
    start = timezone.localtime(theirs.starts_at)
    response = post(as_coach, "assign", ball, into=f"Tove Lind, {start:%-d %B %H:%M}: block {block.position}, Driver")
    assert response.status_code == 422


def test_choosing_no_ball_or_no_place_is_said(as_coach, source):
    ball = wait(source)
    assert "Choose at least one ball" in post(as_coach, "discard").content.decode()
    assert "Choose the lesson or block" in post(as_coach, "assign", ball).content.decode()


def test_a_token_is_shown_once_and_works_until_it_is_ended(as_coach, source):
    page = as_coach.post(reverse("lessons:token_issue", args=[source.code])).content.decode()
    token = page.split('id="token">')[1].split("<")[0]
    assert token not in as_coach.get("/sources/").content.decode()
    message = {"key": str(uuid.uuid4()), "numbers": {"carry_m": 100}}

    def send() -> int:
        return Client().post(
            "/api/v1/shots", data=message, content_type="application/json",
            headers={"authorization": f"Bearer {token}"},
        ).status_code

    assert send() == 200
    assert "never" not in as_coach.get("/sources/").content.decode()
    as_coach.post(reverse("lessons:token_revoke", args=[source.code]))
    assert send() == 401


def test_a_source_is_added_once_under_one_name(as_coach):
    values = {"name": "Net room", "file_sign": "player", "carry_provenance": "computed", "is_indoor_model": "on"}
    assert as_coach.post("/sources/", values).status_code == 302
    assert as_coach.post("/sources/", values).status_code == 422
    source = DataSource.objects.get()
    assert (source.file_sign, source.is_indoor_model) == ("player", True)


def test_the_number_that_waits_stands_beside_nothing_else_in_the_navigation(as_coach, source):
    wait(source)
    assert "waiting</span>" not in as_coach.get(INBOX).content.decode().split("</nav>")[0]
