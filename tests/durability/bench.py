"""A data folder, writers in processes of their own that say what was acknowledged, and what is left afterwards."""

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PREPARE = """
from django.core.management import call_command
call_command("migrate", verbosity=0)
from tests import factories
factories.make_academy()
coach = factories.make_coach("coach")
lesson = factories.make_lesson(student=factories.make_student(coach=coach))
factories.make_block(lesson=lesson)
"""
WRITE = """
import sys
from django import db
from lessons.models import Block
from tests import factories
block = Block.objects.get()
try:
    for number in range({count}):
        factories.add_balls(block=block, carry_m=[100.0 + number])
        print("stored", flush=True)
except db.OperationalError as error:
    from academy.trouble import sentence
    print("SAID", sentence(error), flush=True)
"""
IMPORT = """
from academy.models import Coach
from lessons.models import Lesson
from lessons.services import imports
coach, lesson = Coach.objects.get(), Lesson.objects.get()
for number in range({count}):
    rows = "".join(f"Driver,{{number}}.{{row}},200\\n" for row in range(50))
    data = ("Club,Path (deg),Carry (m)\\n" + rows).encode()
    batch = imports.look_at(by=coach, lesson=lesson, data=data, filename=f"{{number}}.csv", block=None)
    imports.store(by=coach, batch=batch)
    print("stored", flush=True)
"""


@dataclass
class Place:
    """One data folder."""

    home: Path

    @property
    def database(self) -> Path:
        return self.home / "academy" / "holdfast.sqlite3"

    @property
    def environment(self) -> dict:
        kept = {name: value for name, value in os.environ.items() if name not in {"DATABASE_URL", "HOLDFAST_DEMO"}}
        return {**kept, "HOLDFAST_HOME": str(self.home), "DJANGO_SETTINGS_MODULE": "academy.settings"}

    def start(self, *command: str, **options) -> subprocess.Popen:
        return subprocess.Popen(
            [sys.executable, "manage.py", *command], cwd=ROOT, env=self.environment, text=True,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, **options,
        )

    def run(self, *command: str, expect: int = 0) -> str:
        process = self.start(*command)
        out, wrong = process.communicate()
        assert process.returncode == expect, out + wrong
        return out + wrong

    def script(self, code: str, **options) -> subprocess.Popen:
        return self.start("shell", "-v", "0", "-c", code, **options)

    def whole(self) -> None:
        """The database passes SQLite's own checks."""
        with closing(sqlite3.connect(self.database)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            assert not connection.execute("PRAGMA foreign_key_check").fetchall()

    def balls(self) -> int:
        with closing(sqlite3.connect(self.database)) as connection:
            return connection.execute("SELECT count(*) FROM lessons_shot").fetchone()[0]


def kill_after(process: subprocess.Popen, *, acknowledged: int, then: float) -> int:
    """Wait for so many acknowledgements and a moment more, kill -9, and return how many were heard in all."""
    heard = 0
    while heard < acknowledged:
        line = process.stdout.readline()
        assert line, process.stderr.read()
        heard += line.startswith("stored")
    time.sleep(then)
    process.send_signal(signal.SIGKILL)
    rest, _ = process.communicate()
    return heard + rest.count("stored\n")


def moments(count: int, *, longest: float, seed: int = 11) -> list[float]:
    """Return moments to kill at, the same in every run."""
    rng = random.Random(seed)
    return [rng.uniform(0, longest) for _ in range(count)]
