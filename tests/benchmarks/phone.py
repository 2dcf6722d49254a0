"""The student's page on a slow phone: when it can be read, and how much had to come over the air.

The phone is a desktop browser with its processor four times slower and a 10 Mbit/s line with 40 ms of delay, with
nothing kept from an earlier visit. Needs Chromium.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from statistics import median
from typing import Any

from .browser import chromium, served
from .figure import Figure
from .ground import lay
from .rows import thirty_visits

SLOWER, MEGABIT, DELAY_MS = 4, 10, 40
READABLE_S, WEIGHT_KB = 1.5, 120
REPEATS = 5
_ONE_LINE = "<!doctype html><title>floor</title><p>toes on the railway line</p>"
_PAINTED = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null"
_CARRIED = """performance.getEntriesByType('navigation').concat(performance.getEntriesByType('resource'))
    .reduce((sum, entry) => sum + entry.transferSize, 0)"""


def run() -> Iterator[Figure]:
    """Yield the figures of one run."""
    lay()
    student = _student()
    with served({"/floor/": _ONE_LINE}) as address, _phone() as open_page:
        ours = [open_page(f"{address}/me/", _cookie(student)) for _ in range(REPEATS)]
        floor = [open_page(f"{address}/floor/", None) for _ in range(REPEATS)]
    painted, least = (median(time for time, _ in rows) / 1000 for rows in (ours, floor))
    yield Figure(
        what=f"private page can be read, slow phone (budget {READABLE_S} s on a quiet machine)", ours=painted,
        floor=least, unit="s", limit=5, direction="at most",
        why="one line of text from the same server over the same line: no page paints sooner, on this machine now.",
    )
    yield Figure(
        what="private page with style and scripts, as carried", ours=ours[0][1] / 1024, floor=WEIGHT_KB, unit="kB",
        limit=1, direction="at most", why="the budget before any picture or chart is opened.",
    )


def _student() -> Any:
    """Return a student of thirty visits with a change, its setup and two drills: a full first view."""
    from tests.lessons.private import cast

    student = thirty_visits(balls_a_visit=40)
    last = student.lessons.first()
    cast.change(lesson=last)
    cast.setup(lesson=last, feet_deg=3.0, shoulders_deg=1.0, ball_position_cm=2.0, stance_width_ratio=1.1)
    cast.drill(student=student, lesson=last)
    cast.drill(student=student, lesson=last, drill="mirror-setup")
    return student


@contextmanager
def _phone() -> Iterator[Any]:
    """Yield a function that opens an address on a phone without memory: (ms to the first text, bytes carried)."""
    with chromium() as browser:
        def open_page(address: str, cookie: dict[str, str] | None) -> tuple[float, float]:
            context = browser.new_context(viewport={"width": 390, "height": 844})
            if cookie is not None:
                context.add_cookies([{**cookie, "url": address}])
            page = context.new_page()
            _slow_down(context.new_cdp_session(page))
            page.goto(address)
            page.wait_for_load_state("networkidle")
            found = float(page.evaluate(_PAINTED)), float(page.evaluate(_CARRIED))
            context.close()
            return found

        yield open_page


def _slow_down(session: Any) -> None:
    rate = MEGABIT * 1_000_000 / 8
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", {
        "offline": False, "latency": DELAY_MS, "downloadThroughput": rate, "uploadThroughput": rate,
    })
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def _cookie(student: Any) -> dict[str, str]:
    """Return the session of a browser that has exchanged a link of this student."""
    from django.conf import settings
    from django.test import Client

    from academy import share

    _, token = share.issue_link(student=student, by=student.coach)
    client = Client()
    client.post(f"/p/{token}/", {"open": "1"})
    return {"name": settings.SESSION_COOKIE_NAME, "value": client.cookies[settings.SESSION_COOKIE_NAME].value}
