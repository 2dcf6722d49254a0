"""The match of a whole table: columns from the headings, units from headings, units row, cells and numbers.

Everything is offered with its reason. What is open (two columns for one field, a unit that two readings
fit, a decimal mark that nothing shows) comes back as questions and is not decided here.
"""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np

from metrics.fields import FIELDS

from .cells import cell_units
from .columns import FIRM, Suggestion, label_of, match_headings
from .numbers import NotANumber, parse_number
from .plausible import UnitGuess, propose_units
from .sides import split_cell
from .table import Table
from .types import ColumnMatch, Columns, Question
from .unit_words import heading_unit, unit_of

LOOK_AT_ROWS = 2000


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What a table seems to hold.

    ``matches`` by field or role, in the order of the registry; ``questions`` only a person can answer;
    ``unmatched`` are the headings that nothing was found for.
    """

    matches: dict[str, Suggestion]
    questions: tuple[Question, ...]
    unmatched: tuple[str, ...]

    @property
    def columns(self) -> dict[str, ColumnMatch]:
        """The matches as ``parse`` takes them."""
        return {key: ColumnMatch(heading=match.heading, unit=match.unit) for key, match in self.matches.items()}


def suggest(table: Table) -> dict[str, Suggestion]:
    """Return the suggested column of each field and role; see ``propose`` for what stays open."""
    return propose(table).matches


def propose(table: Table, *, given: Columns | None = None) -> Proposal:
    """Return the suggested matches of a table and what they leave open.

    ``given`` are matches that a person or a known source has stated: they win, and where they name no
    unit it is found as for any other column.
    """
    matches, questions = match_headings(table.headings, written=table.written)
    if given is not None:
        matches, questions = _with_given(matches, questions, given)
    # Two names alike are asked about; a plain look at what is beside them may still not decide it.
    stated = {key: unit for key, match in matches.items() if key in FIELDS and (unit := _stated(table, match))}
    numbers = [key for key in matches if key in FIELDS]
    guessed = propose_units({key: written_numbers(table, matches[key].heading) for key in numbers}, stated
                            ) if len(stated) < len(numbers) else {}
    for key, match in matches.items():
        if key in FIELDS:
            matches[key], question = _with_unit(match, stated.get(key), guessed.get(key))
            questions += [question] if question else []
    taken = {match.heading for match in matches.values()}
    return Proposal(matches=matches, questions=(*_open_decimal(table, taken), *questions),
                    unmatched=tuple(heading for heading in table.headings if heading not in taken))


def written_numbers(table: Table, heading: str) -> np.ndarray:
    """Return the first numbers of a column as they are written, without units or signs, for comparison."""
    head = table if len(table.lines) <= LOOK_AT_ROWS else table.first(LOOK_AT_ROWS)
    values, closer = head.numbers(heading)
    if closer:
        texts = head.texts(heading)
        values = values.copy()
        for index in closer:
            parts = split_cell(texts[index])
            with suppress(NotANumber):
                number = parse_number(parts[1], decimal=table.dialect.decimal) if parts else None
                values[index] = np.nan if number is None else number
    return values


def _with_given(matches: dict[str, Suggestion], questions: list[Question], given: Columns,
                ) -> tuple[dict[str, Suggestion], list[Question]]:
    """Take the stated matches instead of the found ones; of the found ones only the roles may join them."""
    taken = {match.heading for match in given.values()}
    joined = {key: Suggestion(field=key, heading=match.heading, unit=match.unit, score=1.0, why="as you said")
              for key, match in given.items()}
    joined |= {key: match for key, match in matches.items()
               if key not in FIELDS and key not in joined and match.heading not in taken}
    ordered = {key: joined[key] for key in (*FIELDS, *(k for k in joined if k not in FIELDS)) if key in joined}
    return ordered, [question for question in questions if question.about not in FIELDS
                     and question.about in matches and question.about not in given]


def _stated(table: Table, match: Suggestion) -> str | None:
    """Return the unit that the file states for a column: in its heading, its units row or its cells."""
    if match.unit is not None:
        return match.unit
    dimension = FIELDS[match.field].dimension
    place = table.place(match.heading)
    unit = heading_unit(table.written[place], field=match.field) or unit_of(table.units[place], dimension)
    if unit is not None:
        return unit
    found = cell_units(table, match.heading, dimension=dimension)
    return next(iter(found)) if len(found) == 1 else None


def _with_unit(match: Suggestion, stated: str | None, guess: UnitGuess | None,
               ) -> tuple[Suggestion, Question | None]:
    """Return the match with its unit, and the question that is left if the unit is open."""
    if stated is not None:
        why = match.why if f", in {stated}" in match.why else f"{match.why}, in {stated}" if stated else match.why
        return replace(match, unit=stated, why=why), None
    if guess is None:
        sentence = (f"“{match.heading}” has no unit, and its numbers do not fit {label_of(match.field).lower()} "
                    "in any unit; say the unit, or that the column is another one.")
        return replace(match, score=min(match.score, 0.3)), Question(about=match.field, sentence=sentence)
    unit_words = guess.unit or "a plain number"
    proposed = replace(match, unit=guess.unit, score=min(match.score, guess.score) if guess.others else match.score,
                       why=f"{match.why}; no unit stated, read as {unit_words}: {guess.why}")
    if not guess.others and guess.score >= FIRM:
        return proposed, None
    choices = (guess.unit, *guess.others)
    sentence = (f"“{match.heading}” has no unit: {guess.why}; say which of {', '.join(choices)} it is in.")
    return proposed, Question(about=match.field, sentence=sentence, choices=choices)


def _open_decimal(table: Table, taken: set[str]) -> tuple[Question, ...]:
    """Return the file's open decimal mark only where a matched column has such cells."""
    if not table.questions:
        return ()
    head = table.first(LOOK_AT_ROWS)
    touched = any(mark in text for heading in taken for text in head.texts(heading) for mark in ".,")
    return table.questions if touched else ()


def as_mapping(columns: Columns) -> Mapping[str, dict[str, str | None]]:
    """Return matches as JSON keeps them for a source: field -> {"heading", "unit"}."""
    return {key: {"heading": match.heading, "unit": match.unit} for key, match in columns.items()}
