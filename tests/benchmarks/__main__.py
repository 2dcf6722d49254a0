"""Run benchmarks, print what | ours | floor | ratio | limit | ok, exit 1 when a limit is missed."""

import argparse
import importlib
import json
import sys

from .figure import Figure
from .registry import BENCHMARKS


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help=f"one of {', '.join(BENCHMARKS)}; all if none")
    parser.add_argument("--json", action="store_true", help="print JSON instead of a table")
    chosen = parser.parse_args(arguments)
    unknown = [name for name in chosen.names if name not in BENCHMARKS]
    if unknown:
        parser.error(f"no benchmark named {', '.join(unknown)}; expected {', '.join(BENCHMARKS)}")
    figures: dict[str, list[Figure]] = {
        name: list(importlib.import_module(BENCHMARKS[name]).run()) for name in chosen.names or BENCHMARKS
    }
    everything = [figure for group in figures.values() for figure in group]
    within = sum(figure.ok for figure in everything)
    if chosen.json:
        print(json.dumps({name: [_as_dict(figure) for figure in group] for name, group in figures.items()}, indent=2))
    else:
        for name, group in figures.items():
            print(_table(name, group))
    print(f"{within} of {len(everything)} within their limit", file=sys.stderr if chosen.json else sys.stdout)
    return 0 if within == len(everything) else 1


def _as_dict(figure: Figure) -> dict[str, object]:
    return {**vars(figure), "ratio": figure.ratio, "ok": figure.ok}


def _table(name: str, figures: list[Figure]) -> str:
    head = ("what", "ours", "floor", "ratio", "limit", "ok")
    lines = [
        (
            figure.what, f"{figure.ours:.4g} {figure.unit}", f"{figure.floor:.4g} {figure.unit}",
            f"{figure.ratio:.3g}", f"{figure.direction} {figure.limit:g}", "yes" if figure.ok else "NO",
        )
        for figure in figures
    ]
    widths = [max(len(row[column]) for row in (head, *lines)) for column, _ in enumerate(head)]
    text = [name, " | ".join(cell.ljust(width) for cell, width in zip(head, widths, strict=True))]
    text.append("-+-".join("-" * width for width in widths))
    for row, figure in zip(lines, figures, strict=True):
        text.append(" | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
        text.append(f"    floor: {figure.why}")
    return "\n".join([*text, ""])


if __name__ == "__main__":
    sys.exit(main())
