"""The short tests of a report: the main figure of each run, compared as the short game compares."""

from lessons.queries.skills.runs import Run
from lessons.queries.skills.words import change_words, figure_row
from metrics.shortgame.compare import compare
from metrics.shortgame.figures import Figure
from metrics.units import System

from .rows import Row


def run_rows(*, now: Run, before: Run | None, system: System) -> list[Row]:
    """Return the main figure of a run beside the one before. No query."""
    if now.main is None:
        return []
    then = before.main if before else None
    written = _written(now, now.main, system)
    if then is None:
        return [Row(label=now.main.label, now=written)]
    found = compare(before=then, after=now.main)
    word, numbers = change_words(found, figure=now.main, system=system)
    went = found.word if found and found.word in ("better", "worse") else "open"
    return [Row(label=now.main.label, now=written, before=_written(before, then, system), change=numbers or "–",
                word=word, went=went)]


def _written(run: Run, figure: Figure, system: System) -> str:
    row = figure_row(figure, design=run.design, system=system, hand=run.test.student.hand, main=True)
    balls = "" if figure.form == "share" else f", n {row.n}"
    return f"{row.value} (95 % {row.interval}){balls}" if row.interval else f"{row.value}{balls}"
