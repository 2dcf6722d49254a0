"""What storing a file will do, before anything is written. The preview shows this plan, and storing carries it out,
so the two cannot differ; and a preview keeps nobody waiting who is logging a ball."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from lessons.imports.gaps import propose_blocks
from lessons.imports.parse import Parsed, parse
from lessons.imports.table import Table
from lessons.imports.types import ColumnMatch
from lessons.models import Block, Lesson

from .import_blocks import Target, target_for
from .import_choices import Choices
from .import_overlap import Completion, overlap_with_stored, second_device
from .import_readings import kept_beside
from .import_sources import proposal_of


@dataclass(frozen=True, kw_only=True)
class Plan:
    """The new balls by block, the stored ones that a second device completes, and what is here already."""

    parsed: Parsed
    already: int
    overlap: str
    completion: Completion | None
    targets: tuple[tuple[Target, np.ndarray], ...]
    """Each block with the indexes of the balls that go into it."""

    @property
    def new(self) -> int:
        """How many balls go in."""
        return sum(len(picked) for _, picked in self.targets)


def plan_for(*, lesson: Lesson, table: Table, choices: Choices) -> Plan:
    """Return what storing would do now. Raises ImportRefusal where it cannot be done; writes nothing."""
    parsed = balls_in(table, choices, lesson)
    if choices.apart:
        match = np.full(parsed.balls, -1)
        overlap = f"{parsed.balls} taken as other balls than the stored ones"
    else:
        match, overlap = overlap_with_stored(lesson=lesson, parsed=parsed)
    fresh, completion = np.flatnonzero(match < 0), None
    if len(fresh) == parsed.balls and not choices.apart:
        completion = second_device(lesson=lesson, parsed=parsed)
        fresh = completion.fresh
    return Plan(
        parsed=parsed, already=int((match >= 0).sum()), overlap=overlap, completion=completion,
        targets=_targets(lesson, choices, parsed, fresh),
    )


def balls_in(table: Table, choices: Choices, lesson: Lesson) -> Parsed:
    """Return the balls of a table as they would go into a lesson. At most one query."""
    block = Block.objects.filter(lesson=lesson, code=choices.block).first() if choices.block else None
    columns: Mapping[str, ColumnMatch] = proposal_of(table, choices).columns
    club = choices.club or (block.club_name if block else None)
    names = {**({block.club_name: block.category} if block else {}), **choices.club_names}

    def work() -> Parsed:
        return rows_after(parse(
            table, columns=columns, hand=lesson.student.hand, file_sign=choices.file_sign, club=club,
            player=choices.player or None, date_order=choices.date_order or None, club_names=names,
        ), choices.after_line)

    key = (lesson.student.hand, club, repr(columns), repr(names), choices.file_sign, choices.player,
           choices.date_order, choices.after_line)
    return kept_beside(table, ("parsed", *key), work)


def rows_after(parsed: Parsed, line: int) -> Parsed:
    """Return the balls and problems that stand below a line of the file; all of them below line 0."""
    if not line:
        return parsed
    kept = np.flatnonzero(parsed.lines > line)
    return replace(
        parsed, lines=parsed.lines[kept], shots={key: values[kept] for key, values in parsed.shots.items()},
        raw=[parsed.raw[i] for i in kept], clubs=[parsed.clubs[i] for i in kept],
        categories=[parsed.categories[i] for i in kept], when=None if parsed.when is None else parsed.when[kept],
        problems=tuple(problem for problem in parsed.problems if problem.row > line),
        broken={row: text for row, text in parsed.broken.items() if row > line},
    )


def _targets(
    lesson: Lesson, choices: Choices, parsed: Parsed, fresh: np.ndarray
) -> tuple[tuple[Target, np.ndarray], ...]:
    """Give the new balls a block for each stretch of one club without a long pause."""
    if not len(fresh):
        return ()
    when = None if parsed.when is None else parsed.when[fresh]
    stretches = propose_blocks([parsed.clubs[i] for i in fresh], [parsed.categories[i] for i in fresh], when)
    targets: list[Target] = []
    for stretch in stretches:
        target = target_for(lesson=lesson, stretch=stretch, wanted=choices.block, before=targets)
        targets.append(replace(target, balls=stretch.stop - stretch.start))
    return tuple(
        (target, fresh[stretch.start:stretch.stop]) for target, stretch in zip(targets, stretches, strict=True)
    )
