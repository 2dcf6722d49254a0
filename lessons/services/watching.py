"""A folder into which a device drops its files: each row taken in once, by the same way as a file chosen by hand.

How far each file was read lies in the database, written in the same transaction as its balls: a program killed at
any moment has either both or neither.
"""

import codecs
import hashlib
import time
import uuid
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from itertools import repeat
from pathlib import Path

import numpy as np
from django.db import transaction
from django.utils import timezone

from lessons.api import SentBall
from lessons.imports.fingerprint import KnownSource, columns_from_json, recognise
from lessons.imports.parse import Parsed, parse
from lessons.imports.reader import read_table
from lessons.imports.suggest import as_mapping
from lessons.imports.table import Table
from lessons.imports.types import CLUB, ColumnMatch, ImportRefusal
from lessons.models import DataSource, Lesson, WatchedFile

from . import imports
from .import_clock import moment_of
from .import_plan import rows_after
from .live import running_lesson, take_into_inbox

WORKBOOK = ".xlsx"
SUFFIXES = {".csv", ".txt", ".tsv", ".tab", WORKBOOK}
MAX_BYTES = 20 * 1024 * 1024
SETTLED_SECONDS = 5
Say = Callable[[str], object]


class Watcher:
    """Looks at a folder again and again. What it keeps in memory only makes the next look cheaper."""

    def __init__(self, *, folder: Path, source: DataSource, say: Say) -> None:
        self.folder, self.source, self.say = folder, source, say
        self._marks: dict[Path, tuple[int, int]] = {}
        self._done: dict[Path, tuple[int, int]] = {}
        self._last_words: dict[Path, str] = {}

    def look(self) -> int:
        """Look once and return how many new balls were taken in.

        A file that changed since the last look waits for the next one: it may be half written. A last line
        without an end counts once the file has been left alone for some seconds.
        """
        DataSource.objects.filter(pk=self.source.pk).update(seen_at=timezone.now())
        found = [path for path in sorted(self.folder.iterdir()) if path.suffix.lower() in SUFFIXES]
        return sum(self._one(path) for path in found if not path.name.startswith("."))

    def _one(self, path: Path) -> int:
        try:
            stat = path.stat()
            mark = (stat.st_size, stat.st_mtime_ns)
            before, self._marks[path] = self._marks.get(path), mark
            if before != mark or self._done.get(path) == mark:
                return 0
            settled = time.time() - stat.st_mtime > SETTLED_SECONDS
            count, sentence = take_file(source=self.source, name=path.name, data=_read(path), settled=settled)
        except (ImportRefusal, OSError) as problem:
            settled, count, sentence = True, 0, f"{path.name}: not read. {problem}"
        if sentence and (count or sentence != self._last_words.get(path)):
            self.say(sentence)
            self._last_words[path] = sentence
        if settled:
            self._done[path] = mark
        return count


@transaction.atomic
def take_file(*, source: DataSource, name: str, data: bytes, settled: bool = False) -> tuple[int, str]:
    """Take in the rows of a file that were not read before; return how many, and a sentence (empty: nothing new).

    Into the running lesson as a file is, history and undo included, else into the inbox. ``settled``: the last
    line counts although it has no end. Raises ImportRefusal; then nothing was stored. A workbook is written as a
    whole: it is read once it has settled, and the balls that are here already are told by their numbers.
    """
    whole = name.lower().endswith(WORKBOOK)
    if whole and not settled:
        return 0, ""
    source = DataSource.objects.select_for_update().get(pk=source.pk)
    file, _ = WatchedFile.objects.get_or_create(
        data_source=source, name=name[-255:], defaults={"digest": _digest(b""), "source": "file"}
    )
    data = data if settled or whole else whole_lines(data)
    grown = _digest(data[: file.bytes_read]) == file.digest
    if not data.strip(b"\0 \t\r\n") or (grown and not data[file.bytes_read:].strip(b"\0 \t\r\n")):
        return 0, ""
    after = file.lines_read if grown and not whole else 0
    table = read_table(data, filename=name)
    last = int(table.lines[-1]) if len(table.lines) else 0
    if last <= after:
        return 0, ""
    columns = _columns(table, source)
    lesson = running_lesson(source=source, now=timezone.now())
    if lesson is not None:
        words = _into_lesson(lesson, source, name, data, columns, after)
    else:
        words = _into_inbox(source, name, table, columns, after)
    # Up to the last ball and no further: the averages below it are written anew with every ball.
    end = len(data) if whole else _end_of_line(data, last)
    file.bytes_read, file.lines_read, file.read_at = end, last, timezone.now()
    file.digest = _digest(data[: file.bytes_read])
    file.save()
    return words


