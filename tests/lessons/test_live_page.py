"""An open lesson shows balls that come by themselves, at little cost, and leaves whoever types alone."""

import json
import re
import uuid

import pytest
from django.test import Client
from django.urls import reverse
from playwright.sync_api import expect

from lessons.api import SentBall
from lessons.models import DataSource, Lesson
from lessons.queries.stamp import mark_of
from lessons.services.live import take
from lessons.services.shots import remove_ball
from lessons.services.sources import issue_token
from tests import browser as tests_browser
from tests import factories


@pytest.fixture
def source(academy):
    source = DataSource.objects.create(name="Bay 3")
    source.token = issue_token(source=source)
    return source


@pytest.fixture
def lesson(student, source):
    lesson = factories.make_lesson(student=student, device=source)
    factories.make_block(lesson=lesson)
    return lesson


def send(source, **values):
    return take(source=source, balls=[SentBall(key=uuid.uuid4(), numbers={"carry_m": 150.0}, **values)])


def ask(client, lesson, **knows):
    return client.get(reverse("lessons:live", args=[lesson.code]), knows)


def up_to_date(client, lesson, **more):
    """Ask the way a page does that was drawn before any ball came."""
    return ask(client, lesson, block=lesson.blocks.first().code, mark="0.0", waiting=0, every=0.5, **more)


def test_nothing_new_is_an_empty_answer_of_a_fixed_cost(as_coach, lesson, source, django_assert_num_queries):
    send(source)
    block = lesson.blocks.first()
    knows = {"block": block.code, "mark": mark_of(lesson), "waiting": 0, "every": 0.5}
    for _ in (1, 2):
        # Session, person, academy, lesson, attached, history, waiting.
        with django_assert_num_queries(7):
            assert ask(as_coach, lesson, **knows).status_code == 204
        factories.make_block(lesson=factories.make_lesson(student=lesson.student, status=Lesson.Status.FINISHED))


def test_a_new_ball_comes_with_its_row_and_the_line_at_the_top(as_coach, lesson, source):
    send(source)
    page = up_to_date(as_coach, lesson).content.decode()
    shot = lesson.blocks.first().shots.get()
    assert f'id="ball-{shot.key}"' in page and 'id="topline"' in page and 'id="desk-count"' in page
    assert f"mark={mark_of(lesson)}" in page
    assert "<input" not in page.split('id="topline"')[0]


def test_balls_of_another_club_are_named_with_the_way_to_their_block(as_coach, lesson, source):
    send(source, club="7 iron", category="mid_iron")
    page = up_to_date(as_coach, lesson).content.decode()
    assert "Block 2, 7 iron: 1 ball" in page
    assert "<li id=" not in page


def test_two_running_lessons_with_one_device_are_told_that_its_balls_wait(as_coach, lesson, source, student):
    factories.make_lesson(student=factories.make_student(coach=student.coach, name="Bo Fenwick"), device=source)
    send(source)
    page = up_to_date(as_coach, lesson).content.decode()
    assert "another running lesson uses it too, so nobody can tell whose they are" in page
    assert "Balls come in by themselves" not in page and "1 ball waits in the inbox" in page


def test_what_waits_in_the_inbox_is_said(as_coach, lesson, source):
    send(source, club="Old Faithful")
    assert "1 ball waits in the inbox" in up_to_date(as_coach, lesson).content.decode()


@pytest.mark.parametrize(("case", "seconds"), [("no token", 3), ("finished", 15)])
def test_a_page_to_which_only_people_can_bring_balls_asks_less_often(as_coach, lesson, source, case, seconds):
    if case == "no token":
        DataSource.objects.update(token_digest="")
    else:
        Lesson.objects.update(status=Lesson.Status.FINISHED)
    assert f'data-every="{seconds}"' in up_to_date(as_coach, lesson).content.decode()


