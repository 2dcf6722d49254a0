"""The program served in a process of its own, and a browser-like client that is signed in to it."""

import http.client
import os
import re
import socket
import subprocess
import sys
import time
import urllib.parse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


class Server:
    """One served process."""

    def __init__(self, *, port: int, process: subprocess.Popen) -> None:
        self.port, self.process = port, process

    @property
    def resident_mb(self) -> float:
        """How much memory the process holds now."""
        text = Path(f"/proc/{self.process.pid}/status").read_text()
        return int(re.search(r"VmRSS:\s+(\d+)", text)[1]) / 1000


@contextmanager
def server() -> Iterator[Server]:
    """Serve the benchmark's own database until the end of the block."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "manage.py", "start", "--no-browser", "--port", str(port)], cwd=ROOT, env=os.environ,
        stdout=subprocess.DEVNULL,
    )
    try:
        _wait(port, process)
        yield Server(port=port, process=process)
    finally:
        process.terminate()
        process.wait()


def _wait(port: int, process: subprocess.Popen) -> None:
    while process.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("The server ended before it answered.")


class Visitor:
    """A client over one kept connection, signed in by a session that was made in the database."""

    def __init__(self, *, port: int, coach: Any) -> None:
        from .ground import signed_in

        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
        self.cookies = {name: morsel.value for name, morsel in signed_in(coach).cookies.items()}

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> tuple[int, bytes]:
        """Send a request and return status and body; cookies are kept."""
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items()), "X-Parts": "1"}
        body = None
        if fields is not None:
            headers["X-CSRFToken"] = self.cookies.get("csrftoken", "")
            headers["Content-Type"] = "application/x-www-form-urlencoded"
            body = urllib.parse.urlencode(fields)
        self.connection.request(method, path, body=body, headers=headers)
        answer = self.connection.getresponse()
        for name, value in answer.getheaders():
            if name.lower() == "set-cookie":
                key, _, rest = value.partition("=")
                self.cookies[key] = rest.partition(";")[0]
        return answer.status, answer.read()
