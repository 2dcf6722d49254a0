"""What luck does by itself: a day that was picked because it stood out, a single visit before, a longest ball."""

from dataclasses import replace
from math import hypot, sqrt

from lessons.queries.visits import BlockVisit
from metrics.change.comparable import keep_alike, one_a_day
from metrics.change.model import Components, components
from metrics.change.question import Question
from metrics.change.regression import chosen_visit, luck_of_best
from metrics.change.verdict import Verdict
from metrics.change.visits import Conditions, Visit
from metrics.change.words import shown

from .cards import Card, card


def spreads_of(question: Question, *sides: list[BlockVisit]) -> Components:
    """Return the player's own spreads from the visits on each side of a change."""
    return components(phases=[[look.visit for look in side] for side in sides], k=question.k,
                      sd_prior=question.sd_prior, fixed_k=question.fixed_k)


def chosen_cards(question: Question, before: list[BlockVisit], after: list[BlockVisit]) -> list[Card]:
    """Return a card for the visit of the change and one for the newest visit, where it stands out of its own side."""
    parts = spreads_of(question, before, after)
    cards = []
    for title, side in (("The day of the change", before), ("The newest visit", after)):
        days = _like_the_newest(side, question.quantity)
        if not days:
            continue
        found = chosen_visit(question=question, chosen=days[-1], others=days[:-1], parts=parts)
        if found is not None:
            said = found.coach if title.startswith("The day") else _of_the_newest(found.coach, found.kind, len(days))
            cards.append(card(f"One unusual day: {title.lower()}", said))
    return cards


def _of_the_newest(said, kind: str, count: int):
    """The newest visit was not chosen by anybody; it is only the one that is remembered."""
    return replace(said, verdict=f"The newest visit is the {kind} of {count}",
                   next_step="Judge by the mean of the visits since the change, not by this day alone.")


def _like_the_newest(side: list[BlockVisit], quantity: str) -> tuple[Visit, ...]:
    if not side:
        return ()
    reference: Conditions = side[-1].visit.conditions
    kept, _ = keep_alike(visits=[look.visit for look in side], reference=reference, quantity=quantity)
    return one_a_day(visits=[visit for visit in kept if visit.n], reference=reference)


def single_visit_note(question: Question, verdict: Verdict | None) -> str:
    """Return what a gain may owe to a single visit before the change; empty where there were more or no claim."""
    if verdict is None or verdict.numbers is None or verdict.code not in ("likely", "established"):
        return ""
    numbers = verdict.numbers
    if len(numbers.balls_before) > 1:
        return ""
    strays = hypot(numbers.k * numbers.s_w, numbers.s_w / sqrt(numbers.balls_before[0]))
    return ("There was one visit before the change. A single visit strays by about "
            f"{shown(strays, question=question)} from the usual; if it was picked as an off day, that much came back "
            "by itself.")


def longest_note(question: Question, looks: list[BlockVisit]) -> str:
    """Return the best ball as the curiosity that it is; empty where more is not better, or below five balls."""
    balls = [ball for look in looks for ball in look.visit.balls]
    if question.goal.upward != 1 or len(balls) < 5:
        return ""
    return (f"Highest of {len(balls)}: {shown(max(balls), question=question)}. The best of {len(balls)} is about "
            f"{luck_of_best(n=len(balls)):.1f} spreads above the mean by luck, so it is never compared with one.")
