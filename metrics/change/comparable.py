"""Like with like: what differs between two visits is named, and what would spoil the comparison refuses it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from metrics.change.visits import Conditions, Visit, merged_by_day
from metrics.fields import FIELDS

CLUB_DELIVERY = frozenset({
    "club_speed_mps", "club_path_deg", "face_angle_deg", "face_to_path_deg", "attack_angle_deg",
    "dynamic_loft_deg", "spin_loft_deg", "strike_heel_toe_mm", "strike_high_low_mm", "low_point_cm"})
"""Measured on the club before the ball matters: another ball changes none of them."""

EFFORT_MATTERS_PCT = 5.0
ALTERNATE = "To compare the two clubs, hit 10 balls in turn: old, new, new, old, and so on."


@dataclass(frozen=True, kw_only=True)
class Difference:
    """One thing that was not the same. ``blocks`` True: no claim across it; False: named beside the claim."""

    factor: str
    before: str
    after: str
    blocks: bool
    sentence: str


_LABELS = {
    "club": "club", "spec": "club set-up", "intent": "intended shape", "aids": "aids",
    "effort_pct": "effort", "ball_type": "ball type", "venue_type": "kind of place", "device": "device",
    "feedback_shown": "numbers shown", "windy": "wind",
}


def differences(*, before: Conditions, after: Conditions, quantity: str) -> tuple[Difference, ...]:
    """Return what differs between two sets of conditions, as far as it matters for ``quantity``.

    Club, club set-up, shape, aids, effort (from 5 points), device, kind of place and shown numbers block a claim;
    the ball type blocks all but what is measured on the club; wind blocks what wind moves (``metrics.fields``)
    even where both were windy. Something not recorded on one side is named and does not block.
    Which block is common practice, no source. Raises KeyError for an unknown quantity.
    """
    field = FIELDS[quantity]
    found = []
    for factor in _LABELS:
        first, second = getattr(before, factor), getattr(after, factor)
        if factor == "windy":
            if (first or second) and not field.survives_wind:
                found.append(_difference(factor, _show(factor, first), _show(factor, second), True))
        elif factor == "aids":
            if set(first) != set(second):
                found.append(_difference(factor, _show(factor, first), _show(factor, second), True))
        elif _unlike(factor, first, second):
            known = first not in ("", None) and second not in ("", None)
            blocks = known and not (factor == "ball_type" and quantity in CLUB_DELIVERY)
            found.append(_difference(factor, _show(factor, first), _show(factor, second), blocks))
    return tuple(found)


def _unlike(factor: str, first: object, second: object) -> bool:
    if factor == "effort_pct" and isinstance(first, (int, float)) and isinstance(second, (int, float)):
        return abs(first - second) >= EFFORT_MATTERS_PCT
    return first != second


def _show(factor: str, value: object) -> str:
    if factor == "aids":
        return ", ".join(sorted(value)) if isinstance(value, tuple) and value else "none"
    if value in ("", None):
        return "not recorded"
    if factor == "effort_pct":
        return f"{value:g} %"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value).replace("_", " ")


def _difference(factor: str, first: str, second: str, blocks: bool) -> Difference:
    label = _LABELS[factor]
    if factor == "windy":
        sentence = "Wind was felt and this number does not survive wind: it is not judged until a calm visit."
    elif blocks:
        sentence = f"Not the same {label}: {first} before, {second} after."
    else:
        sentence = f"The {label} may differ: {first} before, {second} after."
    return Difference(factor=factor, before=first, after=second, blocks=blocks, sentence=sentence)


def _on_one_side(found: Difference) -> Difference:
    label = _LABELS[found.factor]
    if found.factor == "windy":
        return found
    if found.blocks:
        sentence = f"Left out: another {label} than at the newest look ({found.before}, not {found.after})."
    else:
        sentence = f"The {label} may differ between the later visits: {found.before} and {found.after}."
    return replace(found, sentence=sentence)


def alike(*, first: Conditions, second: Conditions, quantity: str) -> bool:
    """True where nothing that differs blocks a claim about ``quantity``."""
    return not any(d.blocks for d in differences(before=first, after=second, quantity=quantity))


def split_alike(*, visits: Sequence[Visit], quantity: str) -> tuple[tuple[Visit, ...], ...]:
    """Return the visits in groups within which ``quantity`` may be compared, in order of first appearance.

    A visit joins the first group whose first visit is like it. Windy visits stand alone for numbers that
    wind moves.
    """
    groups: list[list[Visit]] = []
    for visit in visits:
        home = next((group for group in groups if alike(
            first=group[0].conditions, second=visit.conditions, quantity=quantity)), None)
        if home is None:
            groups.append([visit])
        else:
            home.append(visit)
    return tuple(tuple(group) for group in groups)


def keep_alike(*, visits: Sequence[Visit], reference: Conditions, quantity: str,
               same_side: bool = False) -> tuple[tuple[Visit, ...], tuple[Difference, ...]]:
    """Return the visits that may be compared with ``reference``, and what was named on the way.

    The differences list every blocking one of the visits left out and every caution of those kept, each once.
    ``same_side``: the visits stand on the reference's own side of a change, so that no "before" is spoken of.
    """
    kept: list[Visit] = []
    named: dict[Difference, None] = {}
    for visit in visits:
        found = differences(before=visit.conditions, after=reference, quantity=quantity)
        if not any(d.blocks for d in found):
            kept.append(visit)
        named.update(dict.fromkeys(map(_on_one_side, found) if same_side else found))
    return tuple(kept), tuple(named)


def one_a_day(*, visits: Sequence[Visit], reference: Conditions) -> tuple[Visit, ...]:
    """Return visits that ``keep_alike`` kept as one a day, all under ``reference``.

    What still differs between two blocks of a day was named and found to matter too little to keep them apart.
    """
    return merged_by_day(replace(visit, conditions=reference) for visit in visits)
