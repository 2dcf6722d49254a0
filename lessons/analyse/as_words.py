"""The reading of a file in words: what was found first, then why, then the numbers and how the file was read."""

import math
import textwrap
from collections.abc import Iterator

from lessons.imports import label_of
from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.intervals import MeanEstimate
from metrics.rules.assessment import CheckShown, Finding
from metrics.rules.records import Library
from metrics.rules.words import number, span, unit_suffix
from metrics.units import System, display_digits, display_unit, from_si

from .run import Analysis, Balls, BlockReading

PROBLEMS_SHOWN = 20
WIDTH = 110
STATES = {"supported": "Supported", "hint": "A hint"}


def analysis_as_words(analysis: Analysis, *, library: Library) -> str:
    """Return the reading as plain text for a terminal, in the units that the file is in."""
    balls = analysis.balls
    system: System = "yards" if balls and any(match.unit in ("yd", "mph", "ft")
                                              for match in balls.proposal.matches.values()) else "metres"
    lines = [*_opening(analysis)]
    for block in analysis.blocks:
        lines += ["", *_block(block, analysis, library, system)]
    if balls:
        lines += ["", *_file(analysis, balls)]
    return "\n".join(_wrapped(line) for line in lines)


def _wrapped(line: str) -> str:
    """Break a long line at the width of a terminal, its continuation indented."""
    indent = " " * (len(line) - len(line.lstrip()) + 4)
    return textwrap.fill(line, width=WIDTH, subsequent_indent=indent, break_long_words=False) if line else ""


def _opening(analysis: Analysis) -> Iterator[str]:
    balls, request = analysis.balls, analysis.request
    aids = f"aids: {', '.join(request.aids)}" if request.aids else "no aids"
    read = (f"{balls.table.filename}: {_count(balls.parsed.balls, 'ball')} read of {_count(balls.parsed.rows, 'row')}"
            if balls else f"{_count(analysis.blocks[0].balls, 'ball')} called by eye")
    yield f"{read}, {request.hand}-handed, intent {request.intent}, {aids}."


def _block(block: BlockReading, analysis: Analysis, library: Library, system: System) -> Iterator[str]:
    category = CATEGORIES[block.category]
    same = block.name.strip().lower() in (category.lower(), block.category)
    yield f"== {category if same else f'{block.name} ({category})'}: {_count(block.balls, 'ball')} =="
    found = block.assessment
    if found.gate:
        yield found.gate.text
        yield f"What can be done instead: {', '.join(found.gate.offers)}."
        return
    if not found.findings:
        none = "No pattern shows in these balls." if found.show_mean else "Not enough balls yet."
        yield found.in_window or none
    for finding in found.findings:
        yield from _finding(finding, library)
    for sentence in found.watching:
        yield f"  - Worth watching, may be luck. {sentence}"
    for sentence in (*found.warnings, *found.needs, *found.notes):
        yield f"  - {sentence}"
    if not found.show_mean or not block.numbers:
        return
    yield "Numbers (mean, 95 % interval of the mean, spread as SD, number of balls):"
    for key, estimate in block.numbers.items():
        yield "  " + _number(key, estimate, system, worked_out=key in block.derived)
    if any(key in block.numbers for key in FIELDS if FIELDS[key].mirrored):
        side = "right" if analysis.request.hand == "right" else "left"
        yield f"  Directions: + is the slice side, {side} of the target for this player."


def _finding(finding: Finding, library: Library) -> Iterator[str]:
    yield f"{STATES[finding.state]}: {finding.title}"
    if finding.caveat:
        yield f"  {finding.caveat}"
    yield f"  {finding.explain}"
    for place, check in enumerate(finding.checks, 1):
        yield f"  {'Look first' if place == 1 else 'Then'}: {_check(check)}"
    if finding.caution:
        yield f"  Take care: {finding.caution}"
    if finding.drills:
        yield "  Drills: " + ", ".join(library.drills[slug].name for slug in finding.drills)


def _check(check: CheckShown) -> str:
    if check.window is None:
        return f"{check.title}: {check.reason}"
    return f"{check.title}, window {span(check.checkpoint, limits=check.window)}: {check.reason}"


def _number(key: str, found: MeanEstimate, system: System, *, worked_out: bool) -> str:
    field, unit = FIELDS[key], display_unit(field_key=key, system=system)
    digits = display_digits(field_key=key, system=system)
    mean, sd, lo, hi = (from_si(value=value, unit=unit, dimension=field.dimension)
                        for value in (found.mean, found.sd, found.lo, found.hi))
    sign = bool(field.plus_means)
    shown = f"{field.label:<18} {number(mean, digits=digits, sign=sign)}{unit_suffix(unit)}"
    if math.isnan(sd):
        return f"{shown}, one ball only"
    interval = f"{number(lo, digits=digits, sign=sign)} to {number(hi, digits=digits, sign=sign)}"
    extra = ", worked out from two others" if worked_out else ""
    return f"{shown} ({interval}), SD {number(sd, digits=digits)}, n {found.n}{extra}"


def _file(analysis: Analysis, balls: Balls) -> Iterator[str]:
    parsed, table, proposal = balls.parsed, balls.table, balls.proposal
    plus = "+ is right of the target" if analysis.request.file_sign == "right" else "+ is the player's slice side"
    yield f"How the file was read: {table.dialect.sentence()}; in its directions {plus}."
    for key, match in proposal.matches.items():
        yield f"  {label_of(key).capitalize()}: {match.why}."
    if parsed.balls and "club" in proposal.matches and analysis.request.club and not analysis.request.only_club:
        yield "  The file names its clubs itself; --club was taken only for balls without one."
    if proposal.unmatched:
        yield f"  Not used: {', '.join(f'“{heading}”' for heading in proposal.unmatched)}."
    for note in (*table.notes, *(question.sentence for question in parsed.questions)):
        yield f"  {note}"
    for skipped in table.skipped:
        yield f"  Row {skipped.row} was left out: {skipped.why} (“{skipped.text[:60]}”)."
    for name, count in parsed.others.items():
        yield f"  {_count(count, 'ball')} of {name} left out."
    if parsed.problems:
        yield f"Set aside, {_count(len(parsed.broken), 'row')}:"
    for problem in parsed.problems[:PROBLEMS_SHOWN]:
        yield f"  {problem.sentence()}"
    if len(parsed.problems) > PROBLEMS_SHOWN:
        yield f"  … and {len(parsed.problems) - PROBLEMS_SHOWN} more."


def _count(number: int, thing: str) -> str:
    return f"{number:,} {thing}{'' if number == 1 else 's'}"
