"""The vendored chart script is the one that was published, with its licence and a compressed copy beside it."""

import gzip
import hashlib
from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "static" / "vendor" / "plotly"
SCRIPT = FOLDER / "plotly-cartesian-4.1.1.min.js"


def test_the_script_has_the_hash_written_beside_it() -> None:
    expected, name = SCRIPT.with_suffix(".js.sha256").read_text(encoding="ascii").split()
    assert name == SCRIPT.name
    assert hashlib.sha256(SCRIPT.read_bytes()).hexdigest() == expected


def test_the_compressed_copy_holds_the_same_bytes() -> None:
    assert gzip.decompress(SCRIPT.with_suffix(".js.gz").read_bytes()) == SCRIPT.read_bytes()


def test_the_compressed_copy_is_small_enough_for_a_phone_on_the_club_network() -> None:
    assert SCRIPT.with_suffix(".js.gz").stat().st_size < 520_000


def test_the_licence_stands_beside_the_script() -> None:
    assert (FOLDER / "LICENSE").read_text(encoding="utf-8").startswith("MIT License")


def test_the_script_states_its_version() -> None:
    assert "v4.1.1" in SCRIPT.read_text(encoding="utf-8")[:200]
