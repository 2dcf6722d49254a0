"""Serving with waitress: what is believed of a proxy, and what is not."""

import http.client
import threading
from contextlib import contextmanager

import pytest
import waitress

from academy.serving import server_options


def seen(environ, start_response):
    """Answer with the scheme and the address that the program would see."""
    start_response("200 OK", [("Content-Type", "text/plain")])
    return [f"{environ['wsgi.url_scheme']} {environ['REMOTE_ADDR']}".encode()]


@contextmanager
def served():
    sockets, done = {}, threading.Event()
    server = waitress.create_server(seen, host="127.0.0.1", port=0, map=sockets, **server_options())

    def run() -> None:
        while not done.is_set():
            server.asyncore.loop(timeout=0.05, map=sockets, count=1)

    thread = threading.Thread(target=run)
    thread.start()
    try:
        yield server.effective_port
    finally:
        done.set()
        thread.join()
        server.task_dispatcher.shutdown()
        server.asyncore.close_all(sockets)


def ask(port: int, **headers: str) -> str:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    connection.request("GET", "/", headers={name.replace("_", "-"): value for name, value in headers.items()})
    answer = connection.getresponse().read().decode()
    connection.close()
    return answer


FORWARDED = {"X_Forwarded_Proto": "https", "X_Forwarded_For": "192.0.2.7, 198.51.100.9"}


@pytest.mark.parametrize(("https", "expected"), [(True, "https 198.51.100.9"), (False, "http 127.0.0.1")])
def test_only_behind_tls_is_the_proxy_believed_and_only_its_own_word(settings, https, expected):
    settings.HTTPS = https
    with served() as port:
        assert ask(port, **FORWARDED) == expected


def test_a_database_that_took_every_step_needs_no_plan_and_one_that_lacks_a_step_does(db):
    from django.db import connection
    from django.db.migrations.recorder import MigrationRecorder

    from academy.serving import _is_newest

    assert _is_newest()
    recorder = MigrationRecorder(connection)
    app, name = max(step for step in recorder.applied_migrations() if step[0] == "lessons")
    recorder.record_unapplied(app, name)
    assert not _is_newest()
