"""The Method page: every number the program computes, and every value it assumes. No query."""

from typing import Any

from metrics.catalogue import GROUPS, MARKS, Group, matching
from metrics.change.priors import SETTINGS
from metrics.flight.reference import REFERENCE
from metrics.method import Method

HERE = Group(key="here", title="Worked out on the pages themselves", methods=(
    Method(key="smash_factor", label="Smash factor, where the device gave none", unit="",
           formula="ball speed / club speed of the same ball", valid_range="both measured, club speed above 0",
           source="definition", mark="computed", function="lessons.frames.shots_of"),
    Method(key="face_to_path", label="Face to path, where the device gave none", unit="°",
           formula="face − path of the same ball", valid_range="both measured", source="definition",
           mark="computed", function="lessons.frames.shots_of"),
    Method(key="carry_half_width", label="± of a mean carry at the reference condition", unit="m",
           formula="√((t(n−1) · s/√n)² + (1.96 · common error)²)", valid_range="5 balls or more",
           source="Student’s t for the balls, normal for model and weather", mark="computed",
           function="lessons.queries.progress.rows.half_width_m"),
))
"""Exact arithmetic and intervals that belong to no number room."""


def method_page(*, words: str) -> dict[str, Any]:
    """Return the groups that contain all the words, how many rows that is, and the assumed values likewise."""
    groups = matching(words=words, groups=(*GROUPS, HERE))
    wanted = words.lower().split()
    settings = [
        setting for setting in SETTINGS.values()
        if all(word in f"{setting.label} {setting.unit} {setting.mark} assumed".lower() for word in wanted)
    ]
    return {
        "words": words, "groups": groups, "settings": settings, "marks": MARKS, "reference": REFERENCE.words,
        "shown": sum(len(group.methods) for group in groups),
        "all": sum(len(group.methods) for group in (*GROUPS, HERE)),
    }
