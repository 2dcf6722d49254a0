"""The rules on one block, explanations included, against the bare means of what they read."""

from collections.abc import Iterator

import numpy as np

from .figure import Figure, seconds
from .ground import lay
from .rows import a_lesson_of_balls, a_student


def run() -> Iterator[Figure]:
    """Yield the figure for a block of 25 balls with twelve numbers each."""
    lay()
    from lessons.evidence import evidence_for
    from lessons.frames import shots_of
    from lessons.library import stored_library
    from lessons.queries.lesson import blocks_of
    from metrics.rules.engine import evaluate

    lesson = a_lesson_of_balls(student=a_student(), balls=200)
    blocks = blocks_of(lesson)
    library = stored_library()
    evidence = evidence_for(block=blocks[0], others=blocks)
    numbers = shots_of(blocks[:1])[blocks[0].pk].numbers
    read = [list(numbers) for _ in library.patterns]

    def floor() -> None:
        for keys in read:
            for key in keys:
                np.mean(numbers[key])
                np.std(numbers[key], ddof=1)

    ours, least = seconds(lambda: evaluate(evidence, library=library), floor, repeats=15)
    yield Figure(
        what=f"all {len(library.patterns)} patterns on one block, with their explanations", ours=ours * 1000,
        floor=least * 1000, unit="ms", limit=20, direction="at most",
        why="numpy's mean and SD of the block's columns, once for each pattern.",
    )
