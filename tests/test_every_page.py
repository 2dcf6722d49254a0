"""Every page there is, from the table of addresses: under the strict policy, kept out of caches, calling nobody.

First as text, for every person; then in a browser, which is what would notice a script that asks elsewhere.
"""

import re

import pytest
from django.conf import settings
from playwright.sync_api import Page

from tests.browser import watch
from tests.test_access_matrix import ADDRESSES
from tests.test_every_form import own_world, somebody

POLICY = "; ".join(f"{name} {' '.join(values)}" for name, values in settings.SECURE_CSP.items())
INLINE = re.compile(r"<style[\s>]|<script(?![^>]*\bsrc=)[^>]*>|<[a-z][^>]*\s(style|on[a-z]+|hx-on[:a-z-]*)=", re.I)
DATA_ONLY = re.compile(r'<script type="application/json"[^>]*>', re.I)
LOADS = re.compile(r"""<(?:script|link|img|iframe|video|source|form|object|embed)[^>]*\s
                       (?:src|href|action|data|poster|srcset)=["']?(?:https?:)?//""", re.I | re.X)
PEOPLE = ["coach", "owner", "welfare", "link"]
LEADS_AWAY = {"academy:link", "academy:entry", "academy:sign_in"}
"""Pages that end or change who is signed in."""


@pytest.fixture
def world(student, owner):
    from tests import factories

    factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    return own_world(student)


def pages_of(who, world):
    """Yield the address, the answer and its text of every page that this person gets."""
    client = somebody(who, world)
    for name in sorted(ADDRESSES.keys() - LEADS_AWAY):
        address = world.address(name)
        answer = client.get(address)
        if answer.status_code == 200 and "text/html" in answer["Content-Type"]:
            yield address, answer, answer.content.decode()


@pytest.mark.parametrize("who", PEOPLE)
def test_every_page_is_under_the_policy_and_stays_out_of_caches(world, who):
    seen = 0
    for address, answer, _ in pages_of(who, world):
        assert answer["Content-Security-Policy"] == POLICY, address
        assert "no-store" in answer["Cache-Control"] and answer["X-Content-Type-Options"] == "nosniff", address
        seen += 1
    assert seen >= {"coach": 40, "owner": 20, "welfare": 8, "link": 6}[who]


@pytest.mark.parametrize("who", PEOPLE)
def test_no_page_holds_inline_script_or_style_or_loads_from_elsewhere(world, who):
    for address, _, text in pages_of(who, world):
        found = INLINE.search(DATA_ONLY.sub("", text)) or LOADS.search(text)
        assert found is None, (address, found.group(0))


def test_what_the_search_for_inline_code_finds():
    assert INLINE.search('<p style="color:red">') and INLINE.search("<script>1</script>")
    assert INLINE.search('<a onclick="x()">') and LOADS.search('<script src="//elsewhere.example/a.js">')
    assert not INLINE.search('<script src="/static/a.js"></script>') and not LOADS.search('<img src="/static/a.png">')


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("who", ["coach", "link"])
def test_a_browser_opens_every_page_without_a_breach_or_a_request_to_elsewhere(page: Page, live_server, world, who):
    client = somebody(who, world)
    cookie = client.cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([{"name": settings.SESSION_COOKIE_NAME, "value": cookie, "url": live_server.url}])
    addresses = [address for address, _, text in pages_of(who, world) if "<html" in text]  # the rest are parts of one
    seen = watch(page, live_server)
    for address in addresses:
        page.goto(live_server.url + address)
    page.wait_for_load_state("networkidle")
    seen.assert_clean()
