"""Sealing what must be read again, such as the secret of a second factor, so that a stolen database is no use.

Fernet of the cryptography library (AES-CBC with HMAC-SHA-256) under a key made from the installation's secret key.
"""

import base64
import hashlib

from cryptography.fernet import Fernet, InvalidToken
from django.conf import settings


class SealBroken(ValueError):
    """The text was sealed under another key, or changed since."""


def seal(text: str, *, purpose: str) -> str:
    """Return the text so that only this installation can read it."""
    return _box(purpose).encrypt(text.encode()).decode()


def unseal(sealed: str, *, purpose: str) -> str:
    """Return what was sealed. Raises SealBroken."""
    try:
        return _box(purpose).decrypt(sealed.encode()).decode()
    except InvalidToken as error:
        raise SealBroken("This was sealed on another installation, or its key has changed.") from error


def _box(purpose: str) -> Fernet:
    key = hashlib.sha256(f"holdfast.seal.{purpose}:{settings.SECRET_KEY}".encode()).digest()
    return Fernet(base64.urlsafe_b64encode(key))
