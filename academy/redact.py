"""Keeping secrets that stand in an address out of the log."""

import logging
import re

_SECRET_IN_PATH = re.compile(r"/(p|entry|calendar)/[^/\s\"']+")


class HideLinkTokens(logging.Filter):
    """Replace the token of a private link or one-time entry in every logged line.

    A refused request is logged with its path, and the path of a private link is its secret.
    """

    def filter(self, record: logging.LogRecord) -> bool:
        said = record.getMessage()
        hidden = _SECRET_IN_PATH.sub(r"/\1/…", said)
        if hidden != said:
            record.msg, record.args = hidden, None
        return True
