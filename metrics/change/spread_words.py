"""The sentences about scatter: for the coach with numbers, for the student without."""

from metrics.change.question import Question
from metrics.change.settings import setting
from metrics.change.words import Sentences, counted, shown
from metrics.spread import Rate, SpreadChange


def spread_sentences(*, change: SpreadChange, question: Question) -> tuple[Sentences, Sentences]:
    """Return the coach's and the student's sentences for a change of spread."""
    needed = int(setting("balls_to_judge_spread"))
    if change.word == "too_few":
        reason = (f"Not enough balls yet: {change.balls_before} before and {change.balls_after} after, "
                  f"{needed} a side are needed for a spread.")
        coach = Sentences(verdict="Can’t tell yet", reason=reason, next_step="Log more balls of the same kind.")
        student = Sentences(verdict="Can’t tell yet", reason=f"{counted(change.balls_after, noun='ball')} logged.",
                            next_step="More balls of the same kind, then we can say something.")
        return coach, student
    seen = (f"Spread (SD) {shown(change.sd_before, question=question)} before (n {change.balls_before}), "
            f"{shown(change.sd_after, question=question)} after (n {change.balls_after}): "
            f"{change.ratio:.2f} times, could be {change.lo:.2f} to {change.hi:.2f}.")
    verdict, following, student_reason = {
        "tighter": ("Tighter", "Keep the task; make the target smaller.", "Your balls lie closer together."),
        "wider": ("Wider", "Look at tiredness, grip and routine before anything new.",
                  "Your balls are spread wider than before. That often happens in the middle of a change."),
        "cannot_tell": ("Can’t tell yet", "More balls a side would narrow this down.",
                        "Your spread is about what it was."),
    }[change.word]
    return (Sentences(verdict=verdict, reason=seen, next_step=following),
            Sentences(verdict=verdict, reason=student_reason, next_step="Keep the plan."))


def rate_sentence(*, rate: Rate, what: str) -> str:
    """Return a share as people read it, for example "12 of 20 playable: 60 %, could be 39 to 78 %.".

    >>> rate_sentence(Rate(successes=0, trials=0, share=0, lo=0, hi=0), "playable")
    'No balls yet.'
    """
    if rate.trials == 0:
        return "No balls yet."
    return (f"{rate.successes} of {rate.trials} {what}: {rate.share:.0%}, could be {rate.lo * 100:.0f} to "
            f"{rate.hi:.0%}.").replace("%", " %")
