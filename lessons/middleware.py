"""What counts while a request is answered: the academy's own values of what the statistics assume."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from .own_settings import in_force


class OwnSettings:
    """Lay the academy's own values over the shipped ones. One query, only where a page asks for any of them."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        with in_force():
            return self.get_response(request)
