"""The moment of each ball, from a column of date and time or from two."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .dates import ORDERS, decide_order, parse_when
from .numbers import is_blank
from .table import Table
from .types import AmbiguousFile, ColumnMatch, Problem, Question


@dataclass(frozen=True, kw_only=True)
class Moments:
    """``values`` datetime64[ms] of shape (rows,), NaT where a cell is blank; None where nothing was read."""

    values: NDArray[np.datetime64] | None
    bad: dict[int, Problem]
    questions: tuple[Question, ...] = ()


def read_moments(table: Table, *, when: ColumnMatch | None, date: ColumnMatch | None, time: ColumnMatch | None,
                 order: str | None) -> Moments:
    """Return the moments of a table. A column of times alone tells nothing about the day and is not read."""
    main = when or date
    if main is None:
        return Moments(values=None, bad={})
    texts = table.texts(main.heading)
    if when is None and time is not None:
        clocks = table.texts(time.heading)
        texts = [f"{day} {clock}" if day and not is_blank(clock) else day
                 for day, clock in zip(texts, clocks, strict=True)]
    try:
        order = order or decide_order(texts)
    except AmbiguousFile as error:
        return Moments(values=None, bad={}, questions=(Question(about="date_order", sentence=str(error)),))
    if order is None:
        sentence = (f"“{next(iter(texts))}” in “{main.heading}” can have the day or the month first; say which.")
        return Moments(values=None, bad={},
                       questions=(Question(about="date_order", sentence=sentence, choices=("dmy", "mdy")),))
    return _read(table, main.heading, texts, order)


def _read(table: Table, heading: str, texts: list[str], order: str) -> Moments:
    values = np.full(len(texts), np.datetime64("NaT"), dtype="datetime64[ms]")
    bad = {}
    for index, text in enumerate(texts):
        if is_blank(text):
            continue
        moment = parse_when(text, order=order)
        if moment is None:
            bad[index] = Problem(row=int(table.lines[index]), column=heading, text=text,
                                 expected=f"a date with the {ORDERS[order]}, as in the rest of the file")
        else:
            values[index] = np.datetime64(moment, "ms")
    return Moments(values=values, bad=bad)
