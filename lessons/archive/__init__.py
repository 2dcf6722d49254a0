"""One student's record, or the academy's, as one JSON document that goes in again. See DEVELOPERS.md for the format.

``write(student=…, sharing=…)`` -> dict; ``read_in(document)`` -> how many rows of each table; ``ArchiveError``;
``table_csv(student=…, name=…, sharing=…)`` -> one table for a spreadsheet.
"""

from .csv_tables import CSV_TABLES, heading, table_csv
from .inward import read_in
from .outward import FORMAT, write
from .tables import ArchiveError

__all__ = ["CSV_TABLES", "FORMAT", "ArchiveError", "heading", "read_in", "table_csv", "write"]
