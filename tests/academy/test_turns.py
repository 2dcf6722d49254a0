"""Writers of one process take turns on SQLite: in the order they came, and whatever happens to one of them."""

import sqlite3
import threading
import time
from contextlib import suppress

import pytest
from django.db import OperationalError, connections, transaction

from academy import environment
from academy.sqlite import base
from academy.sqlite.turns import Turns

ALIAS = "queue"


def patient(condition, seconds=5.0):
    """Wait until something has come true."""
    end = time.monotonic() + seconds
    while not condition() and time.monotonic() < end:
        time.sleep(0.002)
    assert condition()


def test_turns_are_given_in_the_order_they_were_asked_for():
    turns, order = Turns(), []
    turns.take(timeout=1)

    def wait(number):
        assert turns.take(timeout=10)
        order.append(number)
        turns.give_back()

    threads = []
    for number in range(8):
        threads.append(threading.Thread(target=wait, args=(number,)))
        threads[-1].start()
        patient(lambda: len(turns._waiting) == len(threads))
    turns.give_back()
    for thread in threads:
        thread.join()
    assert order == list(range(8))
    assert turns.take(timeout=0)


def test_a_newcomer_does_not_go_before_somebody_who_waits():
    turns, got = Turns(), []
    turns.take(timeout=1)
    waiting = threading.Thread(target=lambda: got.append(turns.take(timeout=10)))
    waiting.start()
    patient(lambda: turns._waiting)
    turns.give_back()
    assert not turns.take(timeout=0.01)
    waiting.join()
    assert got == [True]


def test_who_gives_up_waiting_is_not_called_any_more():
    turns = Turns()
    turns.take(timeout=1)
    assert not turns.take(timeout=0.01)
    turns.give_back()
    assert turns.take(timeout=0)


@pytest.fixture
def queue(tmp_path, django_db_blocker, monkeypatch):
    """A database in a file, with a table of one number, reached under a name of its own; yields its turns."""
    path = tmp_path / "queue.sqlite3"
    usual = connections.databases["default"]
    monkeypatch.setitem(connections.databases, ALIAS, {
        **{name: usual[name] for name in ("ATOMIC_REQUESTS", "AUTOCOMMIT", "CONN_HEALTH_CHECKS", "TIME_ZONE", "TEST")},
        "CONN_MAX_AGE": 0, "USER": "", "PASSWORD": "", "HOST": "", "PORT": "", **environment.sqlite(path),
    })
    with django_db_blocker.unblock():
        with connections[ALIAS].cursor() as cursor:
            cursor.execute("CREATE TABLE log (number integer)")
        yield base._turns[str(path)]
        connections[ALIAS].close()
        del connections[ALIAS]


def write(number, *, meanwhile=lambda: None):
    try:
        with transaction.atomic(using=ALIAS):
            with connections[ALIAS].cursor() as cursor:
                cursor.execute("INSERT INTO log VALUES (%s)", [number])
            meanwhile()
    finally:
        if threading.current_thread() is not threading.main_thread():
            connections[ALIAS].close()


def written():
    with connections[ALIAS].cursor() as cursor:
        return [number for number, in cursor.execute("SELECT number FROM log ORDER BY rowid").fetchall()]


def test_transactions_that_wait_are_written_in_the_order_they_came(queue):
    threads = [threading.Thread(target=write, args=(number,)) for number in range(8)]

    def start_all():
        for started, thread in enumerate(threads, 1):
            thread.start()
            patient(lambda started=started: len(queue._waiting) == started)

    write(99, meanwhile=start_all)
    for thread in threads:
        thread.join()
    assert written() == [99, *range(8)]
    assert not queue._taken


def test_an_error_in_a_transaction_gives_the_turn_back(queue):
    with suppress(ZeroDivisionError):
        write(1, meanwhile=lambda: 1 // 0)
    assert not queue._taken and written() == []
    write(2)
    assert written() == [2]


def test_a_transaction_inside_another_needs_no_turn_of_its_own(queue):
    write(1, meanwhile=lambda: write(2, meanwhile=lambda: write(3)))
    assert written() == [1, 2, 3] and not queue._taken


def test_an_inner_transaction_that_fails_keeps_the_outer_one_its_turn(queue):
    def inner():
        with suppress(ZeroDivisionError):
            write(2, meanwhile=lambda: 1 // 0)
        assert queue._taken

    write(1, meanwhile=inner)
    assert written() == [1] and not queue._taken


def test_a_connection_that_is_closed_within_a_transaction_gives_the_turn_back(queue):
    connections[ALIAS].set_autocommit(False, force_begin_transaction_with_broken_autocommit=True)
    assert queue._taken
    connections[ALIAS].close()
    assert not queue._taken


def test_reading_needs_no_turn(queue):
    write(1, meanwhile=lambda: None)
    queue.take(timeout=1)
    assert written() == [1]
    queue.give_back()


def test_another_process_that_writes_is_still_waited_for_and_refused_by_sqlite_itself(queue, tmp_path):
    other = sqlite3.connect(tmp_path / "queue.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with connections[ALIAS].cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 20")
    with pytest.raises(OperationalError, match="locked"):
        write(1)
    assert not queue._taken
    other.execute("ROLLBACK")
    other.close()
    write(2)
    assert written() == [2]


def test_many_writers_lose_nothing(queue):
    threads = [
        threading.Thread(target=lambda start=start: [write(start + step) for step in range(10)])
        for start in range(0, 80, 10)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(written()) == list(range(80)) and not queue._taken
