"""Where there is no verdict: why, and what a coach has to log to get one."""

from dataclasses import dataclass

from lessons.queries.held import InWork
from lessons.queries.visits import BlockVisit
from metrics.change.priors import balls_to_judge
from metrics.change.question import Question
from metrics.change.words import counted
from metrics.fields import FIELDS


@dataclass(frozen=True, kw_only=True)
class Nothing:
    """The answer where nothing can be compared: word, reason, next step with balls and visits."""

    word: str
    why: str
    next_step: str


def why_nothing(*, question: Question | None, quantity: str, before: list[BlockVisit], after: list[BlockVisit],
                work: InWork) -> Nothing:
    """Return why no verdict was formed."""
    needed = balls_to_judge(category=work.category)
    first_ten = f"a first ten: {needed} balls or more, no aids, no advice"
    label = FIELDS[quantity].label.lower()
    if before and not after:
        visits = counted(len({look.visit.day for look in before}), noun="visit")
        return Nothing(word="Nothing to compare yet", why=f"{visits} with {label} before the change, none after it.",
                       next_step=f"Begin the next visit with {first_ten}. One can make it “likely kept”, two or more "
                                 "“established”.")
    if after and not before:
        return Nothing(word="Nothing to compare yet", why="No visit before the change lies in this period.",
                       next_step="Choose an earlier day to count from.")
    if before and question is None:
        return Nothing(word="Not judged", next_step="Choose a number with a window, or read the table below.",
                       why=f"No window and no better way to go is kept for {label} with this club.")
    return Nothing(word="Nothing to compare yet", next_step=f"Begin the next two visits with {first_ten}.",
                   why="No visit began with balls without aids or advice: only those show what holds.")
