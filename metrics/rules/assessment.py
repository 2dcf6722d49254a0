"""What the rules answer. Everything is frozen and turns into plain JSON through ``as_dict``."""

import dataclasses
from dataclasses import dataclass
from typing import Any, Literal

State = Literal["supported", "hint", "silent"]
Strength = Literal["watch", "strong"]

STATES: tuple[State, ...] = ("silent", "hint", "supported")


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """One measured thing for (or beside) a finding.

    ``lo``/``hi`` is the 80 % interval of ``mean`` (of the share, for a share; None where there is none);
    ``window`` is what is wanted, ``threshold`` the watch value; ``measured`` False for calls by eye.
    """

    quantity: str
    label: str
    unit: str
    statistic: str
    mean: float
    sd: float | None
    n: int
    lo: float | None
    hi: float | None
    window: tuple[float, float] | None
    threshold: float | None
    measured: bool
    sentence: str


@dataclass(frozen=True, kw_only=True)
class PredictedEffect:
    """What moving one checkpoint should do: a range of change in ``unit``, and where the size comes from.

    ``own_repeats`` counts this player's own results mixed in (weight n/(n+3)); 0 = the shipped size alone.
    """

    quantity: str
    label: str
    unit: str
    low: float
    high: float
    mark: str
    source: str
    own_repeats: int
    sentence: str


@dataclass(frozen=True, kw_only=True)
class CheckShown:
    """One thing to look at. ``value`` None = not measured yet; ``outside`` None then too.

    ``checkpoint`` is a key of ``metrics.checkpoints`` or, for a routine item that has no number, a slug of
    its own with ``window`` None. ``shipped_window`` differs from ``window`` where an override is in force.
    ``then_check`` names the checkpoint to look at again after moving this one.
    """

    checkpoint: str
    title: str
    unit: str
    window: tuple[float, float] | None
    shipped_window: tuple[float, float] | None
    value: float | None
    outside: bool | None
    reason: str
    over_doing: str
    then_check: str | None
    effects: tuple[PredictedEffect, ...]
    mark: str
    source: str


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One pattern shown to the coach, with everything needed to argue with it.

    ``caveat`` says why a hint is no more than one; empty for a supported finding.
    """

    pattern: str
    code: str
    title: str
    group: str
    state: State
    strength: Strength
    raised_by_setup: bool
    caveat: str
    evidence: tuple[Evidence, ...]
    checks: tuple[CheckShown, ...]
    drills: tuple[str, ...]
    explain: str
    mechanism: str
    expect: str
    over_correction: str
    retest: str
    caution: str
    warnings: tuple[str, ...]
    would_change: str
    why_not: tuple[str, ...]
    own_goal: str


@dataclass(frozen=True, kw_only=True)
class Considered:
    """Every pattern that was looked at, shown or not, with one sentence why; for the expert view."""

    pattern: str
    title: str
    state: State
    strength: Strength | None
    shown: bool
    reason: str
    evidence: tuple[Evidence, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Gate:
    """A stop before any pattern: pain or a red flag. ``offers`` are things that can still be done."""

    key: str
    text: str
    offers: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """The whole answer for one block. ``findings`` has at most two, in the order to read them.

    ``watching`` has a sentence for each hint that luck alone could have made: said quietly, not shown as a finding.
    """

    club_category: str
    intent: str
    aids: tuple[str, ...]
    balls: int
    show_mean: bool
    gate: Gate | None
    findings: tuple[Finding, ...]
    watching: tuple[str, ...]
    needs: tuple[str, ...]
    in_window: str | None
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    considered: tuple[Considered, ...]


def as_dict(record: Any) -> Any:
    """Return any record of the rules as plain dicts, lists, numbers and strings, ready for JSON.

    >>> as_dict(Gate(key="pain", text="Stop.", offers=("putting",)))
    {'key': 'pain', 'text': 'Stop.', 'offers': ['putting']}
    """
    if dataclasses.is_dataclass(record) and not isinstance(record, type):
        return {f.name: as_dict(getattr(record, f.name)) for f in dataclasses.fields(record)}
    if isinstance(record, dict):
        return {key: as_dict(value) for key, value in record.items()}
    if isinstance(record, (list, tuple)):
        return [as_dict(value) for value in record]
    return record
