"""The page of what the statistics assume: every value with its mark, and the academy's own beside it. One query."""

from itertools import groupby
from typing import Any

from lessons.models import Override
from lessons.own_settings import setting_overrides
from metrics.catalogue import MARKS
from metrics.change.settings import SETTINGS


def settings_page() -> dict[str, Any]:
    """Return the settings by heading, each with what was laid over it, and those that fit nothing any more."""
    ours: dict[str, list[Override]] = {}
    for row in setting_overrides():
        ours.setdefault(row.slug, []).append(row)
    groups = [
        (title, [{"setting": one, "shipped": f"{one.value:.3g}", "ours": ours.get(one.key, [])} for one in rows])
        for title, rows in groupby(SETTINGS.values(), key=lambda one: one.group)
    ]
    return {"groups": groups, "marks": MARKS,
            "lost": [row for key, rows in ours.items() if key not in SETTINGS for row in rows]}
