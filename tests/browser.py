"""Small helps for tests in a real browser: sign in, watch what goes wrong, count what a person does."""

from dataclasses import dataclass, field

from django.conf import settings
from django.test import Client
from playwright.sync_api import Page

WIDE = {"width": 1366, "height": 768}
PHONE = {"width": 390, "height": 844}


def sign_in(page: Page, live_server, coach) -> Page:
    """Give the browser a signed-in session without walking through the sign-in page."""
    client = Client()
    client.force_login(coach)
    page.context.add_cookies([{
        "name": settings.SESSION_COOKIE_NAME, "value": client.cookies[settings.SESSION_COOKIE_NAME].value,
        "url": live_server.url,
    }])
    return page


@dataclass
class Watch:
    """What a page said and asked for while it was watched."""

    origin: str
    messages: list[str] = field(default_factory=list)
    strays: list[str] = field(default_factory=list)

    def assert_clean(self) -> None:
        """No breach of the content policy, no script error, no request to anywhere else."""
        assert not self.messages, self.messages
        assert not self.strays, f"left the machine: {self.strays}"


def watch(page: Page, live_server) -> Watch:
    """Watch a page from now on; call ``assert_clean`` at the end."""
    seen = Watch(origin=live_server.url)

    def console(message) -> None:
        if "Content Security Policy" in message.text or message.type == "error":
            seen.messages.append(message.text)

    def request(asked) -> None:
        if not asked.url.startswith((seen.origin, "data:", "blob:")):
            seen.strays.append(asked.url)

    page.on("console", console)
    page.on("pageerror", lambda error: seen.messages.append(str(error)))
    page.on("request", request)
    return seen


class Hand:
    """Does what a person does and counts it: key presses and clicks (a tap is a click)."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.keys = 0
        self.clicks = 0

    @property
    def actions(self) -> int:
        return self.keys + self.clicks

    def press(self, key: str) -> None:
        """Press one key; a shifted key counts once, as the keyboard shows one sign."""
        self.page.keyboard.press(key)
        self.keys += 1

    def type(self, text: str) -> None:
        """Type a text key by key; every sign is one key."""
        for sign in text:
            self.press(sign)

    def click(self, selector) -> None:
        """Click or tap something, by selector or locator."""
        target = self.page.locator(selector) if isinstance(selector, str) else selector
        target.click()
        self.clicks += 1
