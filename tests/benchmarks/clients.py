"""Eight coaches log balls in eight lessons at once for a minute: no error, none lost, none doubled, and quick."""

import os
import statistics
import subprocess
import sys
import threading
import time
import uuid
from collections.abc import Iterator
from contextlib import ExitStack
from typing import Any

from .figure import Figure
from .ground import lay
from .rows import a_student
from .served import ROOT, Visitor, server

SECONDS = float(os.environ.get("HOLDFAST_BENCHMARK_SECONDS", "60"))
CLIENTS = 8
PAUSE_S = 0.5
"""Between a client's balls, as long as a person needs for two keys; nobody hits a ball that often."""


def run() -> Iterator[Figure]:
    """Yield the figures on SQLite with one process, and on PostgreSQL with four where a database is named."""
    yield from _figures("SQLite, one process", _measured(processes=1))
    url = os.environ.get("HOLDFAST_BENCHMARK_POSTGRES")
    if url:
        environment = {**os.environ, "HOLDFAST_BENCHMARK_DATABASE": url}
        found = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.clients"], cwd=ROOT, env=environment, check=True,
            capture_output=True, text=True,
        ).stdout.split()[-5:]
        yield from _figures("PostgreSQL, four processes", tuple(map(float, found)))


def _figures(where: str, found: tuple[float, ...]) -> Iterator[Figure]:
    alone, slow, acknowledged, stored, failed = found
    yield Figure(
        what=f"{where}: slowest of a hundred balls (p99), {acknowledged:.0f} balls", ours=slow * 1000,
        floor=alone * 1000, unit="ms", limit=5, direction="at most", why="the median of one client alone.",
    )
    yield Figure(
        what=f"{where}: balls refused, lost or doubled", ours=failed + abs(acknowledged - stored) + 1, floor=1,
        unit="balls + 1", limit=1, direction="at most", why="every acknowledged ball is in the database once.",
    )


def _measured(*, processes: int) -> tuple[float, ...]:
    """Return the median alone, p99 together (s), acknowledged and stored balls, and refusals."""
    lay()
    from tests import factories

    student = a_student()
    blocks = []
    for number in range(CLIENTS + 1):
        one = factories.make_student(coach=student.coach, name=f"Player {number}")
        blocks.append(factories.make_block(lesson=factories.make_lesson(student=one)))
    with ExitStack() as stack:
        ports = [stack.enter_context(server()).port for _ in range(processes)]
        alone, _ = _logged(ports[0], student.coach, blocks[-1], SECONDS / 6)
        times: list[list[float]] = [[] for _ in range(CLIENTS)]
        errors = [0] * CLIENTS

        def one(number: int) -> None:
            port = ports[number % len(ports)]
            times[number], errors[number] = _logged(port, student.coach, blocks[number], SECONDS)

        threads = [threading.Thread(target=one, args=(number,)) for number in range(CLIENTS)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    every = [took for found in times for took in found]
    stored = sum(block.shots.count() for block in blocks[:-1])
    return (
        statistics.median(alone), statistics.quantiles(every, n=100)[98], float(len(every)), float(stored),
        float(sum(errors)),
    )


def _logged(port: int, coach: Any, block: Any, seconds: float) -> tuple[list[float], int]:
    """Log balls for some seconds and return how long each took, and how many were refused."""
    visitor = Visitor(port=port, coach=coach)
    visitor.ask("GET", f"/lessons/{block.lesson.code}/")
    times, refused, end = [], 0, time.perf_counter() + seconds
    while time.perf_counter() < end:
        fields = {"key": str(uuid.uuid4()), "carry_m": "212", "club_path_deg": "1.5", "system": "yards"}
        begin = time.perf_counter()
        status, _ = visitor.ask("POST", f"/blocks/{block.code}/balls/", fields)
        if status == 200:
            times.append(time.perf_counter() - begin)
        else:
            refused += 1
        time.sleep(PAUSE_S)
    return times, refused


if __name__ == "__main__":
    print(*_measured(processes=4))
