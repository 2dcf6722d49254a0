"""Delimited files and spreadsheets into balls, from anywhere and without knowing who wrote them. No database.

The way of a file, each step usable alone:

``read_table(data, filename=…)`` -> ``Table``
    Bytes to headings, rows and cells. Raises ``UnreadableFile`` (a sentence). ``encoding``, ``delimiter``,
    ``decimal`` and ``sheet`` take a person's answers. ``table.dialect.sentence()``, ``table.notes``,
    ``table.skipped`` (titles, units row, averages) and ``table.problems`` (rows that do not fit) are for
    the preview.
``propose(table, given=None)`` -> ``Proposal``; ``suggest(table)`` -> its ``matches``
    field or role -> ``Suggestion(field, heading, unit, score, why)``; ``proposal.questions`` are what only
    a person can say (``Question(about, sentence, choices)``; ``about`` is a field, a heading, or
    "decimal"); ``proposal.unmatched`` the headings left over; ``proposal.columns`` what ``parse`` takes.
``recognise(table, known)`` -> ``Recognised`` or None; ``fingerprint(table)``
    The match made once for a source, found again by its headings. ``as_mapping`` and ``columns_from_json``
    turn matches into JSON and back.
``preview_rows(table, columns, hand=…, file_sign=…)`` -> rows of raw text beside the value that would go in
``parse(table, columns=…, hand=…, file_sign=…, club=…, player=…, club_names=…, date_order=…)`` -> ``Parsed``
    Arrays in SI, + = slice side, with raw row, club, category and moment for each ball; ``problems`` and
    ``broken`` rows stay listed. ``with_corrections(table, {line: text})`` takes what a person typed for a
    broken row; parse again after it. Raises ``AmbiguousFile`` where player or club is open.
``propose_blocks``, ``find_overlap``, ``pair_devices``
    Another club or a long pause; balls that are here already; a second device on the same balls.
``csv_text``, ``csv_bytes``
    The way out.

Roles beside the fields of ``metrics.fields``: "club", "player", "when", or "date" and "time".
"""

from .columns import Suggestion, label_of
from .dialect import Dialect
from .duplicates import Overlap, find_overlap
from .export import csv_bytes, csv_text, plain_text, safe_text
from .fingerprint import KnownSource, Recognised, columns_from_json, fingerprint, recognise
from .gaps import BlockProposal, club_key, propose_blocks
from .labels import club_category
from .pairing import Pairing, pair_devices
from .parse import Parsed, parse
from .preview import PreviewCell, PreviewRow, preview_rows
from .reader import MAX_BYTES, read_table
from .suggest import Proposal, as_mapping, propose, suggest
from .table import Table, with_corrections
from .types import (
    ROLES,
    AmbiguousFile,
    ColumnMatch,
    Columns,
    ImportRefusal,
    Problem,
    Question,
    Skipped,
    UnreadableFile,
)

__all__ = [
    "MAX_BYTES", "ROLES", "AmbiguousFile", "BlockProposal", "ColumnMatch", "Columns", "Dialect", "ImportRefusal",
    "KnownSource", "Overlap", "Pairing", "Parsed", "PreviewCell", "PreviewRow", "Problem", "Proposal", "Question",
    "Recognised", "Skipped", "Suggestion", "Table", "UnreadableFile", "as_mapping", "club_category", "club_key",
    "columns_from_json", "csv_bytes", "csv_text", "find_overlap", "fingerprint", "label_of", "pair_devices",
    "parse", "plain_text", "preview_rows", "propose", "propose_blocks", "read_table", "recognise", "safe_text",
    "suggest", "with_corrections",
]
