"""The server dies in the middle of a lesson: balls wait in the browser and are sent once, in order, when it is back.

A real server process on a data folder of its own, killed with SIGKILL.
"""

import os
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

ROOT = Path(__file__).resolve().parents[2]
PREPARE = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
from academy.share import issue_entry
from tests import factories
factories.make_academy()
coach = factories.make_coach("coach", is_coach=True)
lesson = factories.make_lesson(student=factories.make_student(coach=coach), pain_asked=True)
factories.make_block(lesson=lesson, reading="calls")
print(lesson.code, issue_entry(coach=coach))
"""


@dataclass
class Server:
    """One server on one data folder, to be killed and started again on the same port."""

    home: Path
    port: int
    process: subprocess.Popen | None = None

    @property
    def environment(self) -> dict:
        kept = {name: value for name, value in os.environ.items() if name not in {"DATABASE_URL", "HOLDFAST_DEMO"}}
        return {**kept, "HOLDFAST_HOME": str(self.home), "DJANGO_SETTINGS_MODULE": "academy.settings"}

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def prepare(self) -> list[str]:
        done = subprocess.run(
            [sys.executable, "manage.py", "shell", "-v", "0", "-c", PREPARE], cwd=ROOT, env=self.environment,
            capture_output=True, text=True, check=True,
        )
        return done.stdout.split()[-2:]

    def start(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "manage.py", "start", "--no-browser", "--port", str(self.port)], cwd=ROOT,
            env=self.environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )
        tries = 600
        while tries:
            try:
                urllib.request.urlopen(f"{self.url}/static/mark.svg", timeout=5).close()
                return
            except (urllib.error.URLError, OSError):
                tries -= 1
                time.sleep(0.1)
        pytest.fail("the server did not start")

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def balls(self) -> list[tuple]:
        """Read the stored balls past the program, straight from the file."""
        with sqlite3.connect(self.home / "academy" / "holdfast.sqlite3") as database:
            return database.execute(
                "select number, called_start, called_curve from lessons_shot where removed_at is null order by number"
            ).fetchall()


@pytest.fixture(scope="module")
def prepared(tmp_path_factory):
    """Make the academy once; every test works on a copy of its folder."""
    home = tmp_path_factory.mktemp("prepared")
    return home, Server(home=home, port=0).prepare()


@pytest.fixture
def server(tmp_path, prepared):
    shutil.copytree(prepared[0], tmp_path / "home")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = Server(home=tmp_path / "home", port=port)
    yield server
    if server.process and server.process.poll() is None:
        server.kill()


@pytest.fixture
def desk(server, prepared, page: Page):
    """The lesson page of a running server, signed in."""
    code, token = prepared[1]
    server.start()
    page.goto(f"{server.url}/entry/{token}/")
    page.goto(f"{server.url}/lessons/{code}/")
    expect(page.locator("#desk[data-ready]")).to_be_visible()
    return page


def call(page: Page, *digits: str) -> None:
    for digit in digits:
        page.keyboard.press(digit)
        page.keyboard.press("Enter")


def saved(page: Page, count: int) -> None:
    expect(page.locator("#ball-list > li .saved")).to_have_count(count, timeout=60_000)


FLIGHTS = {"5": (0, 0), "9": (1, -1), "4": (-1, 0), "2": (0, 1), "7": (-1, -1)}


def test_balls_entered_while_the_server_is_dead_are_sent_once_and_in_order(server, desk):
    call(desk, "5", "9")
    saved(desk, 2)
    server.kill()
    assert len(server.balls()) == 2, "what was shown as stored is stored"
    call(desk, "4", "2", "7")
    expect(desk.get_by_text("3 balls waiting to be sent").first).to_be_visible(timeout=20_000)
    expect(desk.locator("#ball-list > li .waiting")).to_have_count(3)
    server.start()
    saved(desk, 5)
    expect(desk.locator("#queue-line")).to_be_hidden()
    assert [ball[1:] for ball in server.balls()] == [FLIGHTS[digit] for digit in "59427"]
    assert [ball[0] for ball in server.balls()] == [1, 2, 3, 4, 5]


def test_two_tabs_wait_together_and_both_show_what_was_stored(server, desk):
    other = desk.context.new_page()
    other.goto(desk.url)
    expect(other.locator("#desk[data-ready]")).to_be_visible()
    server.kill()
    call(other, "9")
    call(desk, "4")
    for tab in (desk, other):
        expect(tab.locator("#ball-list > li .waiting")).to_have_count(2)
    server.start()
    for tab in (desk, other):
        saved(tab, 2)
    assert [ball[1:] for ball in server.balls()] == [FLIGHTS["9"], FLIGHTS["4"]]


def test_a_browser_closed_while_balls_wait_sends_them_at_the_next_visit(server, desk):
    server.kill()
    call(desk, "4", "2")
    address, context = desk.url, desk.context
    expect(desk.locator("#ball-list > li .waiting")).to_have_count(2)
    desk.close()
    server.start()
    again = context.new_page()
    again.goto(address)
    saved(again, 2)
    assert [ball[1:] for ball in server.balls()] == [FLIGHTS["4"], FLIGHTS["2"]]


def test_a_waiting_ball_taken_back_is_gone_after_the_return_and_the_others_are_there(server, desk):
    server.kill()
    call(desk, "4", "2", "7")
    expect(desk.locator("#ball-list > li .waiting")).to_have_count(3)
    desk.keyboard.press("u")
    expect(desk.get_by_text("taken back")).to_be_visible()
    server.start()
    expect(desk.locator("#ball-list > li")).to_have_count(2, timeout=60_000)
    saved(desk, 2)
    assert [ball[1:] for ball in server.balls()] == [FLIGHTS["4"], FLIGHTS["2"]]


def test_an_answer_that_was_lost_on_the_way_stores_no_second_ball(server, desk):
    lost = []

    def swallow(route) -> None:
        """The server stores the ball; its answer never arrives."""
        route.fetch()
        lost.append(route.request.url)
        route.abort()

    desk.route("**/balls/", swallow, times=1)
    call(desk, "9")
    saved(desk, 1)
    assert len(lost) == 1
    assert [ball[1:] for ball in server.balls()] == [FLIGHTS["9"]]


def test_a_form_sent_to_a_dead_server_leaves_the_page_and_the_balls_where_they_are(server, desk):
    call(desk, "5")
    saved(desk, 1)
    server.kill()
    desk.keyboard.press("n")
    expect(desk.get_by_text("The server does not answer. Nothing was changed")).to_be_visible()
    assert "/lessons/" in desk.url and desk.locator("#ball-list > li").count() == 1
