"""Everything that is said beside the verdict, sorted: what the balls say now, and what they cannot say yet."""

from dataclasses import dataclass

from django.utils import timezone

from lessons.queries.carry import Comparable
from lessons.queries.held import InWork
from lessons.queries.visits import BlockVisit
from metrics.change.question import Question
from metrics.change.spread_words import spread_sentences
from metrics.change.verdict import Verdict
from metrics.spread import spread_change

from .cards import Card, aids_card, card, retention_card, transfer_card
from .carried import aids_of, retention_of, transfer_of
from .foretold import Foretold, foretold
from .luck import chosen_cards, longest_note, single_visit_note
from .shares import Sides, share_cards
from .within import adaptation_note, drift_card


@dataclass(frozen=True, kw_only=True)
class Beside:
    """``cards`` speak, ``waits`` need more balls; ``notes`` go under the verdict."""

    cards: list[Card]
    waits: list[Card]
    notes: list[str]
    foretold: Foretold | None = None


def beside(*, question: Question | None, visits: list[BlockVisit], told: Comparable, before: list[BlockVisit],
           after: list[BlockVisit], sides: Sides, work: InWork, verdict: Verdict | None) -> Beside:
    """Return what stands beside the verdict; nothing for a number that is not judged. Three queries at most."""
    if question is None:
        return Beside(cards=[], waits=[], notes=[])
    kept, kept_with_aids = retention_of(question, told.visits, told)
    carried, _ = transfer_of(question, told.visits, told)
    lessons_changed = {change.lesson_id for change in work.changes}
    found = [
        *chosen_cards(question, before, after),
        aids_card(aids_of(question, visits)),
        retention_card(kept, with_aids=kept_with_aids),
        transfer_card(carried),
        drift_card(question, visits, changed=lessons_changed, shots=sides.shots),
        *_spread_card(question, Sides(before=before, after=after, shots=sides.shots).alike(question.quantity)),
        *share_cards(sides, question=question, category=work.category, system=question.system),
    ]
    notes = [single_visit_note(question, verdict), adaptation_note(visits), longest_note(question, [*before, *after])]
    return Beside(
        cards=[one for one in found if not one.waits], waits=[one for one in found if one.waits],
        notes=[note for note in notes if note],
        foretold=foretold(question=question, category=work.category, changes=work.changes, visits=visits,
                          now=timezone.now()) if work.changes else None,
    )


def _spread_card(question: Question, looks: Sides) -> list[Card]:
    if not looks.before or not looks.after:
        return []
    before, after = ([look.visit.balls for look in side] for side in (looks.before, looks.after))
    change = spread_change(before=before, after=after)
    said, _ = spread_sentences(change=change, question=question)
    return [card("Spread", said, waits=change.word == "too_few")]
