"""What stands beside the verdict: one finding a card, and what cannot be said yet as a line with what it needs."""

from dataclasses import dataclass

from metrics.change.aids import AidDependency, gives_back
from metrics.change.retention import Retention
from metrics.change.words import Sentences


@dataclass(frozen=True, kw_only=True)
class Card:
    """One thing that the balls say, or (``waits``) that they cannot say yet."""

    title: str
    word: str
    why: str
    next_step: str
    waits: bool = False
    lines: tuple[str, ...] = ()


def card(title: str, said: Sentences, *, waits: bool = False, lines: tuple[str, ...] = ()) -> Card:
    """Return a card from the sentences that the statistics wrote."""
    return Card(title=title, word=said.verdict, why=said.reason, next_step=said.next_step, waits=waits, lines=lines)


def waiting(title: str, *, why: str, next_step: str) -> Card:
    """Return a line for something that cannot be said yet, with what would make it possible."""
    return Card(title=title, word="", why=why, next_step=next_step, waits=True)


def aids_card(found: AidDependency | None) -> Card:
    """Return the card about aids; without both kinds of block, what to log."""
    title = "With and without aids"
    if found is None:
        return waiting(title, why="No visit has a block with aids and one like it without.",
                       next_step="After ten balls with aids, log ten without.")
    return card(title, found.coach, waits=found.code == "too_few")


def retention_card(found: Retention | None, *, with_aids: bool) -> Card:
    """Return the card about what was kept; a gain made with aids that went with them is said."""
    title = "From one visit to the next"
    if found is None:
        return waiting(title, why="No first ten has followed a visit with a look before and one after the change.",
                       next_step="End a visit with ten balls without aids and begin the next one with a first ten.")
    lines = ()
    if with_aids and found.code in ("held", "partly", "lost") and gives_back(ratio=found.ratio):
        lines = ("Half or more of what the aids gave was gone without them: it needs the aids.",)
    return card(title, found.coach, waits=found.code in ("no_gain", "too_few"), lines=lines)


def transfer_card(found: Retention | None) -> Card:
    """Return the card about mixed balls or the course."""
    title = "On mixed balls or the course"
    if found is None:
        return waiting(title, why="No block with mixed clubs or targets, and none from the course, after a gain.",
                       next_step="When it holds on the range, log ten balls with the purpose “Transfer”.")
    return card(title, found.coach, waits=found.code in ("no_gain", "too_few"))
