"""Clean contact within one visit, called by eye: the newest block without aids against the first one like it."""

from dataclasses import dataclass

from lessons.models import Block, Lesson
from lessons.queries.compare_today import alike
from lessons.queries.lesson import blocks_of
from metrics.change.settings import setting
from metrics.change.spread_words import rate_sentence
from metrics.spread import Rate, rate, rate_change

WORDS = {"more": "Better today", "fewer": "Fewer clean today", "cannot_tell": "Can’t tell yet",
         "too_few": "Not enough balls yet"}
NEXT = {
    "more": "Whether it holds, the first ten of the next visit shows.",
    "fewer": "The first balls of a change often go so; five more before it is judged.",
    "cannot_tell": "Ten more balls a side tell more.",
}


@dataclass(frozen=True, kw_only=True)
class ContactToday:
    """What two blocks of one visit say about contact; ``is_better`` only ever means today."""

    word: str
    why: str
    for_student: str
    next_step: str
    is_better: bool


def contact_today(*, lesson: Lesson) -> ContactToday | None:
    """Return the comparison, None where two like blocks without aids were not called. No query beyond the blocks."""
    plain = [block for block in blocks_of(lesson) if not block.aids and _clean(block).trials]
    if len(plain) < 2:
        return None
    last = plain[-1]
    first = next((block for block in plain[:-1] if alike(block, last)), None)
    if first is None:
        return None
    before, after = _clean(first), _clean(last)
    found = rate_change(before=before, after=after)
    said = [rate_sentence(rate=share, what="struck clean") for share in (before, after)]
    counts = f"{before.successes} of {before.trials} clean at first, then {after.successes} of {after.trials}"
    return ContactToday(
        for_student=f"{WORDS[found.word]}: {counts}." if found.word != "too_few" else "",
        word=WORDS[found.word], is_better=found.word == "more",
        why=f"Block {first.position} against block {last.position}, both without aids. First {said[0]} Then {said[1]}",
        next_step=NEXT.get(found.word, f"{setting('balls_to_judge_rate'):.0f} balls a side are needed."),
    )


def _clean(block: Block) -> Rate:
    contact = (block.summary.get("calls") or {}).get("contact", {})
    return rate(successes=contact.get("clean", 0), trials=sum(contact.values()))
