"""Which pattern is shown for which true fault? Run: python -m tests.metrics.rules.confusion [repeats]"""

import sys
from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from itertools import cycle, islice, repeat

import numpy as np

from metrics.rules.engine import evaluate
from metrics.rules.types import BlockEvidence
from tests.library.shipped import shipped_library
from tests.metrics.rules.faults import FAULTS, SEVERITIES, evidence
from tests.metrics.rules.players import DAY, LEVELS, SPEED, Player

NOTHING = "nothing"


@dataclass(frozen=True, kw_only=True)
class Cell:
    """Share of blocks with the true fault shown first, and among the two shown; what else was shown first."""

    first: float
    shown: float
    instead: tuple[tuple[str, int], ...]


@lru_cache
def run(fault: str, severity: float, repeats: int, seed: int = 7) -> Cell:
    """Draw blocks of players with one fault, levels in turn, and count what the rules show."""
    rng = np.random.default_rng([seed, sorted(FAULTS).index(fault), round(severity * 10)])
    firsts: Counter[str] = Counter()
    among = 0
    for level in islice(cycle(LEVELS), repeats):
        slugs = _shown(FAULTS[fault](severity, level, rng))
        firsts[slugs[0] if slugs else NOTHING] += 1
        among += fault in slugs
    others = [(slug, count) for slug, count in firsts.most_common() if slug != fault]
    return Cell(first=firsts[fault] / repeats, shown=among / repeats, instead=tuple(others[:3]))


def _shown(block: BlockEvidence) -> list[str]:
    return [f.pattern for f in evaluate(block, library=shipped_library()).findings]


@lru_cache
def false_findings(repeats: int, day: float = DAY, seed: int = 11) -> dict[
        tuple[str, str], tuple[float, float, Counter[str]]]:
    """Return for every club and level of faultless players the share with a supported finding, and with any.

    ``day`` 0: nothing is wrong today either. Otherwise the day moves the means, and part of what is found is true
    of that day.
    """
    found = {}
    for club in SPEED:
        for level in LEVELS:
            rng = np.random.default_rng([seed, list(SPEED).index(club), LEVELS.index(level)])
            supported = anything = 0
            which: Counter[str] = Counter()
            for _ in repeat(None, repeats):
                player = Player(club=club, level=level, day=day)
                findings = evaluate(evidence(player, rng), library=shipped_library()).findings
                supported += any(f.state == "supported" for f in findings)
                anything += bool(findings)
                which.update(f"{f.pattern} ({f.state})" for f in findings)
            found[club, level] = (supported / repeats, anything / repeats, which)
    return found


def main(repeats: int = 60) -> None:
    print(f"True fault among the two shown (and first), {repeats} blocks each, numbers and called contact, no "
          "setup seen\n")
    print(f"{'true fault':20}" + "".join(f"{name:>18}" for name in SEVERITIES) + "   shown first instead at strong")
    for fault in FAULTS:
        cells = [run(fault, s, repeats) for s in SEVERITIES.values()]
        row = "".join(f"{c.shown:>10.0%} ({c.first:>4.0%})" for c in cells)
        instead = ", ".join(f"{slug} {count}" for slug, count in cells[-1].instead)
        print(f"{fault:20}{row}   {instead}")
    for day, words in ((DAY, "on a usual day"), (0.0, "with nothing wrong that day either")):
        print(f"\nFaultless players {words}: share of blocks with a supported finding, and with any finding")
        found = false_findings(repeats * 2, day)
        for (club, level), (supported, anything, which) in found.items():
            most = ", ".join(f"{name} {count}" for name, count in which.most_common(3))
            print(f"{club:18} {level:12} {supported:>6.1%} {anything:>6.1%}   {most}")
        means = [sum(cell[place] for cell in found.values()) / len(found) for place in (0, 1)]
        print(f"{'all':31} {means[0]:>6.1%} {means[1]:>6.1%}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
