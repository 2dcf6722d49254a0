"""Which heading holds which quantity: scored guesses from the trade's words, and what they leave open.

Nothing here is certain, so nothing here is silent: each guess carries its score and its reason, and a
heading that fits two quantities, or a quantity that fits two headings, is said instead of decided.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from metrics.fields import FIELDS

from .types import ROLES, Question
from .unit_words import split_heading, unit_of
from .words import FIELD_WORDS, HARMLESS_WORDS, OPEN_WORDS, ROLE_WORDS, plain_words

FIRM = 0.6
"""From this score a guess is offered. A judgement: an exact trade word scores 0.95."""
LONGEST_HEADING = 120
TIE = 0.08
"""Two guesses closer than this are not decided here."""
_WEAK = {"back spin": 0.62, "backspin": 0.62, "side total": 0.7, "total side": 0.7, "lateral total": 0.7}
_WEAK_FIELD = {"back spin": "spin_rpm", "backspin": "spin_rpm", "side total": "side_m",
               "total side": "side_m", "lateral total": "side_m"}

_PHRASES = [phrase for phrases in (*FIELD_WORDS.values(), *ROLE_WORDS.values(), (*_WEAK,)) for phrase in phrases]
_JOINED = frozenset(phrase.replace(" ", "") for phrase in _PHRASES)
_SINGLE = frozenset(word for phrase in _PHRASES for word in phrase.split())


@dataclass(frozen=True, kw_only=True)
class Suggestion:
    """A guess: this column holds this field. ``unit`` None means that nobody has said or found it yet.

    ``score`` runs from 0 to 1; ``why`` is a sentence for the person who confirms it.
    """

    field: str
    heading: str
    unit: str | None
    score: float
    why: str


def known_word(heading: str) -> bool:
    """Return True where a heading is a word of the trade, in any of the languages."""
    return bool(_guesses(heading)) or plain_words(split_heading(heading)[0][0]) in OPEN_WORDS


def label_of(key: str) -> str:
    """Return what a person calls a field or a role."""
    return FIELDS[key].label if key in FIELDS else ROLES[key]


def match_headings(headings: Sequence[str], *, written: Sequence[str] | None = None,
                   ) -> tuple[dict[str, Suggestion], list[Question]]:
    """Return the guesses by field, and the questions that the headings leave open.

    ``headings`` are the unique names of a table's columns, ``written`` the same as they stand in the
    file (two columns may then have one name, and neither is taken). Units are those that a heading states.
    """
    written = written or headings
    guesses = [replace(guess, heading=heading)
               for heading, text in zip(headings, written, strict=True) for guess in _best_guesses(text)]
    matches: dict[str, Suggestion] = {}
    questions: list[Question] = []
    for key in (*FIELDS, *ROLES):
        fitting = sorted((g for g in guesses if g.field == key), key=lambda guess: -guess.score)
        close = [g for g in fitting if fitting[0].score - g.score < TIE]
        if len(close) > 1:
            questions.append(_which_heading(key, [guess.heading for guess in close]))
        elif close:
            matches[key] = close[0]
    for heading, text in zip(headings, written, strict=True):
        question = _which_field(heading, text, taken=set(matches))
        if question:
            questions.append(question)
    return matches, questions


def _best_guesses(text: str) -> list[Suggestion]:
    """Keep the guesses of one heading that are within a tie of its best."""
    guesses = _guesses(text)
    top = max((guess.score for guess in guesses), default=0)
    return [guess for guess in guesses if top - guess.score < TIE]


@lru_cache(maxsize=4096)
def _guesses(text: str) -> tuple[Suggestion, ...]:
    """Return every guess for one heading that is firm enough to be offered."""
    key = text.strip().lower()
    if key in FIELDS:
        return (Suggestion(field=key, heading=text, unit=FIELDS[key].unit, score=1.0,
                           why=f"“{text}” is this program's own name for it"),)
    found: dict[str, Suggestion] = {}
    if len(text) > LONGEST_HEADING:
        return ()
    for name, unit_text in split_heading(text):
        words = plain_words(name)
        if not _may_be_known(words):
            continue
        for key, phrases in (*FIELD_WORDS.items(), *ROLE_WORDS.items()):
            unit = unit_of(unit_text, FIELDS[key].dimension) if unit_text and key in FIELDS else None
            if unit_text and unit is None:
                continue  # A unit of another dimension: this heading means something else.
            score = _score(words, key, phrases)
            if score >= FIRM and (key not in found or found[key].score < score):
                found[key] = Suggestion(field=key, heading=text, unit=unit, score=score,
                                        why=_why(text, key, score, unit))
    return tuple(found.values())


def _may_be_known(words: str) -> bool:
    """Return False quickly for text that shares no word with the registry, as most cells do."""
    return words.replace(" ", "") in _JOINED or not _SINGLE.isdisjoint(words.split())


def _score(words: str, key: str, phrases: Sequence[str]) -> float:
    """Return how well the words of a heading fit the phrases of one field."""
    if _WEAK_FIELD.get(words) == key:
        return _WEAK[words]
    joined = words.replace(" ", "")
    if not joined:
        return 0.0
    best = 0.0
    for phrase in phrases:
        if words == phrase or joined == phrase.replace(" ", ""):
            return 0.95
        best = max(best, _part_score(words, phrase))
    return best


def _part_score(words: str, phrase: str) -> float:
    """Score a heading that holds a phrase and more: only harmless words may stand beside it."""
    have, wanted = words.split(), phrase.split()
    if len(have) <= len(wanted) or not all(word in have for word in wanted):
        return 0.0
    extra = [word for word in have if word not in wanted]
    if not all(word in HARMLESS_WORDS or word.isdigit() for word in extra):
        return 0.0
    return 0.9 - 0.06 * len(extra)


def _why(text: str, key: str, score: float, unit: str | None) -> str:
    stated = f", in {unit}" if unit else ""
    if plain_words(text) in _WEAK:
        return f"“{text}” is near to {label_of(key).lower()}, but may leave a part of it out{stated}"
    how = "means" if score >= 0.95 else "probably means"
    return f"“{text}” {how} {label_of(key).lower()}{stated}"


def _which_heading(key: str, headings: Sequence[str]) -> Question:
    names = " and ".join(f"“{heading}”" for heading in headings)
    return Question(about=key, choices=tuple(headings),
                    sentence=f"{names} could each be {label_of(key).lower()}; say which one is meant.")


def _which_field(heading: str, text: str, *, taken: set[str]) -> Question | None:
    """Ask about a heading that fits two fields of which at least one has no other column."""
    for name, unit_text in split_heading(text):
        fields = OPEN_WORDS.get(plain_words(name), ())
        fields = tuple(key for key in fields
                       if not unit_text or unit_of(unit_text, FIELDS[key].dimension) is not None)
        if fields and not taken & set(fields):
            labels = " or ".join(label_of(key).lower() for key in fields)
            return Question(about=heading, choices=fields, sentence=f"“{heading}” could be {labels}; say which.")
    return None
