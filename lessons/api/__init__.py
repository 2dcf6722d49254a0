"""What other programs may say to this one: balls as JSON, described by ``openapi.json``. No database.

``read_message(data, club_names=…, now=…)`` -> tuple of ``SentBall``, or ``Refused`` with an error for each field.
"""

from .message import MAX_BYTES, MAX_SHOTS, Refused, SentBall, read_message

__all__ = ["MAX_BYTES", "MAX_SHOTS", "Refused", "SentBall", "read_message"]
