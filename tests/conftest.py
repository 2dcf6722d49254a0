"""The cast of every test: an owner, a coach, a second coach, a student; and the browser's ways."""

import os
import shutil

import pytest

from . import factories
from .gate import gate

CHROMIUM = os.environ.get("HOLDFAST_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
BROWSES = {"page", "context", "live_server"}
"""Fixtures by which a browser test is known; one that opens its own windows still needs the live server."""


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict:
    return {
        "executable_path": CHROMIUM,
        "args": [
            "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
            "--disable-component-update", "--disable-sync",
            # A camera that Chromium makes up, allowed without asking.
            "--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream",
        ],
    }


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args) -> dict:
    """Pages fetch nothing behind a test's back; what works without a network is tested with a worker of its own."""
    return {**browser_context_args, "service_workers": "block"}


def pytest_collection_modifyitems(config, items) -> None:
    """Mark what uses a page as a browser test, and skip it with a sentence where Chromium is missing."""
    for item in items:
        if BROWSES & set(getattr(item, "fixturenames", ())):
            item.add_marker("browser")
            if CHROMIUM is None:
                if os.environ.get("CI"):
                    raise pytest.UsageError("Chromium is missing; in CI the browser tests must run.")
                item.add_marker(pytest.mark.skip(reason="Chromium is not installed, so no page can be opened."))


@pytest.fixture(autouse=True)
def _no_late_requests(request):
    """Set up after the tables of a browser test and so taken down before they are emptied."""
    browses = "live_server" in request.fixturenames
    if browses:
        request.getfixturevalue("transactional_db")
    gate.open()
    yield
    if browses:
        gate.shut()


@pytest.fixture
def academy(db):
    return factories.make_academy()


@pytest.fixture
def coach(academy):
    return factories.make_coach("coach", first_name="Runa", last_name="Holm", is_coach=True)


@pytest.fixture
def other_coach(academy):
    return factories.make_coach("other", first_name="Piet", last_name="Arden", is_coach=True)


@pytest.fixture
def owner(academy):
    return factories.make_coach("owner", first_name="Ines", last_name="Quill", is_owner=True, is_coach=False)


@pytest.fixture
def student(coach):
    return factories.make_student(coach=coach)


@pytest.fixture
def as_coach(client, coach):
    client.force_login(coach)
    return client
