"""From ``manage.py start`` to the first page, against Python setting the same apps up and doing nothing."""

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

from .figure import Figure

ROOT = Path(__file__).resolve().parents[2]


def run() -> Iterator[Figure]:
    """Yield the figure; both are started in turn, the least of three counts. The database is there already."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "HOLDFAST_HOME": folder, "DJANGO_SETTINGS_MODULE": "academy.settings"}
        # A user's Python keeps compiled files; where this one must not, the second start would compile all anew.
        for name in ("HOLDFAST_DEMO", "PYTHONDONTWRITEBYTECODE"):
            environment.pop(name, None)
        _first_page(environment)
        ours = least = float("inf")
        for _ in range(3):
            ours = min(ours, _first_page(environment))
            least = min(least, _took(lambda: subprocess.run(
                [sys.executable, "-c", "import django; django.setup()"], cwd=ROOT, env=environment, check=True
            )))
    yield Figure(
        what="start to first page", ours=ours, floor=least, unit="s", limit=2.5, direction="at most",
        why="Python with Django and the same apps set up, and nothing served.",
    )


def _took(work: Callable[[], object]) -> float:
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def _first_page(environment: dict[str, str]) -> float:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "manage.py", "start", "--no-browser", "--port", str(port)]
    begin = time.perf_counter()
    server = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.DEVNULL)
    try:
        while True:
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=5) as page:
                    page.read()
                return time.perf_counter() - begin
            except (urllib.error.URLError, ConnectionError):
                if server.poll() is not None:
                    raise RuntimeError("The server ended before it answered.") from None
                time.sleep(0.01)
    finally:
        server.terminate()
        server.wait()
