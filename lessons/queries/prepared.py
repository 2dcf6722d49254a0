"""Numbers and words of a page, made once and kept until something is written.

What is expensive to say (did it hold, ten balls then and now, every visit as a row) rests on balls, changes, goals and
settings, all of which are written through the journal. So it is stored with a stamp of the journal and made anew when
the stamp is another one: after a ball, an undo, an import, a corrected condition, an own setting, on a new day.
"""

import hashlib
import json
from collections.abc import Callable
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import OperationalError, transaction
from django.utils import timezone

from academy.journal import mark_of
from academy.models import Student
from lessons.models import Prepared
from lessons.summaries import SUMMARY_VERSION

VERSION = "1"
"""Raise it when the same rows would be told in other numbers or words. What was prepared before a new program's
``migrate``, or before another library was loaded, is forgotten as well (lessons.apps, lessons.library)."""


def prepared(*, student: Student, name: str, rests_on: tuple[Any, ...] = (), make: Callable[[], Any]) -> Any:
    """Return what ``make`` gives, as it is after a trip through JSON. Two queries, and those of ``make`` where
    something was written since, or the day is another one. What is empty is not kept.

    ``rests_on`` holds what else the answer depends on and the journal does not know.
    """
    stamp = _stamp(student, rests_on)  # before anything is read: what is written meanwhile leaves an old stamp
    found = Prepared.objects.filter(student=student, name=name).values_list("stamp", "content").first()
    if found is not None and found[0] == stamp:
        return found[1]
    content = json.loads(json.dumps(make(), cls=DjangoJSONEncoder))
    if content:
        _keep(Prepared(student=student, name=name, stamp=stamp, content=content))
    return content


def _stamp(student: Student, rests_on: tuple[Any, ...]) -> str:
    whole = (
        VERSION, SUMMARY_VERSION, mark_of(student=student), timezone.localdate(),
        timezone.get_current_timezone_name(), rests_on,
    )
    return hashlib.sha256(repr(whole).encode()).hexdigest()


def _keep(row: Prepared) -> None:
    try:
        with transaction.atomic():
            Prepared.objects.bulk_create(
                [row], update_conflicts=True, unique_fields=["student", "name"],
                update_fields=["stamp", "content", "made_at"],
            )
    except OperationalError:
        return  # a full disk or a busy database must not close a page that can be read
