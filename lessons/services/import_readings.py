"""A file is read once while a person looks at it: choosing, previewing, storing ask for the same table.

Kept in this process alone, for the last few files of usual size; another process reads the file again. A table is
never changed, so what was worked out from it holds as long as it does.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar
from weakref import WeakKeyDictionary

from lessons.imports.reader import read_table
from lessons.imports.table import Table, with_corrections
from lessons.models import ImportBatch

from .import_choices import Choices

KEPT_FILES = 4
MOST_BYTES = 500_000
"""Some six thousand balls. A longer file takes long in any case, and its table much memory."""
KEPT_ANSWERS = 6
"""A few for each table: a person tries one reading after the other."""

Answer = TypeVar("Answer")
_turn = threading.Lock()
_tables: OrderedDict[tuple[Hashable, ...], Table] = OrderedDict()
_answers: WeakKeyDictionary[Table, OrderedDict[Hashable, object]] = WeakKeyDictionary()


def table_of(batch: ImportBatch) -> Table:
    """Return the table of a file, with the rows that were corrected by hand. Raises ImportRefusal."""
    choices = Choices(**batch.reading)
    return table_in(lambda: batch.raw, digest=batch.file_digest, filename=batch.file_name, choices=choices)


def table_in(data: Callable[[], bytes], *, digest: str, filename: str, choices: Choices) -> Table:
    """Return the table in a file's bytes, which are asked for only where it has to be read."""
    read = {"decimal": choices.decimal, "sheet": choices.sheet, "encoding": choices.encoding}
    key = (digest, filename, *read.values(), *sorted(choices.corrections.items()))
    with _turn:
        if key in _tables:
            _tables.move_to_end(key)
            return _tables[key]
    found = data()
    table = read_table(found, filename=filename, **{name: value or None for name, value in read.items()})
    if choices.corrections:
        table = with_corrections(table, {int(line): text for line, text in choices.corrections.items()})
    if len(found) <= MOST_BYTES:
        with _turn:
            _put(_tables, key, table, most=KEPT_FILES)
    return table


def kept_beside(table: Table, key: Hashable, work: Callable[[], Answer]) -> Answer:
    """Return what a piece of work makes of a table; it is done once for each key. What it raises is not kept."""
    with _turn:
        found = _answers.setdefault(table, OrderedDict())
        if key in found:
            return found[key]  # type: ignore[return-value]
    answer = work()
    with _turn:
        _put(found, key, answer, most=KEPT_ANSWERS)
    return answer


def forget(batch: ImportBatch) -> None:
    """Drop the tables of a file that is stored: nobody looks at it as a file again."""
    with _turn:
        for key in [key for key in _tables if key[0] == batch.file_digest]:
            del _tables[key]


def _put(kept: OrderedDict, key: Hashable, value: object, *, most: int) -> None:
    kept[key] = value
    while len(kept) > most:
        kept.popitem(last=False)
