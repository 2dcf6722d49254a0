"""Sealing a backup with a passphrase, for a disk that leaves the house. AES-256-GCM by the cryptography library.

The file: a magic line, 16 bytes of salt, 7 bytes that begin each nonce, then pieces of 1 MiB, each sealed by itself.
A piece's nonce holds its number and whether it is the last one, so that no piece can be left out, moved or cut off.
The key comes from the passphrase by scrypt (n = 2**17, r = 8, p = 1: about 128 MiB and half a second a try).
"""

import os
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from .backup import BackupError, sync_folder

MAGIC = b"holdfast sealed backup 1\n"
SALT, PREFIX, TAG = 16, 7, 16
PIECE = 1024 * 1024
SHORTEST_PASSPHRASE = 12


def seal_file(*, path: Path, passphrase: str) -> Path:
    """Seal a file, remove the open one, and return the sealed one's path. Raises BackupError."""
    if len(passphrase) < SHORTEST_PASSPHRASE:
        raise BackupError(f"The passphrase is too short; expected {SHORTEST_PASSPHRASE} characters or more.")
    salt, prefix = os.urandom(SALT), os.urandom(PREFIX)
    box = AESGCM(_key(passphrase, salt))
    sealed, part = path.with_name(f"{path.name}.sealed"), path.with_name(f".{path.name}.part")
    with open(path, "rb") as source, open(part, "wb") as target:
        os.fchmod(target.fileno(), 0o600)
        target.write(MAGIC + salt + prefix)
        for number, piece, last in _pieces(source, PIECE):
            target.write(box.encrypt(_nonce(prefix, number, last), piece, None))
        target.flush()
        os.fsync(target.fileno())
    os.replace(part, sealed)
    path.unlink()
    sync_folder(path.parent)
    return sealed


def is_sealed(path: Path) -> bool:
    """Say whether a file is a sealed backup; False where there is none."""
    if not path.is_file():
        return False
    with open(path, "rb") as file:
        return file.read(len(MAGIC)) == MAGIC


def unseal_file(*, path: Path, passphrase: str, into: Path) -> Path:
    """Open a sealed backup into another file and return that. Raises BackupError for a wrong passphrase and for a
    file that was changed or cut off."""
    with open(path, "rb") as source, open(into, "wb") as target:
        os.fchmod(target.fileno(), 0o600)
        source.seek(len(MAGIC))
        salt, prefix = source.read(SALT), source.read(PREFIX)
        try:
            box = AESGCM(_key(passphrase, salt))
            for number, piece, last in _pieces(source, PIECE + TAG):
                target.write(box.decrypt(_nonce(prefix, number, last), piece, None))
        except (InvalidTag, ValueError) as error:
            raise BackupError("The passphrase is not the one, or the file is damaged; nothing was changed.") from error
    return into


def _key(passphrase: str, salt: bytes) -> bytes:
    return Scrypt(salt=salt, length=32, n=2**17, r=8, p=1).derive(passphrase.encode())


def _nonce(prefix: bytes, number: int, last: bool) -> bytes:
    return prefix + struct.pack(">I?", number, last)


def _pieces(file: BinaryIO, size: int) -> Iterator[tuple[int, bytes, bool]]:
    """Yield number, bytes, and whether it is the last piece; an empty file is one empty last piece."""
    number, piece = 0, file.read(size)
    while True:
        following = file.read(size)
        yield number, piece, not following
        if not following:
            return
        number, piece = number + 1, following
