"""What is still missing, what lies in the window, and what to keep in mind: the sentences beside the findings."""

from collections.abc import Sequence

import numpy as np

from metrics.change.priors import balls_to_judge
from metrics.intervals import mean_estimate
from metrics.rules.explain import CLUB_WORDS
from metrics.rules.limits import intent_window
from metrics.rules.pairs import LEVEL
from metrics.rules.quantities import column, info
from metrics.rules.states import PatternResult, min_shown
from metrics.rules.types import BlockEvidence, Shots
from metrics.rules.words import amount, balls, directed, fill, span

SHAPE = ("club_path_deg", "face_to_path_deg")


def needs(results: list[PatternResult], *, shown: Sequence[PatternResult], evidence: BlockEvidence) -> list[str]:
    """Return what is still needed, most pressing first, each sentence once: more balls for what is ``shown``."""
    count, enough = evidence.count, balls_to_judge(category=evidence.club_category)
    if count < min_shown():
        return [f"{balls(count)} logged: {min_shown() - count} more before an average is shown, "
                f"{enough - count} more before it is judged."]
    found = [f"{r.best.short_by} more {'ball' if r.best.short_by == 1 else 'balls'}: this is judged from "
             f"{r.best.route.minimum_n} on ({r.pattern.title})."
             for r in shown if r.best and r.best.short_by]
    path = _inside("club_path_deg", evidence, evidence.shots)
    found += [] if path and path[2] else [fill(route.unresolved, hand=evidence.hand)
              for r in results for route in r.routes if route.unresolved and r.state == "silent"]
    if count < enough and not found:
        found.append(f"{enough - count} more {'ball' if enough - count == 1 else 'balls'}: a mean with "
                     f"{CLUB_WORDS[evidence.club_category]} is judged from {enough} on.")
    return list(dict.fromkeys(found))


def in_window(evidence: BlockEvidence) -> str | None:
    """Return the sentence for a shape that lies in the intent window, or None."""
    if evidence.pair is not None and not evidence.pair.next_first_ten:
        return _pair_in_window(evidence)
    seen = [s for s in (_inside(q, evidence, evidence.shots) for q in SHAPE) if s is not None]
    if not seen or not all(inside for inside, _, _ in seen):
        return None
    return f"In your window for a {_shape(evidence)}: {' and '.join(text for _, text, _ in seen)}."


def _shape(evidence: BlockEvidence) -> str:
    return "straight ball" if evidence.intent == "straight" else evidence.intent


def _inside(quantity: str, evidence: BlockEvidence, shots: Shots) -> tuple[bool, str, bool] | None:
    """Whether the mean is inside with enough balls, in words, and whether it is inside at all."""
    window = intent_window(quantity, evidence=evidence)
    mean = mean_estimate(values=_finite(quantity, evidence, shots), level=LEVEL)
    if window is None or mean.n == 0 or evidence.club_category == "putter":
        return None
    enough = mean.n >= balls_to_judge(category=evidence.club_category)
    text = (f"{'path' if quantity == SHAPE[0] else 'face to path'} "
            f"{directed(quantity, value=mean.mean, hand=evidence.hand)} "
            f"(window {span(quantity, limits=window)}, {balls(mean.n)})")
    inside = window[0] <= mean.mean <= window[1]
    return enough and inside, text, inside


def _finite(quantity: str, evidence: BlockEvidence, shots: Shots) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    values = column(quantity, evidence=evidence, shots=shots).values
    return values[np.isfinite(values)]


def _pair_in_window(evidence: BlockEvidence) -> str | None:
    assert evidence.pair is not None
    aided = _inside("club_path_deg", evidence, evidence.pair.with_aid)
    bare = _inside("club_path_deg", evidence, evidence.pair.no_aid)
    if aided is None or bare is None or not (aided[0] and bare[0]):
        return None
    return (f"In your window both ways: with the aids {aided[1]}, without {bare[1]}. That is better today at most; "
            "ten balls without aids at the start of the next visit tell whether it held.")


def unnamed(evidence: BlockEvidence, *, groups_shown: set[str]) -> list[str]:
    """Return a sentence for a path or face to path surely outside its window that no shown finding speaks of."""
    if groups_shown & {"path", "face", "aim"} or evidence.club_category == "putter":
        return []
    found = []
    for quantity in SHAPE:
        window = intent_window(quantity, evidence=evidence)
        mean = mean_estimate(values=_finite(quantity, evidence, evidence.shots), level=LEVEL)
        enough = mean.n >= balls_to_judge(category=evidence.club_category)
        if window and enough and (mean.lo > window[1] or mean.hi < window[0]):
            found.append(f"{info(quantity).label} averaged {directed(quantity, value=mean.mean, hand=evidence.hand)}, "
                         f"outside your window ({span(quantity, limits=window)}), and no pattern of the library fits: "
                         "argue from the numbers.")
    return found


def notes(evidence: BlockEvidence) -> list[str]:
    """Return what limits the reading of this block."""
    found = []
    if evidence.wind.spoils_carry:
        speed = evidence.wind.speed_mps
        size = f" ({amount('ball_speed_mps', value=speed)})" if speed is not None else ""
        found.append(f"Windy{size}: carry, curve and finish are not judged; path, face, attack and speed are.")
    if evidence.warmed_up is False:
        found.append("Not warmed up: the first balls may differ from the rest.")
    if evidence.aids:
        found.append("Struck with aids down: compare only with blocks that had the same aids.")
    return found
