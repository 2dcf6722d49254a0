"""What the diary shows, read from its address; what makes no sense falls back to the usual view."""

from datetime import date
from uuid import UUID

from django.http import QueryDict
from django.utils import timezone

from academy.models import Coach
from lessons.queries.diary import Filters

VIEWS = {"week": "Week", "coaches": "Day by coach", "bays": "Day by bay"}


def filters_from(asked: QueryDict, *, viewer: Coach, coaches: list[Coach]) -> Filters:
    """Return the filters of an address. A week is one coach's: the reader's own, else the first."""
    view = asked.get("view", "week")
    view = view if view in VIEWS else "week"
    chosen = next((coach for coach in coaches if str(coach.code) == asked.get("coach")), None)
    if chosen is None and view == "week":
        chosen = viewer if viewer.is_coach else (coaches[0] if coaches else viewer)
    return Filters(day=_day(asked.get("day", "")), view=view, coach=chosen)


def code_or_none(text: str) -> UUID | None:
    """Return a code from a form's own button, None where it is none."""
    try:
        return UUID(text)
    except ValueError:
        return None


def _day(text: str) -> date:
    """Return the day of an address; today for none, and for one that has no week or clock around it."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return timezone.localdate()
    return day if 1900 < day.year < 2200 else timezone.localdate()
