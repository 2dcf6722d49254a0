"""A prepared folder once, a copy of it for each test; and a line with the figures at the end."""

import shutil

import pytest

from .bench import PREPARE, Place


@pytest.fixture(scope="session")
def prepared(tmp_path_factory):
    place = Place(home=tmp_path_factory.mktemp("durable"))
    process = place.script(PREPARE)
    out, wrong = process.communicate()
    assert process.returncode == 0, out + wrong
    return place


@pytest.fixture
def place(prepared, tmp_path):
    shutil.copytree(prepared.home, tmp_path / "home")
    return Place(home=tmp_path / "home")


@pytest.fixture
def tell(capsys):
    """Print a line of figures past pytest's capture, so that a run shows them."""

    def say(words: str) -> None:
        with capsys.disabled():
            print(f"\n  {words}")

    return say