def test_a_ball_taken_out_elsewhere_leaves_the_list_and_the_lines_of_the_stops_follow(as_coach, lesson, coach):
    factories.add_balls(block=lesson.blocks.get(), club_path_deg=[1.0, 2.0])
    knew = mark_of(lesson)
    gone, kept = lesson.blocks.get().shots.order_by("-number")
    remove_ball(by=coach, shot=gone)
    page = ask(as_coach, lesson, block=lesson.blocks.get().code, mark=knew).content.decode()
    assert f"ball-{kept.key}" in page and f"ball-{gone.key}" not in page
    assert re.search(r'id="gist-without"[^>]*>1 ball', page)


@pytest.mark.parametrize("knows", [{"after": "x"}, {"after": str(uuid.uuid4())}, {"block": "x"}, {"waiting": "−1"}])
def test_odd_questions_get_an_answer_all_the_same(as_coach, lesson, knows):
    assert ask(as_coach, lesson, **knows).status_code in {200, 204}


@pytest.mark.django_db(transaction=True)
def test_a_posted_ball_appears_while_somebody_types_on(page, live_server, coach, lesson, source):
    tests_browser.sign_in(page, live_server, coach)
    seen = tests_browser.watch(page, live_server)
    page.set_viewport_size(tests_browser.WIDE)
    page.goto(live_server.url + reverse("lessons:lesson", args=[lesson.code]))
    box = page.locator("#ball-carry_m")
    box.click()
    page.wait_for_selector("#live:not([hidden])")
    page.keyboard.type("17")
    key = uuid.uuid4()
    answer = Client().post(
        "/api/v1/shots", content_type="application/json", headers={"authorization": f"Bearer {source.token}"},
        data=json.dumps({"key": str(key), "numbers": {"carry_m": 150}}),
    )
    assert answer.json()["shots"][0]["state"] == "stored"
    page.wait_for_selector(f"#ball-{key}", timeout=4000)
    page.keyboard.type("5")
    assert box.input_value() == "175"
    assert page.evaluate("document.activeElement.id") == "ball-carry_m"
    assert "1 ball" in page.locator("#topline").inner_text()
    page.keyboard.press("Enter")
    page.locator("#ball-list .saved").nth(1).wait_for()
    expect(page.locator("#gist-without")).to_have_text(re.compile("^2 balls"))  # the line follows without a reload
    page.wait_for_timeout(1500)
    assert page.locator("#ball-list li").count() == 2
    seen.assert_clean()


@pytest.mark.django_db(transaction=True)
def test_a_second_device_shows_what_the_first_one_entered_and_took_back(browser, live_server, coach, lesson):
    DataSource.objects.update(token_digest="")
    pages = []
    for _ in ("laptop", "tablet"):
        page = tests_browser.sign_in(browser.new_context().new_page(), live_server, coach)
        page.goto(live_server.url + reverse("lessons:lesson", args=[lesson.code]))
        page.locator("#desk[data-ready]").wait_for()
        pages.append(page)
    laptop, tablet = pages
    tablet.locator("#ball-carry_m").fill("18")
    laptop.locator("#ball-carry_m").fill("150")
    laptop.keyboard.press("Enter")
    expect(tablet.locator("#ball-list .saved")).to_have_count(1, timeout=8000)
    expect(tablet.locator("#ball-carry_m")).to_have_value("18")
    laptop.keyboard.press("u")
    expect(tablet.locator("#ball-list li")).to_have_count(0, timeout=8000)
    for page in pages:
        page.context.close()


def test_pain_told_in_the_middle_keeps_full_swings_off_beside_the_balls_without_a_reload(as_coach, lesson):
    factories.make_block(lesson=lesson)
    told = {"key": str(uuid.uuid4()), "area": "low_back", "severity": "5"}
    as_coach.post(reverse("lessons:pain", args=[lesson.code]), told, headers={"HX-Request": "true"})
    answer = up_to_date(as_coach, lesson).content.decode()
    assert "No long game today" in answer.split('id="desk-stopped"')[1]
