"""The Method page: every number with formula, range, source and mark, found by a word."""

import importlib

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from django.utils.html import escape

from lessons.queries.method_page import HERE
from metrics.catalogue import METHODS
from metrics.change.priors import SETTINGS
from tests.browser import PHONE, WIDE, sign_in, watch


def test_every_number_and_every_assumed_value_stands_on_the_page(as_coach):
    page = as_coach.get(reverse("lessons:method")).content.decode()
    for method in (*METHODS, *HERE.methods):
        for part in (method.label, method.formula, method.valid_range, method.source):
            assert escape(part) in page, (method.key, part)
    for setting in SETTINGS.values():
        assert escape(setting.label) in page


def test_what_the_pages_work_out_themselves_names_a_function_too():
    keys = {method.key for method in METHODS}
    for method in HERE.methods:
        module, name = method.function.rsplit(".", 1)
        assert getattr(importlib.import_module(module), name).__doc__
        assert method.key not in keys


def test_a_search_leaves_what_has_all_the_words_and_says_how_many(as_coach):
    page = as_coach.get(reverse("lessons:method"), {"words": "landing ellipse"}).content.decode()
    assert "1 of " in page and "Landing ellipse" in page
    assert "Air density" not in page


def test_a_search_without_a_result_says_so(as_coach):
    page = as_coach.get(reverse("lessons:method"), {"words": "zeppelin"}).content.decode()
    assert "Nothing has all these words" in page


def test_htmx_gets_the_rows_alone(as_coach):
    answer = as_coach.get(reverse("lessons:method"), {"words": "carry"}, headers={"HX-Request": "true"})
    assert answer.content.decode().lstrip().startswith("<div id=\"methods\"") and "HX-Request" in answer["Vary"]


def test_the_page_is_for_staff_and_linked_in_the_foot(client, as_coach):
    address = reverse("lessons:method")
    assert f'href="{address}"' in as_coach.get(reverse("lessons:today")).content.decode()
    client.logout()
    assert client.get(address).status_code == 302


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_in_a_browser_typing_a_word_narrows_the_list(page, live_server, coach, size):
    page.set_viewport_size(size)
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.goto(f"{live_server.url}{reverse('lessons:method')}")
    page.get_by_label("Search").fill("spin axis")
    page.locator("#methods p[role=status]", has_text="of").wait_for()
    assert page.locator("tr#air_density").count() == 0
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert Axe().run(page).violations_count == 0
    seen.assert_clean()
