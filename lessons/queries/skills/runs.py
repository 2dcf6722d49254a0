"""Runs of short-game tests with their figures; one query for the balls of any number of runs."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from academy.models import Student
from lessons.models import Battery, SkillBall, SkillTest
from metrics.shortgame.designs import DESIGNS, Design
from metrics.shortgame.figures import MAIN, Ball, Figure, read


@dataclass(frozen=True, kw_only=True)
class Run:
    """One run: the test, its design, its balls and figures."""

    test: SkillTest
    design: Design
    balls: tuple[SkillBall, ...]
    figures: tuple[Figure, ...]

    @property
    def main(self) -> Figure | None:
        """The figure that stands for the run: all targets together."""
        key = MAIN[self.design.kind]
        return next((one for one in reversed(self.figures) if one.key == key), None)


def runs_of(*, student: Student) -> list[Run]:
    """Return a student's runs that hold a ball, oldest first. Two queries."""
    tests = list(student.skill_tests.filter(removed_at__isnull=True).select_related("lesson"))
    for test in tests:
        test.student = student
    return [run for run in _runs(tests) if run.balls]


def runs_in(battery: Battery) -> list[Run]:
    """Return the runs of a battery, empty ones too, oldest first. Two queries."""
    tests = list(battery.skill_tests.filter(removed_at__isnull=True).select_related("lesson"))
    for test in tests:
        test.student = battery.student
    return _runs(tests)


def run_of(test: SkillTest) -> Run:
    """Return one run, empty or not. One query."""
    return _runs([test])[0]


def _runs(tests: Iterable[SkillTest]) -> list[Run]:
    tests = [test for test in tests if test.design in DESIGNS]
    balls: dict[int, list[SkillBall]] = defaultdict(list)
    for ball in SkillBall.objects.filter(test__in=tests, removed_at__isnull=True):
        balls[ball.test_id].append(ball)
    return [
        Run(test=test, design=DESIGNS[test.design], balls=tuple(balls[test.pk]),
            figures=read(design=DESIGNS[test.design], balls=[as_ball(ball) for ball in balls[test.pk]]))
        for test in tests
    ]


def as_ball(ball: SkillBall) -> Ball:
    """Return a stored ball as the number room reads it."""
    clean = None if not ball.contact else ball.contact == "clean"
    return Ball(target_m=ball.target_m, done=ball.done, value_m=ball.value_m, side=ball.side, clean=clean)
