"""Shares of balls with Wilson's intervals: playable, struck clean, mishit; before the change and after it."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from lessons.frames import BlockShots
from lessons.queries.visits import BlockVisit
from metrics.change.comparable import differences, keep_alike
from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.spread_words import rate_sentence
from metrics.change.words import shown
from metrics.fields import FIELDS
from metrics.spread import Rate, playable, playable_share, rate, rate_change
from metrics.units import System, display

from .cards import Card, waiting

WORDS = {"more": "More", "fewer": "Fewer", "cannot_tell": "Can’t tell yet", "too_few": "Not enough balls yet"}


@dataclass(frozen=True, kw_only=True)
class Sides:
    """The first looks before and after a change with their balls, those that coaches took out left away."""

    before: list[BlockVisit]
    after: list[BlockVisit]
    shots: Mapping[int, BlockShots]

    def balls(self, side: list[BlockVisit]) -> list[BlockShots]:
        return [self.shots[look.block.pk].judged() for look in side if look.block.pk in self.shots]

    def left_out(self, quantity: str) -> tuple[str, ...]:
        """Return why looks drop out for this number, each reason once."""
        newest = (self.after or self.before)[-1:]
        return tuple(dict.fromkeys(
            found.sentence for look in [*self.before, *self.after] for kept in newest
            for found in differences(before=look.visit.conditions, after=kept.visit.conditions, quantity=quantity)
            if found.blocks))

    def alike(self, quantity: str) -> "Sides":
        """Return the looks that may be compared with the newest one for this number; windy ones drop out for side."""
        newest = (self.after or self.before)[-1:]
        if not newest:
            return self
        reference = newest[0].visit.conditions
        kept = [[look for look in side if keep_alike(
            visits=[look.visit], reference=reference, quantity=quantity)[0]] for side in (self.before, self.after)]
        return Sides(before=kept[0], after=kept[1], shots=self.shots)


def share_cards(sides: Sides, *, question: Question, category: str, system: System) -> list[Card]:
    """Return the cards about shares, those with too few balls as waiting lines."""
    still = sides.alike("side_m")
    wanted = usual_carry_m(still)
    found = [
        _playable_card(still, category=category, carry_m=wanted, system=system, out=sides.left_out("side_m")),
        *contact_cards(sides, lines=_with_and_without(sides, question)),
    ]
    return [card for card in found if card is not None]


def contact_cards(sides: Sides, *, lines: tuple[str, ...] = (), out: tuple[str, ...] = ()) -> list[Card]:
    """Return the cards about clean contact and about mishits; ``lines`` go under the mishits, ``out`` says what was
    left out of both."""
    named = f" Left out: {' '.join(out)}" if out else ""
    found = [
        _card("Clean contact", "struck clean", *(clean(sides.balls(side)) for side in (sides.before, sides.after)),
              needs=f"call the contact of each ball.{named}", lines=(named.strip(),) if named else ()),
        _card("Mishits", "mishit", *(mishit(sides.balls(side)) for side in (sides.before, sides.after)),
              needs="log ten balls.", lines=lines),
    ]
    return [card for card in found if card is not None]


def usual_carry_m(sides: Sides) -> float | None:
    """Return the median carry of the struck balls; None where none was recorded."""
    carries = [part.numbers["carry_m"][~part.mishit] for part in sides.balls([*sides.before, *sides.after])
               if "carry_m" in part.numbers]
    known = np.concatenate(carries or [np.empty(0)])
    known = known[np.isfinite(known)]
    return float(np.median(known)) if known.size else None


def playable_width_m(category: str, carry_m: float | None) -> float | None:
    """Return how far to either side still counts as playable; None for a club judged otherwise."""
    try:
        return playable_share(category) * carry_m if carry_m else None
    except ValueError:
        return None


def _playable_card(sides: Sides, *, category: str, carry_m: float | None, system: System,
                   out: tuple[str, ...]) -> Card | None:
    width = playable_width_m(category, carry_m)
    if width is None or carry_m is None:
        return None
    rates = []
    for side in (sides.before, sides.after):
        columns = [part.numbers["side_m"] for part in sides.balls(side) if "side_m" in part.numbers]
        rates.append(playable(side_m=np.concatenate(columns or [np.empty(0)]), carry_m=carry_m,
                              share=playable_share(category)))
    shown_width, unit = display(field_key="side_m", value=width, system=system)
    rule = (f"Playable: within {shown_width:.0f} {unit} of the line to either side, {playable_share(category):.0%} of "
            "the carry; mishits count, windy visits do not.").replace("%", " %")
    named = f" Left out of it: {' '.join(out)}" if out else ""
    return _card("Playable balls", "playable", *rates, needs=f"log carry and side under like conditions.{named}",
                 lines=(f"{rule}{named}",))


def clean(parts: list[BlockShots]) -> Rate:
    """Return how many of the balls whose contact was called were struck clean."""
    called = [contact for part in parts for contact in part.contacts if contact]
    return rate(successes=sum(contact == "clean" for contact in called), trials=len(called))


def mishit(parts: list[BlockShots]) -> Rate:
    """Return how many of the balls were mishits."""
    return rate(successes=sum(int(part.mishit.sum()) for part in parts), trials=sum(part.count for part in parts))


def _card(title: str, what: str, before: Rate, after: Rate, *, needs: str, lines: tuple[str, ...] = ()) -> Card | None:
    """Return the card of one share; None where nothing of it was ever recorded."""
    if not before.trials and not after.trials:
        return None
    said = [f"{when}: {rate_sentence(rate=share, what=what)}"
            for when, share in (("Before", before), ("After", after)) if share.trials]
    found = rate_change(before=before, after=after)
    needed = int(setting("balls_to_judge_rate"))
    if found.word == "too_few":
        return waiting(title, why=" ".join(said), next_step=f"{needed} balls a side are needed: {needs}")
    word = WORDS[found.word] if found.word == "cannot_tell" else f"{WORDS[found.word]} {what}"
    difference = (f"The difference is {100 * found.difference:+.0f} points, could be {100 * found.lo:+.0f} to "
                  f"{100 * found.hi:+.0f}.").replace("-", "−")
    following = "Twenty balls a side tell more." if found.word == "cannot_tell" else "Look whether it stays so."
    return Card(title=title, word=word, why=" ".join([*said, difference]), next_step=following, lines=lines)


def _with_and_without(sides: Sides, question: Question) -> tuple[str, ...]:
    """The mean of the number with the mishits in and without them, on both sides; nothing where none was mishit."""
    said = []
    for when, side in (("before", sides.before), ("after", sides.after)):
        everything = [ball for look in side for ball in look.with_mishits.balls]
        struck = [ball for look in side for ball in look.visit.balls]
        if len(everything) > len(struck) >= 5:
            means = [shown(sum(balls) / len(balls), question=question, signed=True) for balls in (everything, struck)]
            said.append(f"{FIELDS[question.quantity].label} {when}: {means[0]} with the mishits, "
                        f"{means[1]} without them.")
    return tuple(said)
