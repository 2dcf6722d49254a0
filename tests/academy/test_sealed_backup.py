"""A backup under a passphrase: opens whole with it, and not at all without it or with a byte changed."""

import os

import pytest

from academy import backup_seal
from academy.backup import BackupError
from academy.backup_seal import MAGIC, PREFIX, SALT, TAG, is_sealed, seal_file, unseal_file

WORDS = "a heron on the ninth green"


@pytest.fixture
def small_pieces(monkeypatch):
    """Pieces of a few bytes, so that a short file has several."""
    monkeypatch.setattr(backup_seal, "PIECE", 64)
    return 64


@pytest.fixture
def plain(tmp_path):
    path = tmp_path / "backup.zip"
    path.write_bytes(b"Edda Marlow, " * 30)
    return path


def opened(path, words=WORDS) -> bytes:
    return unseal_file(path=path, passphrase=words, into=path.with_name("opened")).read_bytes()


def test_what_is_sealed_is_opened_whole_by_its_passphrase_alone(plain, small_pieces):
    before = plain.read_bytes()
    sealed = seal_file(path=plain, passphrase=WORDS)
    assert not plain.exists() and is_sealed(sealed) and b"Marlow" not in sealed.read_bytes()
    assert os.stat(sealed).st_mode & 0o077 == 0
    assert opened(sealed) == before
    with pytest.raises(BackupError, match="passphrase is not the one"):
        opened(sealed, "a heron on the tenth green")


def pieces_of(sealed, size) -> tuple[bytes, list[bytes]]:
    whole, head = sealed.read_bytes(), len(MAGIC) + SALT + PREFIX
    step = size + TAG
    return whole[:head], [whole[at:at + step] for at in range(head, len(whole), step)]


@pytest.mark.parametrize("harm", [
    lambda parts: [parts[1], parts[0], *parts[2:]], lambda parts: parts[:-1], lambda parts: parts[1:],
    lambda parts: [*parts, parts[-1]], lambda parts: [bytes([parts[0][0] ^ 1]) + parts[0][1:], *parts[1:]],
    lambda parts: [*parts[:-1], parts[-1][:-1]], lambda parts: [],
], ids=["two exchanged", "end cut off", "beginning cut off", "end twice", "a bit changed", "a byte short", "empty"])
def test_a_sealed_file_that_was_tampered_with_does_not_open(plain, small_pieces, harm):
    sealed = seal_file(path=plain, passphrase=WORDS)
    head, parts = pieces_of(sealed, small_pieces)
    assert len(parts) > 3
    sealed.write_bytes(head + b"".join(harm(parts)))
    with pytest.raises(BackupError, match="damaged"):
        opened(sealed)


def test_a_short_passphrase_seals_nothing(plain):
    with pytest.raises(BackupError, match="too short"):
        seal_file(path=plain, passphrase="eleven char")
    assert plain.exists()
