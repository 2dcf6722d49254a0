"""Sign-in tries are counted in the database: by name, from wherever they come, and by address, whatever the name."""

from typing import Any

from axes.handlers.database import AxesDatabaseHandler
from django.db.models import Sum
from django.http import HttpRequest

ADDRESS_WEIGHS = 3
"""A club shares one address, so it may fail three times as often as a name before it has to wait."""


class SignInThrottle(AxesDatabaseHandler):
    """Counts by the two entries of AXES_LOCKOUT_PARAMETERS, name first; the limit is AXES_FAILURE_LIMIT."""

    def get_failures(self, request: HttpRequest, credentials: dict[str, Any] | None = None) -> int:
        by_name, by_address = (
            attempts.aggregate(failures=Sum("failures_since_start"))["failures"] or 0
            for attempts in self.get_user_attempts(request, credentials)
        )
        return max(by_name, by_address // ADDRESS_WEIGHS)
