"""What a person reads when the database cannot be written or read: what happened, that nothing was stored, what to
do. The answer is 503, so that waiting balls stay in the browser and are sent again."""

import sys

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.defaults import server_error

SENTENCES = (
    (("full",), "The disk is full. Nothing of this was stored; what was stored before is safe. Make room, then try "
                "again."),
    (("readonly", "read-only", "unable to open"), "The data folder cannot be written. Nothing of this was stored; "
     "what was stored before is safe. Give this program the right to write there, then try again."),
    (("locked", "busy", "timeout"), "Somebody else was writing for a long time. Nothing of this was stored; try it "
                                    "again."),
    (("malformed", "not a database"), "The database is damaged. Stop the program and restore the newest backup."),
)
OTHERWISE = "The database does not answer. Nothing of this was stored; what was stored before is safe. Try again."


def broken(request: HttpRequest) -> HttpResponse:
    """Answer a request that failed inside the program: Django's handler of status 500."""
    error = sys.exc_info()[1]
    if not isinstance(error, OperationalError):
        return server_error(request)
    return HttpResponse(render_to_string("trouble.html", {"sentence": sentence(error)}), status=503)


def sentence(error: Exception) -> str:
    """Return what to tell a person about a database error."""
    said = str(error).lower()
    return next((words for signs, words in SENTENCES if any(sign in said for sign in signs)), OTHERWISE)
