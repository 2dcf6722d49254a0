"""Knowing a source again by its headings, so that its columns are matched once and not each time."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from .numbers import tidy
from .table import Table
from .types import ColumnMatch, Columns


def fingerprint(table: Table) -> str:
    """Return 64 hexadecimal digits that two files share if their headings and units row are the same.

    Case, spaces and the order of columns do not matter; the decimal mark and the encoding are not part of it.
    """
    names = sorted(f"{_plain(name)}|{_plain(unit)}" for name, unit in zip(table.written, table.units, strict=True))
    return hashlib.sha256("\n".join(names).encode()).hexdigest()


@dataclass(frozen=True, kw_only=True)
class KnownSource:
    """A source that was matched before. ``key`` is the caller's own name for it."""

    key: str
    fingerprint: str
    columns: Columns


@dataclass(frozen=True, kw_only=True)
class Recognised:
    """A known source that a table seems to come from.

    ``exact``: the headings are all the same. Otherwise ``missing`` are matched headings that the table
    lacks and ``new`` headings that the source did not have matched.
    """

    source: KnownSource
    exact: bool
    columns: dict[str, ColumnMatch]
    missing: tuple[str, ...]
    new: tuple[str, ...]


def recognise(table: Table, known: Iterable[KnownSource]) -> Recognised | None:
    """Return the known source of a table, or None.

    The same fingerprint decides. Without one, the source with most of its matched headings here is
    offered, if at least half of them, and at least two, are; two equally good ones are no answer.
    """
    sources = list(known)
    mark = fingerprint(table)
    same = [source for source in sources if source.fingerprint == mark]
    if len(same) == 1:
        return _seen(table, same[0], exact=True)
    shares = [(_share(table.headings, source), source) for source in sources]
    best = max((share for share, _ in shares), default=0.0)
    near = [source for share, source in shares if share == best]
    return _seen(table, near[0], exact=False) if best >= 0.5 and len(near) == 1 else None


def columns_from_json(saved: Mapping[str, Mapping[str, str | None]]) -> dict[str, ColumnMatch]:
    """Return matches as ``suggest.as_mapping`` wrote them."""
    return {key: ColumnMatch(heading=str(match["heading"]), unit=match.get("unit")) for key, match in saved.items()}


def _seen(table: Table, source: KnownSource, *, exact: bool) -> Recognised:
    here = {_plain(heading): heading for heading in table.headings}
    columns = {key: ColumnMatch(heading=here[_plain(match.heading)], unit=match.unit)
               for key, match in source.columns.items() if _plain(match.heading) in here}
    missing = [match.heading for match in source.columns.values() if _plain(match.heading) not in here]
    matched = {_plain(match.heading) for match in source.columns.values()}
    new = [heading for heading in table.headings if _plain(heading) not in matched]
    return Recognised(source=source, exact=exact, columns=columns, missing=tuple(missing), new=tuple(new))


def _share(headings: Sequence[str], source: KnownSource) -> float:
    here = {_plain(heading) for heading in headings}
    wanted = [_plain(match.heading) for match in source.columns.values()]
    found = sum(heading in here for heading in wanted)
    return found / len(wanted) if found >= 2 else 0.0


def _plain(text: str) -> str:
    return " ".join(tidy(text).casefold().split())
