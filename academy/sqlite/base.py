"""Django's SQLite whose transactions take turns inside this process before they ask SQLite.

SQLite lets one transaction write at a time, and a second one sleep and try again, for up to a tenth of a second at
a time and in no order. Eight coaches who log at once then wait up to seven times as long as one alone, though each
write takes a few milliseconds. Here they queue. SQLite's own lock stays the law: between processes it alone decides,
and a turn that does not come in time is not waited for any longer.
"""

import threading
from collections import defaultdict
from typing import Any

from django.db.backends.sqlite3 import base

from .turns import Turns

_turns: defaultdict[str, Turns] = defaultdict(Turns)
_making = threading.Lock()
USUAL_TIMEOUT_S = 5.0
"""What SQLite waits where nothing else is set."""


class DatabaseWrapper(base.DatabaseWrapper):
    """A connection that queues for its turn to write."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._turn: Turns | None = None

    def _start_transaction_under_autocommit(self) -> None:
        self._take_turn()
        try:
            super()._start_transaction_under_autocommit()
        finally:
            self._give_back_unless_writing()

    def _commit(self) -> None:
        try:
            super()._commit()
        finally:
            self._give_back_unless_writing()

    def _rollback(self) -> None:
        try:
            super()._rollback()
        finally:
            self._give_back_unless_writing()

    def _close(self) -> None:
        try:
            super()._close()
        finally:
            self._give_back()

    def _take_turn(self) -> None:
        if self.transaction_mode != "IMMEDIATE" or self.is_in_memory_db() or self._turn is not None:
            return
        with _making:
            turns = _turns[str(self.settings_dict["NAME"])]
        if turns.take(timeout=self.settings_dict["OPTIONS"].get("timeout", USUAL_TIMEOUT_S)):
            self._turn = turns

    def _give_back_unless_writing(self) -> None:
        """End the turn where no transaction is open: it was ended, or it never began."""
        if self.connection is None or not self.connection.in_transaction:
            self._give_back()

    def _give_back(self) -> None:
        turns, self._turn = self._turn, None
        if turns is not None:
            turns.give_back()
