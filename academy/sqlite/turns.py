"""Turns: one at a time, first come first served."""

import threading
from collections import deque


class Turns:
    """A lock that is handed to whoever has waited longest.

    Python's own lock may be taken by a newcomer while others wait, and so may SQLite's, whose waiters sleep and try
    again: under load one unlucky writer waits many times as long as the others.
    """

    def __init__(self) -> None:
        self._guard = threading.Lock()
        self._waiting: deque[threading.Lock] = deque()
        self._taken = False

    def take(self, *, timeout: float) -> bool:
        """Wait for a turn; False where it has not come in so many seconds."""
        with self._guard:
            if not self._taken:
                self._taken = True
                return True
            called = threading.Lock()
            called.acquire()
            self._waiting.append(called)
        if called.acquire(timeout=timeout):
            return True
        with self._guard:
            if called in self._waiting:
                self._waiting.remove(called)
                return False
        return True  # called in the very moment of giving up

    def give_back(self) -> None:
        """End a turn; it goes to whoever has waited longest."""
        with self._guard:
            if self._waiting:
                self._waiting.popleft().release()
            else:
                self._taken = False
