"""The door for other programs: balls as JSON, and the document that describes it."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_GET, require_POST

from lessons import api
from lessons.services.live import take
from lessons.services.sources import seconds_to_wait, source_of_token

DOCUMENT = Path(api.__file__).with_name("openapi.json")


@login_not_required
@require_GET
def openapi(request: HttpRequest) -> HttpResponse:
    """Hand out the description of this door (OpenAPI 3.1)."""
    return HttpResponse(_document(), content_type="application/openapi+json;version=3.1")


@csrf_exempt
@login_not_required
@require_POST
def shots(request: HttpRequest) -> HttpResponse:
    """Take balls from a source that shows its token. All are stored, or none, and the answer says which it was.

    A cookie opens nothing here, so there is nothing for a forged request to borrow.
    """
    source = source_of_token(token=_token(request))
    if source is None:
        answer = _refusal(401, [_problem("A token of a source is needed: Authorization: Bearer TOKEN.")])
        answer["WWW-Authenticate"] = 'Bearer realm="shots"'
        return answer
    now = timezone.now()
    wait = seconds_to_wait(source=source, now=now)
    if wait:
        answer = _refusal(429, [_problem(f"Too many messages; try again in {wait} seconds, with more shots in each.")])
        answer["Retry-After"] = str(wait)
        return answer
    if request.content_type != "application/json":
        return _refusal(415, [_problem("JSON is expected: Content-Type: application/json.")])
    try:
        balls = api.read_message(_body(request), club_names=source.club_names, now=now)
    except api.Refused as refused:
        return _refusal(refused.status, refused.errors)
    taken = take(source=source, balls=balls)
    return JsonResponse({"shots": [{"key": str(one.key), "state": one.state} for one in taken]})


def _token(request: HttpRequest) -> str:
    kind, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if kind.lower() == "bearer" else ""


def _body(request: HttpRequest) -> bytes:
    """Read no more than can be taken, whatever length was announced."""
    announced = request.headers.get("Content-Length") or "0"
    if announced.isdecimal() and (len(announced) > 12 or int(announced) > api.MAX_BYTES):
        return b" " * (api.MAX_BYTES + 1)
    return request.read(api.MAX_BYTES + 1)


def _refusal(status: int, errors: list[dict[str, Any]]) -> JsonResponse:
    return JsonResponse({"errors": errors}, status=status)


def _problem(sentence: str) -> dict[str, Any]:
    return {"shot": None, "field": "", "problem": sentence}


@cache
def _document() -> bytes:
    """Return the document as it stands in the program; read once, for it changes only with the program."""
    return json.dumps(json.loads(DOCUMENT.read_text(encoding="utf-8"))).encode()
