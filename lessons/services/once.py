"""Keys that forms bring along: the same key twice is one thing, somebody else's is refused."""

import uuid
from typing import Any, TypeVar

from django.core.exceptions import ValidationError
from django.db.models import Model, QuerySet

Row = TypeVar("Row", bound=Model)
USED = "This form was used for something else already. Open the page again and repeat it there."


def made_with(key: uuid.UUID | None, *, rows: "QuerySet[Row]", **owner: Any) -> Row | None:
    """Return the row that this key has made; None where it has made none. One query.

    Raises ValidationError with a sentence where the row belongs to somebody else, named as ``lesson_id=3``.
    """
    row = rows.filter(code=key).first() if key else None
    if row is not None and any(getattr(row, name) != value for name, value in owner.items()):
        raise ValidationError(USED)
    return row
