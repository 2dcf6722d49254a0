"""When the balls of a file were hit, by the file's own clock on the wall of this place."""

from datetime import datetime, timedelta

import numpy as np
from django.utils import timezone

from lessons.imports.parse import Parsed


def moments_of(parsed: Parsed, places: list[int], second_pass: bool) -> list[datetime]:
    """Return when each ball was hit; in order from now where the file has no clock of its own."""
    now = timezone.now()
    return [
        moment_of(parsed, place, second_pass=second_pass) or now + timedelta(milliseconds=offset)
        for offset, place in enumerate(places)
    ]


def moment_of(parsed: Parsed, index: int, *, second_pass: bool = False) -> datetime | None:
    """Return when a ball was hit by the file's own clock, or None where it does not say.

    The hour that comes twice when the clock is put back is read as the first one, with ``second_pass`` the second.
    """
    if parsed.when is None or np.isnat(parsed.when[index]):
        return None
    read = parsed.when[index].astype("datetime64[ms]").item()
    return timezone.make_aware(read.replace(fold=1 if second_pass and comes_twice(read) else 0))


def comes_twice(read: datetime) -> bool:
    """Say whether a clock here shows this time twice, because it is put back."""
    first, second = (timezone.make_aware(read.replace(fold=fold)).utcoffset() for fold in (0, 1))
    return first > second


def times_read(parsed: Parsed) -> list[datetime]:
    if parsed.when is None:
        return []
    return parsed.when[~np.isnat(parsed.when)].astype("datetime64[ms]").tolist()
