"""A real Chromium, and the program served beside pages that it is compared with."""

import os
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from wsgiref.simple_server import WSGIRequestHandler, make_server


@contextmanager
def served(floors: dict[str, str]) -> Iterator[str]:
    """Serve the program on a free port of this machine, and pages of a benchmark's own under their paths."""
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"  # the browser's event loop shares this thread
    from academy.wsgi import application

    def app(environ: dict[str, Any], start: Any) -> Any:
        if environ["PATH_INFO"] not in floors:
            return application(environ, start)
        start("200 OK", [("Content-Type", "text/html; charset=utf-8")])
        return [floors[environ["PATH_INFO"]].encode()]

    server = make_server("127.0.0.1", 0, app, handler_class=_Quiet)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()


@contextmanager
def chromium() -> Iterator[Any]:
    """Yield a browser without memory of earlier visits."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(
            executable_path=os.environ.get("HOLDFAST_CHROMIUM") or shutil.which("chromium"),
            args=["--no-sandbox", "--disable-gpu"],
        )
        try:
            yield browser
        finally:
            browser.close()


class _Quiet(WSGIRequestHandler):
    def log_message(self, *arguments: Any) -> None:
        """Say nothing."""
