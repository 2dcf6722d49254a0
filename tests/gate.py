"""The door of the live server: shut while one test's tables are emptied, so that no late request meets them half gone.

A page goes on asking after its test has ended (a poll, a picture, a worker). Such a request once held a table while
Django flushed it, and the next test found the last one's rows."""

import threading

from django.http import HttpResponse


class Gate:
    """Counts the requests that are inside; `shut` waits for them and turns later ones away."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._inside = 0
        self._is_open = True

    def enter(self) -> bool:
        with self._changed:
            self._inside += self._is_open
            return self._is_open

    def leave(self) -> None:
        with self._changed:
            self._inside -= 1
            self._changed.notify_all()

    def open(self) -> None:
        with self._changed:
            self._is_open = True

    def shut(self, *, patience_s: float = 20.0) -> None:
        """Raises TimeoutError where a request is still inside after that long."""
        with self._changed:
            self._is_open = False
            if not self._changed.wait_for(lambda: self._inside == 0, timeout=patience_s):
                raise TimeoutError(f"{self._inside} requests were still being answered when the test had ended.")


gate = Gate()


def at_the_gate(get_response):
    def answer(request):
        if not gate.enter():
            return HttpResponse("The test of this page is over.", status=503)
        try:
            return get_response(request)
        finally:
            gate.leave()

    return answer
