"""The journal's operations speak of row numbers; in an archive they speak of identities, and back.

A row that is not there any more becomes None going out and 0 coming in: undoing such a change says that the row is
no longer there, as it did before.
"""

from collections.abc import Callable
from typing import Any

from django.apps import apps

Name = Callable[[str, Any], Any]


def outward_operations(operations: list[dict[str, Any]], name: Name) -> list[dict[str, Any]]:
    """Return operations with identities; ``name(label, row number)`` knows them."""
    return [_translated(one, name) for one in operations]


def inward_operations(operations: list[dict[str, Any]], number: Name) -> list[dict[str, Any]]:
    """Return operations with row numbers; ``number(label, identity)`` knows them."""
    return [_translated(one, lambda label, name: number(label, name) or 0) for one in operations]


def _translated(one: dict[str, Any], turn: Name) -> dict[str, Any]:
    label = one["model"]
    found = dict(one)
    if "keys" in one:
        found["keys"] = [turn(label, key) for key in one["keys"]]
    if "key" in one:
        found["key"] = turn(label, one["key"])
    model = apps.get_model(label)
    for side in ("before", "after"):
        if side in one:
            found[side] = {
                field: _pointed(model, field, value, turn) for field, value in one[side].items()
            }
    return found


def _pointed(model: Any, field: str, value: Any, turn: Name) -> Any:
    column = model._meta.get_field(field)
    if not column.is_relation or value is None:
        return value
    return turn(column.related_model._meta.label_lower, value)
