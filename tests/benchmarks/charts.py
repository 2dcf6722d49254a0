"""The four charts of the progress page, from a cold browser's first request to all of them drawn."""

import json
import re
from collections.abc import Iterator
from statistics import median
from typing import Any

from .browser import chromium, served
from .figure import Figure
from .ground import lay, signed_in
from .rows import thirty_visits

CHARTS, REPEATS, WAITS = 4, 5, 1000
BUNDLE = "/static/vendor/plotly/plotly-cartesian-4.1.1.min.js"
_COLOUR = "#1d2a24"
_TOKENS = ("ink", "ink-soft", "accent", "accent-wash", "well", "sheet", "rule", "alarm")
_WHEN_DRAWN = f"""addEventListener('DOMContentLoaded', () => {{
    document.querySelectorAll('details:has(.chart)').forEach((details) => {{ details.open = true; }});
    const look = () => {{
        const plots = [...document.querySelectorAll('.js-plotly-plot:has(.points)')];
        if (plots.length < {CHARTS}) requestAnimationFrame(look); else window.drawn = performance.now();
    }};
    look();
}})"""
"""Opens every chart the moment the page is there, and notes when the points of the last one stand."""


def run() -> Iterator[Figure]:
    """Yield the figure; both pages are opened in turn, each in a browser that has kept nothing."""
    lay()
    student = thirty_visits(balls_a_visit=40)
    _with_stated_carries()
    client = signed_in(student.coach)
    path = f"/students/{student.code}/progress/?show=driver:carry_m"  # the one number with four of them
    figures = re.findall(
        r'<script id="figure-[^"]+" type="application/json">(.*?)</script>', client.get(path).content.decode()
    )
    if len(figures) != CHARTS:
        raise RuntimeError(f"the page has {len(figures)} charts; expected {CHARTS}")
    cookies = {name: morsel.value for name, morsel in client.cookies.items()}
    ours: list[float] = []
    floor: list[float] = []
    with served({"/floor/": _floor_page(figures)}) as address, chromium() as browser:
        for _ in range(REPEATS):
            ours.append(_drawn_after(browser, f"{address}{path}", cookies))
            floor.append(_drawn_after(browser, f"{address}/floor/", {}))
    yield Figure(
        what="four charts on the progress page, cold, from the first request to drawn", ours=median(ours),
        floor=median(floor), unit="ms", limit=1.3, direction="at most",
        why="a page of the same server that only loads the chart script and draws the same arrays.",
    )


def _with_stated_carries() -> None:
    """Say how the carries came about: without that none is stated at the reference condition, the fourth chart."""
    from lessons.models import Block, Shot

    Shot.objects.update(carry_provenance="measured")
    Block.objects.update(summary_version="")


def _drawn_after(browser: Any, address: str, cookies: dict[str, str]) -> float:
    """Return how many milliseconds after the request all charts were drawn."""
    context = browser.new_context(viewport={"width": 1366, "height": 768})
    context.add_cookies([{"name": name, "value": value, "url": address} for name, value in cookies.items()])
    page = context.new_page()
    page.add_init_script(_WHEN_DRAWN)
    page.goto(address)
    for _ in range(WAITS):  # the page's own policy forbids the browser's way of waiting for something
        if taken := page.evaluate("window.drawn || 0"):
            context.close()
            return float(taken)
        page.wait_for_timeout(50)
    raise RuntimeError(f"{address} has not drawn {CHARTS} charts")


def _floor_page(figures: list[str]) -> str:
    drawn = [json.loads(figure, object_hook=_plain) for figure in figures]
    whole = json.dumps(drawn).replace("<", "\\u003c")
    return f"""<!doctype html><title>floor</title><script src="{BUNDLE}"></script><script>
        for (const figure of {whole}) {{
            const holder = document.createElement("div");
            document.documentElement.append(holder);
            Plotly.newPlot(holder, figure.data, {{ width: 620, ...figure.layout }});
        }}</script>"""


def _plain(part: dict[str, Any]) -> dict[str, Any]:
    """Put a colour where a figure names one of the page's own."""
    return {key: _COLOUR if value in _TOKENS and isinstance(value, str) else value for key, value in part.items()}
