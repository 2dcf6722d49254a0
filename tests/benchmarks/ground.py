"""A throw-away data folder with the program's own settings, and the smallest view that pages are compared with."""

import atexit
import io
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

FLOOR_WHY = (
    "the smallest view of this project that knows who asks: same middleware, session, user and three queries "
    "(academy, student, lesson), answered as JSON."
)
_ready = False


def lay() -> None:
    """Set Django up on an empty database in a folder of its own; done once a process."""
    global _ready
    if _ready:
        return
    folder = Path(tempfile.mkdtemp(prefix="holdfast-benchmark-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    os.environ["HOLDFAST_HOME"] = str(folder)
    os.environ["HOLDFAST_HOSTS"] = "127.0.0.1,localhost,testserver"
    os.environ["DJANGO_SETTINGS_MODULE"] = "academy.settings"
    os.environ.pop("HOLDFAST_DEMO", None)
    os.environ.pop("DATABASE_URL", None)
    if other := os.environ.get("HOLDFAST_BENCHMARK_DATABASE"):
        os.environ["DATABASE_URL"] = other
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command

    settings.ROOT_URLCONF = "tests.benchmarks.floor_urls"
    call_command("migrate", verbosity=0)
    call_command("load_library", verbosity=0, stdout=io.StringIO())
    _ready = True


def signed_in(coach: Any) -> Any:
    """Return a client that is signed in as a coach."""
    from django.test import Client

    client = Client()
    client.force_login(coach, backend="django.contrib.auth.backends.ModelBackend")
    return client


def opened(client: Any, path: str, **headers: str) -> Callable[[], bytes]:
    """Return a piece of work that opens a page and insists on an answer of 200."""
    def work() -> bytes:
        response = client.get(path, headers=headers)
        if response.status_code != 200:
            raise RuntimeError(f"{path} answered {response.status_code}")
        return response.content
    return work


def queries_of(work: Callable[[], object]) -> int:
    """Return how many queries a piece of work asks, when everything is warm."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    work()
    with CaptureQueriesContext(connection) as caught:
        work()
    return len(caught)
