"""Which drills to offer: the finding's first, within place, kit and minutes, and none that loads a sore area."""

from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from lessons.care import reads_health
from lessons.library import current_library
from lessons.models import Finding, Lesson
from lessons.queries.assess import assess
from lessons.queries.pain_rule import pain_rule
from lessons.queries.setup import work_block
from metrics.rules.records import Drill, Library

KITS = {"": "any kit", "none": "nothing needed", "sticks": "sticks at hand", "tees": "tees at hand"}
_AT_HAND = {"sticks": ("stick",), "tees": ("tee",)}
PLACES = {"": "any place", "range": "range", "home": "home", "garden": "garden", "green": "green",
          "bunker": "bunker", "course": "course"}
MINUTES = {"": "any length", "5": "up to 5 minutes", "10": "up to 10 minutes", "15": "up to 15 minutes"}
SHOWN = 6


@dataclass(frozen=True, kw_only=True)
class Filters:
    """What the coach asked for; an empty text asks for nothing."""

    place: str = ""
    kit: str = ""
    minutes: str = ""

    def keep(self, drill: Drill) -> bool:
        """Say whether a drill fits."""
        at_hand = _AT_HAND.get(self.kit, ())
        kit_fits = self.kit == "" or all(any(word in item for word in at_hand) for item in drill.kit)
        return (not self.place or self.place in drill.places) and kit_fits and (
            not self.minutes or drill.minutes <= int(self.minutes))


def filters_from(data: Any) -> Filters:
    """Read the filters of a request; what is not offered counts as not asked."""
    return Filters(**{name: data.get(name, "") if data.get(name, "") in known else "" for name, known in
                      (("place", PLACES), ("kit", KITS), ("minutes", MINUTES))})


def chooser(lesson: Lesson, filters: Filters | None = None) -> dict[str, Any]:
    """Return the drills given and the ones offered, in order. Seven queries at most."""
    filters = filters or Filters()
    library = current_library()
    rule = pain_rule(student=lesson.student, day=timezone.localdate())
    given = list(lesson.assignments.filter(removed_at__isnull=True))
    taken = {assignment.drill for assignment in given}
    patterns = patterns_in_work(lesson)
    calm = [drill for drill in library.drills.values()
            if rule.allows(drill) and not set(drill.not_for) & set(patterns)]
    wanted = [drill for drill in calm if filters.keep(drill) and drill.slug not in taken]
    ranked = sorted(wanted, key=lambda drill: rank(drill, patterns, library))
    fitting = [drill for drill in ranked if rank(drill, patterns, library)[0] < 2] if patterns else ranked
    offers = fitting[:SHOWN]
    return {
        "lesson": lesson, "given": given, "offers": offers, "more": [drill for drill in ranked if drill not in offers],
        "for": {library.patterns[slug].title: slug for slug in patterns if slug in library.patterns},
        "left_out": len(library.drills) - len(calm) if reads_health(lesson) else 0, "filters": filters,
        "places": PLACES.items(), "kits": KITS.items(), "lengths": MINUTES.items(),
        "minutes_week": sum(assignment.minutes_week or 0 for assignment in given),
    }


def rank(drill: Drill, patterns: list[str], library: Library) -> tuple[int, int]:
    """Return where a drill stands: named by a finding in its order, then meant for one, then the rest."""
    for place, slug in enumerate(patterns):
        named = library.patterns[slug].drills if slug in library.patterns else ()
        if drill.slug in named:
            return 0, place * 100 + named.index(drill.slug)
    return (1, 0) if set(drill.patterns) & set(patterns) else (2, 0)


def patterns_in_work(lesson: Lesson) -> list[str]:
    """Return the patterns that were confirmed, then those kept or shown, overruled ones never.

    One query where a finding was kept; else those of the reading of the block in work.
    """
    rows = list(lesson.findings.filter(removed_at__isnull=True))
    found = sorted(rows, key=lambda row: (row.decision != Finding.Decision.CONFIRMED, -row.pk))
    kept = [row.pattern for row in found if row.decision != Finding.Decision.OVERRULED]
    if not kept and (block := work_block(lesson)):
        overruled = {row.pattern for row in rows}
        kept = [f.pattern for f in assess(lesson=lesson, block=block)[0].findings if f.pattern not in overruled]
    return list(dict.fromkeys(kept))
