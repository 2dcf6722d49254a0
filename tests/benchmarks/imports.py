"""A very long file and a usual one, from bytes to stored, against reading and writing them with nothing in between."""

import io
import tracemalloc
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from . import raw
from .figure import Figure, seconds
from .ground import lay
from .rows import a_student, shot_columns

LONG = 1_000_000
_HEADINGS = {
    "club_speed_mps": "Club speed (m/s)", "ball_speed_mps": "Ball speed (m/s)", "launch_angle_deg": "Launch angle",
    "launch_direction_deg": "Launch direction", "spin_rpm": "Spin (rpm)", "spin_axis_deg": "Spin axis",
    "club_path_deg": "Club path", "face_angle_deg": "Face angle", "attack_angle_deg": "Attack angle",
    "carry_m": "Carry (m)", "side_m": "Side (m)", "strike_heel_toe_mm": "Strike heel toe (mm)",
}


def file_of(*, count: int, seed: int = 5) -> bytes:
    """Return a delimited file of so many driver balls."""
    columns = shot_columns(count=count, seed=seed)
    lines = [",".join(("Club", *(_HEADINGS[key] for key in columns)))]
    lines += [",".join(("Driver", *map(str, row))) for row in zip(*columns.values(), strict=True)]
    return "\n".join(lines).encode()


def run(count: int = LONG) -> Iterator[Figure]:
    """Yield the figures of one run."""
    lay()
    data = file_of(count=count)
    floor = floor_for(count)
    work, least = seconds(lambda: _taken_in(data), lambda: floor(data), repeats=1, warm=False)
    yield Figure(
        what=f"a file of {count:,} balls, bytes to stored", ours=work, floor=least, unit="s", limit=2,
        direction="at most",
        why="pandas' C reader, raw executemany of the finished rows, one flight of all launches: nothing can be left "
            "out of these.",
    )
    yield Figure(
        what=f"memory while reading {count:,} balls", ours=_peak(lambda: _read(data)) / 1e6,
        floor=_peak(lambda: _frame(data)) / 1e6, unit="MB", limit=1.5, direction="at most",
        why="pandas' C reader alone, its frame held.",
    )


def floor_for(count: int) -> Callable[[bytes], None]:
    """Return what reads, writes and flies a file of so many balls, its rows made ready beforehand."""
    from tests import factories

    block = factories.make_block(lesson=factories.make_lesson(student=a_student()))
    statement, rows = raw.finished_rows(block=block, columns=shot_columns(count=count, seed=5))

    def floor(data: bytes) -> None:
        frame = _frame(data)
        _fly({key: frame[heading].to_numpy(float) for key, heading in _HEADINGS.items()})
        connection = raw.connect()
        raw.write(connection, statement, rows)
        connection.close()

    return floor


def _taken_in(data: bytes) -> None:
    from django.db import transaction

    from lessons.services import imports
    from tests import factories

    student = a_student()
    with transaction.atomic():
        lesson = factories.make_lesson(student=student, temperature_c=14, pressure_hpa=1012)
        batch = imports.look_at(by=student.coach, lesson=lesson, data=data, filename="long.csv", block=None)
        outcome = imports.store(by=student.coach, batch=batch)
        if outcome is None or outcome.new != data.count(b"\n"):
            raise RuntimeError(f"not every ball was stored: {outcome and outcome.overlap}")
        transaction.set_rollback(True)


def _read(data: bytes) -> Any:
    from lessons.imports.reader import read_table

    return read_table(data, filename="long.csv")


def _frame(data: bytes) -> Any:
    import pandas

    return pandas.read_csv(io.BytesIO(data))


def _fly(values: dict[str, np.ndarray]) -> None:
    from metrics.flight.air import air_at
    from metrics.flight.trajectory import fly
    from metrics.flight.types import Launch

    names = ("ball_speed_mps", "launch_angle_deg", "spin_rpm", "launch_direction_deg", "spin_axis_deg")
    flown = fly(launch=Launch(**{name: values[name] for name in names}),
                air=air_at(temperature_c=14.0, pressure_hpa=1012.0, altitude_m=None))
    if not np.isfinite(flown.carry_m).any():
        raise RuntimeError("nothing flew")


def _peak(work: Any) -> float:
    tracemalloc.start()
    held = work()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    del held
    return peak