def whole_lines(data: bytes) -> bytes:
    """Return a file up to its last finished line: what follows may still be written."""
    mark = _line_end(data)
    end = data.rfind(mark)
    return data[: end + len(mark)] if end >= 0 else b""


def _end_of_line(data: bytes, line: int) -> int:
    """Return how many bytes a file's first lines take."""
    mark, place = _line_end(data), 0
    for _ in repeat(None, line):
        found = data.find(mark, place)
        if found < 0:
            return len(data)
        place = found + len(mark)
    return place


def _line_end(data: bytes) -> bytes:
    if data.startswith(codecs.BOM_UTF16_LE):
        return b"\n\0"
    if data.startswith(codecs.BOM_UTF16_BE):
        return b"\0\n"
    return b"\n" if b"\n" in data else b"\r"


def _columns(table: Table, source: DataSource) -> dict[str, ColumnMatch]:
    """Return the matched columns of a source's file. Raises ImportRefusal where they were never matched."""
    known = KnownSource(
        key=source.name, fingerprint=source.headings_fingerprint, columns=columns_from_json(source.columns)
    )
    seen = recognise(table, [known]) if source.columns else None
    if seen is None:
        raise ImportRefusal(
            f"Its headings are not those of {source.name}. Take one such file into a lesson by hand, under that "
            "name; the columns are matched there, once."
        )
    return dict(seen.columns)


def _into_lesson(
    lesson: Lesson, source: DataSource, name: str, data: bytes, columns: dict[str, ColumnMatch], after: int
) -> tuple[int, str]:
    batch = imports.look_at(by=None, lesson=lesson, data=data, filename=name, block=None)
    imports.decide(batch=batch, choices=replace(
        imports.choices_of(batch), columns=dict(as_mapping(columns)), file_sign=source.file_sign, confirmed=True,
        date_order=source.date_format, provenance=source.carry_provenance, source_name=source.name,
        club_names=source.club_names, after_line=after,
    ))
    outcome = imports.store(by=None, batch=batch)
    words = f"{name}: {_count(outcome.new)} into the lesson of {lesson.student.name}"
    words += f", {outcome.already} already there" if outcome.already else ""
    words += f", {outcome.completed} completed" if outcome.completed else ""
    return outcome.new, words + _problems(outcome.parsed)


def _into_inbox(
    source: DataSource, name: str, table: Table, columns: dict[str, ColumnMatch], after: int
) -> tuple[int, str]:
    named = CLUB in columns
    # As for a right-hander: nothing is turned round before the balls have their student. Without a column of
    # clubs the reader wants one named; it is dropped again.
    parsed = rows_after(parse(
        table, columns=columns, hand="right", club=None if named else "driver", club_names=source.club_names,
        date_order=source.date_format or None,
    ), after)
    seen: Counter[str] = Counter()
    balls = []
    for i, raw in enumerate(parsed.raw):
        seen[raw] += 1
        balls.append(SentBall(
            # The same row of the same file makes the same key, so that a file written anew waits once.
            key=uuid.uuid5(source.code, f"{name}\n{seen[raw]}\n{raw}"),
            club=parsed.clubs[i][:40] if named else "", category=parsed.categories[i] if named else "",
            numbers={key: float(values[i]) for key, values in parsed.shots.items() if np.isfinite(values[i])},
            hit_at=moment_of(parsed, i), raw=raw,
        ))
    count = take_into_inbox(source=source, balls=balls)
    return count, f"{name}: {_count(count)} into the inbox{_problems(parsed)}"


def _count(balls: int) -> str:
    return f"{balls} ball{'' if balls == 1 else 's'}"


def _problems(parsed: Parsed) -> str:
    if not parsed.problems:
        return "."
    return f"; {len(parsed.problems)} cells could not be read. {parsed.problems[0].sentence()}"


def _read(path: Path) -> bytes:
    if path.stat().st_size > MAX_BYTES:
        raise ImportRefusal(f"It has more than {MAX_BYTES // 2**20} MB; take it in by hand.")
    return path.read_bytes()


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
