"""Thirty visits at 390 px, and the page on paper: everything that was on the screen, readable."""

import datetime
import re
from xml.etree import ElementTree

import pytest
from django.urls import reverse

from lessons.models import DataSource
from lessons.pictures import progress as pictures
from tests.browser import PHONE, WIDE, sign_in, watch
from tests.lessons.progress.records import block, prescribe, visit


@pytest.fixture
def thirty(student):
    """Thirty visits over ten months, each with a first ten and a block with sticks; a new device in the middle."""
    one, two = (DataSource.objects.create(name=name) for name in ("Unit one", "Unit two"))
    for number in range(30):
        lesson = visit(student, days_ago=300 - 10 * number, device=one if number < 14 else two)
        made = block(lesson, mean=5.7 - 0.1 * number, n=10 + number % 3)
        block(lesson, mean=3.0 + 0.05 * (number % 5), purpose="with_aid", aids=["sticks"])
        if number == 20:
            prescribe(made)
    return student


def picture(html: str, key: str) -> ElementTree.Element:
    return ElementTree.fromstring(re.search(rf'<svg id="{key}".*?</svg>', html, re.S).group())


def test_thirty_visits_keep_their_dots_their_n_and_dates_that_do_not_overlap(as_coach, thirty):
    html = as_coach.get(reverse("lessons:progress", args=[thirty.code])).content.decode()
    root = picture(html, "progress-number")
    dots = [e for e in root.iter() if e.get("class") in ("solid", "hollow") and e.get("r") == "5"]
    assert len([dot for dot in dots if dot.get("cy") != "28"]) == 60
    labels = [(float(e.get("x")), float(e.get("y")), e.text) for e in root.iter() if e.tag.endswith("text")]
    assert sum(text in ("10", "11", "12") for _, _, text in labels) == 60
    dates = [(x, y) for x, y, text in labels if re.fullmatch(r"\d+ [A-Z][a-z]{2}( \d\d)?", text or "")]
    assert len(dates) >= 20
    assert not [1 for i, (x, y) in enumerate(dates) for u, v in dates[:i] if y == v and abs(x - u) < 40]
    assert any(text == "D" for _, _, text in labels) and any("new device" in (text or "") for _, _, text in labels)


def test_eight_visits_fit_a_phone_and_a_ninth_makes_the_picture_wider():
    def panel(count):
        days = [datetime.date(2026, 3, 1 + 3 * place) for place in range(count)]
        return pictures.Panel(label="Club path", unit="°", visits=tuple(
            pictures.Visit(day=day, n=10, mean=3.0, interval=(2, 4)) for day in days))

    assert not pictures.is_wide(panel(8)) and 'viewBox="0 0 360 ' in pictures.draw(panel(8))
    assert pictures.is_wide(panel(9)) and ' width="' in pictures.draw(panel(9))


@pytest.mark.django_db(transaction=True)
def test_on_a_phone_thirty_visits_scroll_in_their_frame_and_begin_with_the_newest(page, live_server, thirty, coach):
    page.set_viewport_size(PHONE)
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.goto(f"{live_server.url}{reverse('lessons:progress', args=[thirty.code])}")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    frame = page.locator(".figure-scroll").first
    frame.scroll_into_view_if_needed()
    box, last = frame.bounding_box(), frame.locator("circle.hollow").last.bounding_box()
    assert box["x"] <= last["x"] <= box["x"] + box["width"]
    frame.focus()
    assert frame.evaluate("e => e === document.activeElement && e.scrollWidth > e.clientWidth")
    assert frame.locator("text").first.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= 12
    seen.assert_clean()


@pytest.mark.django_db(transaction=True)
def test_on_paper_the_verdict_the_pictures_and_the_table_stand_and_nothing_to_click(page, live_server, thirty, coach):
    page.set_viewport_size(WIDE)
    sign_in(page, live_server, coach)
    page.goto(f"{live_server.url}{reverse('lessons:progress', args=[thirty.code])}")
    page.emulate_media(media="print")
    for wanted in (".verdict-word", "#progress-number", ".chart-table td"):
        assert page.locator(wanted).first.is_visible()
    for gone in ("select", "figure details", ".site-top"):
        assert not page.locator(gone).first.is_visible()
    assert page.locator("#progress-number").evaluate(
        "e => e.getBoundingClientRect().width <= e.closest('figure').getBoundingClientRect().width")
