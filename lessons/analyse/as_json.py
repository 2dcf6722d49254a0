"""The reading of a file as JSON: documented in the command's help, the same keys always, SI, no NaN."""

import math
from typing import Any

from metrics.fields import FIELDS
from metrics.intervals import MeanEstimate
from metrics.rules.assessment import CheckShown, Finding, as_dict

from .run import Analysis, BlockReading


def analysis_as_dict(analysis: Analysis) -> dict[str, Any]:
    """Return the whole reading: ``file`` and one entry of ``blocks`` for each club.

    ``club`` is the category. Means, SDs and intervals are in ``unit``, + = slice side for both hands; ``sd``
    and ``interval95`` are null for a single ball. ``evidence`` has one entry for each thing seen, with its
    sentence; ``window`` is [low, high] in the checkpoint's unit, or null for a routine without a number.
    """
    parsed = analysis.parsed
    columns = {key: match.heading for key, match in analysis.proposal.matches.items() if key in FIELDS}
    return {
        "file": {"rows": parsed.rows, "balls": parsed.balls, "columns": columns,
                 "problems": [problem.as_dict() for problem in parsed.problems]},
        "blocks": [_block(block) for block in analysis.blocks],
    }


def _block(block: BlockReading) -> dict[str, Any]:
    return {
        "club": block.category,
        "n": block.balls,
        "numbers": {key: _number(key, found) for key, found in block.numbers.items()},
        "findings": [_finding(finding) for finding in block.assessment.findings],
        "needs": list(block.assessment.needs),
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
    }


def _check(check: CheckShown) -> dict[str, Any]:
    return {"checkpoint": check.checkpoint, "window": list(check.window) if check.window else None,
            "reason": check.reason}
