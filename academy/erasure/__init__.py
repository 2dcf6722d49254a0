"""Erasing a person for good: every row of every table, their files, their traces in the history of others.

``erase(student=…, by=…)`` -> Erasure; ``preview(student=…)`` -> Extent; ``still_named(terms)`` -> places; ``again()``
after an older backup was restored.
"""

from .rows import Extent, mentions
from .run import CannotErase, again, erase, horizon, preview, refuse_where_kept

__all__ = ["CannotErase", "Extent", "again", "erase", "horizon", "mentions", "preview", "refuse_where_kept"]
