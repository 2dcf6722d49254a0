"""The program as academy/deployment says: production settings, two processes, TLS before them."""

import http.client
import os
import re
import socket
import ssl
import subprocess
import sys
import threading
import time
from pathlib import Path
from urllib.parse import urlencode

import pytest

from tests.academy.tls_proxy import proxy

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "academy" / "deployment"
PREPARE = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
from tests import factories
factories.make_academy()
factories.make_coach("coach")
"""
NAMES = {"username": "coach", "password": "a-long-test-password"}


def environment(home: Path) -> dict:
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("HOLDFAST_", "DJANGO_", "DATABASE_"))}
    said = dict(line.split("=", 1) for line in (FOLDER / "holdfast.env").read_text().splitlines()
                if line and not line.startswith("#"))
    return {**kept, **said, "HOLDFAST_HOME": str(home), "HOLDFAST_HOSTS": "localhost",
            "DJANGO_SETTINGS_MODULE": "academy.settings"}


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


class Browser:
    """Speaks TLS to the proxy, keeps cookies, remembers the last answer."""

    def __init__(self, port: int, trust: Path) -> None:
        self.port, self.context, self.cookies = port, ssl.create_default_context(cafile=str(trust)), {}

    def ask(self, method: str, path: str, values: dict | None = None):
        line = http.client.HTTPSConnection("localhost", self.port, context=self.context, timeout=60)
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items()),
                   "Referer": "https://localhost/", "Host": "localhost"}
        headers |= {"Content-Type": "application/x-www-form-urlencoded"} if values else {}
        line.request(method, path, urlencode(values) if values else None, headers)
        answer = line.getresponse()
        self.text = answer.read().decode(errors="replace")
        self.set_cookies = answer.headers.get_all("Set-Cookie") or []
        for cookie in self.set_cookies:
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        line.close()
        return answer

    def sign_in(self, **values) -> int:
        self.ask("GET", "/sign-in/")
        token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', self.text)[1]
        return self.ask("POST", "/sign-in/", {**NAMES, **values, "csrfmiddlewaretoken": token}).status


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """Two processes on one database behind the proxy: (proxy's port, trusted certificate, the processes' ports)."""
    home = tmp_path_factory.mktemp("site")
    own = environment(home)
    subprocess.run([sys.executable, "manage.py", "shell", "-v0", "-c", PREPARE], cwd=ROOT, env=own, check=True)
    ports = [free_port(), free_port()]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    command = [sys.executable, "manage.py", "start", "--no-browser", "--port"]
    processes = [subprocess.Popen([*command, str(port)], cwd=ROOT, env=own, **quiet) for port in ports]
    front, trust = proxy(ports=ports, folder=home)
    thread = threading.Thread(target=front.serve_forever)
    try:
        for port in ports:
            _wait(port)
        thread.start()
        yield front.server_address[1], trust, ports
        front.shutdown()
        thread.join()
    finally:
        front.server_close()
        for process in processes:
            process.kill()
            process.wait()


def _wait(port: int) -> None:
    for _ in range(900):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.1)
    pytest.fail("a process did not start")


@pytest.fixture
def browser(site):
    return Browser(site[0], site[1])


def test_the_check_for_deployment_has_nothing_to_say(tmp_path):
    done = subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--fail-level", "WARNING"], cwd=ROOT,
        env=environment(tmp_path), capture_output=True, text=True, check=False,
    )
    assert done.returncode == 0 and "no issues" in done.stdout, done.stdout + done.stderr


def test_every_header_is_there_as_stated(browser):
    answer = browser.ask("GET", "/sign-in/")
    assert answer.status == 200
    found = {name: answer.headers[name] for name in (
        "Strict-Transport-Security", "X-Content-Type-Options", "X-Frame-Options", "Referrer-Policy", "Cache-Control",
        "Cross-Origin-Opener-Policy", "X-Robots-Tag",
    )}
    assert found == {
        "Strict-Transport-Security": "max-age=31536000; includeSubDomains; preload", "X-Frame-Options": "DENY",
        "X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin", "Cache-Control": found["Cache-Control"],
        "Cross-Origin-Opener-Policy": "same-origin", "X-Robots-Tag": "noindex, nofollow",
    }
    assert "no-store" in found["Cache-Control"]
    assert "default-src 'self'; script-src 'self';" in answer.headers["Content-Security-Policy"]
    assert answer.headers["Server"] is None or "waitress" not in answer.headers["Server"]


def test_cookies_are_for_this_host_over_tls_alone(browser):
    assert browser.sign_in() == 302
    assert {cookie.split("=")[0] for cookie in browser.set_cookies} == {"__Host-holdfast", "__Host-csrftoken"}
    for cookie in browser.set_cookies:
        assert "Secure" in cookie and "Path=/" in cookie and "SameSite=Lax" in cookie and "Domain" not in cookie
    assert "HttpOnly" in next(cookie for cookie in browser.set_cookies if cookie.startswith("__Host-holdfast"))


def test_whoever_signed_in_at_one_process_is_signed_in_at_the_other(browser):
    browser.sign_in()
    assert [browser.ask("GET", "/students/").status for _ in range(4)] == [200] * 4


def test_a_visitor_without_tls_is_sent_to_it(site):
    line = http.client.HTTPConnection("127.0.0.1", site[2][0], timeout=60)
    line.request("GET", "/sign-in/", headers={"Host": "localhost", "X-Forwarded-Proto": "http"})
    answer = line.getresponse()
    assert (answer.status, answer.headers["Location"]) == (301, "https://localhost/sign-in/")
    line.close()


def test_another_hosts_name_is_refused(site):
    line = http.client.HTTPConnection("127.0.0.1", site[2][0], timeout=60)
    line.request("GET", "/sign-in/", headers={"Host": "elsewhere.example", "X-Forwarded-Proto": "https"})
    assert line.getresponse().status == 400
    line.close()


def test_the_throttle_counts_over_all_processes(browser):
    answers = [browser.sign_in(username="nobody", password="wrong") for _ in range(8)]
    assert answers == [200] * 7 + [429]


@pytest.mark.parametrize("name", ["holdfast@.service", "holdfast-tidy.service"])
def test_a_unit_runs_a_command_that_there_is(name):
    command = re.search(r"ExecStart=\S+ manage\.py (\S+)(.*)", (FOLDER / name).read_text())
    done = subprocess.run(
        [sys.executable, "manage.py", command[1], "--help"], cwd=ROOT, capture_output=True, text=True, check=True,
        env={**os.environ, "DJANGO_SETTINGS_MODULE": "academy.settings"},
    )
    assert not [word for word in command[2].split() if word.startswith("--") and word not in done.stdout]


def test_every_setting_of_the_example_is_one_there_is():
    named = re.findall(r"^#?([A-Z_]+)=", (FOLDER / "holdfast.env").read_text(), re.M)
    readme = (ROOT / "README.md").read_text()
    assert named and not [name for name in named if f"`{name}`" not in readme]
