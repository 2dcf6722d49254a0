"""Letting nobody stand out: people are told only in crowds of at least so many who look the same. Pure.

This is k-anonymity by leaving out (Samarati and Sweeney 1998, from memory): whoever knows all that is told of
somebody finds that many rows, or none. It does not hide what all of a crowd have in common.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

Key = TypeVar("Key")
ANY = "any"


@dataclass(frozen=True, kw_only=True)
class Member:
    """Somebody as told: ``traits`` from the one given up last to the one given up first, and a number of visits."""

    pk: int
    traits: tuple[str, ...]
    visits: int


def in_crowds(people: Iterable[Member], *, least: int) -> list[Member]:
    """Return the people who can be told, each in a crowd of ``least`` with the same traits and the same visits.

    Who is too rare gives up traits, the last first, until there are enough alike; whoever is too rare even without
    traits is left out. Inside a crowd the later visits of those who came more often are cut off.
    """
    told: list[Member] = []
    rest = list(people)
    width = len(rest[0].traits) if rest else 0
    for kept in range(width, -1, -1):
        masked = [replace(one, traits=one.traits[:kept] + (ANY,) * (width - kept)) for one in rest]
        crowds = grouped(masked, lambda one: one.traits)
        enough = {traits for traits, crowd in crowds.items() if len(crowd) >= least}
        for traits in enough:
            told += _level(crowds[traits], least)
        rest = [one for one, mask in zip(rest, masked, strict=True) if mask.traits not in enough]
    return told


def told_by_enough(rows: Iterable[tuple[Key, int]], *, least: int) -> set[Key]:
    """Return the keys that at least so many different people share; a row is (key, person)."""
    people: dict[Key, set[int]] = defaultdict(set)
    for key, person in rows:
        people[key].add(person)
    return {key for key, found in people.items() if len(found) >= least}


def grouped(rows: Iterable[Member], key: Callable[[Member], Key]) -> dict[Key, list[Member]]:
    """Return key -> rows."""
    found: dict[Key, list[Member]] = defaultdict(list)
    for row in rows:
        found[key(row)].append(row)
    return dict(found)


def _level(crowd: Sequence[Member], least: int) -> list[Member]:
    """Cut visits so that at least so many of a crowd have each number of them: in order, part by part, to the
    fewest of the part. The last part takes what would not make one of its own."""
    order = sorted(crowd, key=lambda one: (-one.visits, one.pk))
    starts = range(0, len(order) - least + 1, least)
    cut: list[Member] = []
    for start in starts:
        part = order[start:] if start == starts[-1] else order[start:start + least]
        cut += [replace(one, visits=part[-1].visits) for one in part]
    return cut
