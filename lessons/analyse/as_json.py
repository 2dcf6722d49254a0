"""The reading of a file as JSON: documented in the command's help, the same keys always, SI, no NaN."""

import math
from typing import Any

from metrics.fields import FIELDS
from metrics.intervals import MeanEstimate
from metrics.rules.assessment import CheckShown, Finding, as_dict

from .run import Analysis, Balls, BlockReading


def analysis_as_dict(analysis: Analysis) -> dict[str, Any]:
    """Return the whole reading: ``file`` and one entry of ``blocks`` for each club.

    ``club`` is the category. Means, SDs and intervals are in ``unit``, + = slice side for both hands; ``sd``
    and ``interval95`` are null for a single ball. ``evidence`` has one entry for each thing seen, with its
    sentence; ``window`` is [low, high] in the checkpoint's unit, or null for a routine without a number.
    """
    return {"file": _file(analysis.balls), "blocks": [_block(block) for block in analysis.blocks]}


def _file(balls: Balls | None) -> dict[str, Any]:
    if balls is None:
        return {"rows": 0, "balls": 0, "columns": {}, "problems": []}
    columns = {key: match.heading for key, match in balls.proposal.matches.items() if key in FIELDS}
    return {"rows": balls.parsed.rows, "balls": balls.parsed.balls, "columns": columns,
            "problems": [problem.as_dict() for problem in balls.parsed.problems]}


def _block(block: BlockReading) -> dict[str, Any]:
    found = block.assessment
    return {
        "club": block.category,
        "n": block.balls,
        "numbers": {key: _number(key, mean) for key, mean in block.numbers.items()},
        "gate": as_dict(found.gate),
        "findings": [_finding(finding) for finding in found.findings],
        "in_window": found.in_window,
        **{name: list(getattr(found, name)) for name in ("watching", "needs", "warnings", "notes")},
        "considered": {one.pattern: {"state": one.state, "reason": one.reason} for one in found.considered},
    }


def _number(key: str, found: MeanEstimate) -> dict[str, Any]:
    known = not math.isnan(found.lo)
    return {"mean": found.mean, "sd": found.sd if known else None, "n": found.n,
            "interval95": [found.lo, found.hi] if known else None, "unit": FIELDS[key].unit}


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "pattern": finding.pattern,
        "state": finding.state,
        "evidence": [as_dict(evidence) for evidence in finding.evidence],
        "checks": [_check(check) for check in finding.checks],
        "drills": list(finding.drills),
        "raised_by_setup": finding.raised_by_setup,
        **{name: getattr(finding, name) for name in ("title", "explain", "caveat", "own_goal", "would_change")},
        "warnings": list(finding.warnings),
        "why_not": list(finding.why_not),
    }


def _check(check: CheckShown) -> dict[str, Any]:
    return {"checkpoint": check.checkpoint, "window": list(check.window) if check.window else None,
            "reason": check.reason, "value": check.value, "then_check": check.then_check}
