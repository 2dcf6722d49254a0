"""Did it hold, where nobody measured: balls called by eye, counted before the change and after it, like with like.

A share of balls is all that calls can give; no number is made up from them, and what one day alone does to a share is
not known, so the words stay below those of a measured verdict.
"""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime

from academy.models import Student
from lessons.frames import BlockShots, shots_of
from lessons.models import Block, Lesson, Prescription
from lessons.queries.held import InWork, changes_of, sides
from lessons.queries.visits import BlockVisit, visit_without_numbers
from metrics.spread import Rate

from .cards import Card
from .shares import Sides, clean, contact_cards, mishit

ALIKE_FOR = "strike_heel_toe_mm"
"""Called contact is comparable where a measured strike would be."""
NEXT_TIME = "Begin the next visit with a first ten, no aids and no advice, and call the contact of each ball."


@dataclass(frozen=True, kw_only=True)
class CalledRow:
    """One block in the table."""

    block: Block
    lesson: Lesson
    clean: Rate
    mishit: Rate

    @property
    def clean_words(self) -> str:
        return f"{self.clean.lo * 100:.0f} to {self.clean.hi * 100:.0f} %"


@dataclass(frozen=True, kw_only=True)
class Called:
    """Everything the page says of one kind of club by eye. ``first`` speaks at the top, ``others`` below it."""

    category: str
    first: Card
    others: list[Card]
    rows: list[CalledRow]
    last_visit: datetime


def called_clubs(*, student: Student) -> list[tuple[str, int]]:
    """Return the kinds of club whose contact was called, with the count, most balls first. One query."""
    counts: Counter[str] = Counter()
    rows = Block.objects.filter(lesson__student=student, lesson__status=Lesson.Status.FINISHED, removed_at=None)
    for category, contact in rows.values_list("category", "summary__calls__contact"):
        counts[category] += sum((contact or {}).values())
    return [(category, n) for category, n in counts.most_common() if n]


def called_of(*, student: Student, category: str) -> Called | None:
    """Return what the calls say; None where no contact was called with this kind of club. Four queries."""
    blocks = [block for block in Block.objects.filter(
        lesson__student=student, lesson__status=Lesson.Status.FINISHED, category=category, removed_at=None,
    ).select_related("lesson__venue", "lesson__device", "club").order_by("lesson__starts_at", "position")
        if (block.summary.get("calls") or {}).get("contact")]
    if not blocks:
        return None
    shots = shots_of(blocks)
    work = InWork(quantity="", category=category, intent=blocks[-1].intent, since=_since(student, category))
    visits = [_unseen(visit_without_numbers(block)) for block in blocks]
    before, after = sides(looks=[visit for visit in visits if visit.is_first_look], work=work)
    every = Sides(before=before, after=after, shots=shots)
    cards = [_careful(card, after) for card in contact_cards(every.alike(ALIKE_FOR), out=every.left_out(ALIKE_FOR))]
    first = _spoken(next(iter(cards), None) or _nothing(), after)
    return Called(
        category=category, first=first, others=[card for card in cards[1:] if not card.waits],
        rows=[_row(block, shots[block.pk].judged()) for block in blocks], last_visit=blocks[-1].lesson.starts_at,
    )


def _since(student: Student, category: str) -> Prescription | None:
    """Return the change that the work began with: the first of those made in a row for one pattern."""
    run: list[Prescription] = []
    for change in changes_of(student=student):
        if not change.finding or not change.finding.block or change.finding.block.category != category:
            continue
        if run and change.finding.pattern != run[0].finding.pattern:
            break
        run.append(change)
    return run[-1] if run else None


def _unseen(visit: BlockVisit) -> BlockVisit:
    """Calls are no numbers a student could look at: whether any were shown does not part them."""
    return replace(visit, visit=replace(visit.visit, conditions=replace(visit.visit.conditions, feedback_shown=None)))


def _careful(card: Card, after: list[BlockVisit]) -> Card:
    days = len({look.visit.day for look in after})
    if card.waits or days > 1 or not days:
        return card
    return replace(card, next_step="One visit can be one good or one hard day: begin the next with a first ten too.")


def _spoken(card: Card, after: list[BlockVisit]) -> Card:
    """What cannot be said yet has a word too where it stands at the top."""
    if card.word:
        return card
    if after:
        return replace(card, word="Not enough balls yet")
    return replace(card, word="Nothing to compare yet", next_step=NEXT_TIME)


def _nothing() -> Card:
    return Card(title="Clean contact", word="Nothing to compare yet", waits=True,
                why="No visit began with balls without aids or advice: only those show what holds.",
                next_step="Begin the next two visits with a first ten, and call the contact of each ball.")


def _row(block: Block, shots: BlockShots) -> CalledRow:
    return CalledRow(block=block, lesson=block.lesson, clean=clean([shots]), mishit=mishit([shots]))
