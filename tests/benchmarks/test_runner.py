"""What the benchmark command prints and how it ends, with invented figures."""

import json
import sys
import types

import pytest

from . import registry
from .__main__ import main
from .figure import Figure

FAST = Figure(
    what="a fast thing", ours=1.0, floor=300.0, unit="s", limit=200, direction="at least", why="as slow as it gets."
)
SLOW = Figure(what="a slow thing", ours=4.0, floor=1.0, unit="s", limit=3, direction="at most", why="the raw work.")


@pytest.fixture
def figures(monkeypatch):
    def offer(*given):
        module = types.ModuleType("tests.benchmarks.invented")
        module.run = lambda: iter(given)
        monkeypatch.setitem(sys.modules, module.__name__, module)
        monkeypatch.setattr(registry, "BENCHMARKS", {"invented": module.__name__})
        monkeypatch.setattr("tests.benchmarks.__main__.BENCHMARKS", registry.BENCHMARKS)
    return offer


def test_all_within_their_limit_ends_with_zero_and_says_so_in_the_last_line(figures, capsys):
    figures(FAST)
    assert main(["invented"]) == 0
    printed = capsys.readouterr().out.splitlines()
    assert printed[-1] == "1 of 1 within their limit"
    assert any("a fast thing" in line and "at least 200" in line and line.endswith("yes") for line in printed)
    assert "    floor: as slow as it gets." in printed


def test_a_missed_limit_ends_with_one_and_is_marked(figures, capsys):
    figures(FAST, SLOW)
    assert main([]) == 1
    printed = capsys.readouterr().out.splitlines()
    assert printed[-1] == "1 of 2 within their limit"
    assert any("a slow thing" in line and line.endswith("NO") for line in printed)


def test_json_is_only_json_on_standard_output(figures, capsys):
    figures(SLOW)
    assert main(["--json"]) == 1
    captured = capsys.readouterr()
    figure = json.loads(captured.out)["invented"][0]
    assert (figure["ratio"], figure["ok"], figure["limit"]) == (4.0, False, 3)
    assert captured.err.splitlines()[-1] == "0 of 1 within their limit"


def test_an_unknown_name_is_refused_with_the_names_there_are(figures, capsys):
    figures(FAST)
    with pytest.raises(SystemExit) as stopped:
        main(["nothing"])
    assert stopped.value.code == 2
    assert "no benchmark named nothing; expected invented" in capsys.readouterr().err


def test_exactly_on_the_limit_is_within_it():
    assert Figure(what="", ours=1, floor=200, unit="", limit=200, direction="at least", why="").ok
    assert Figure(what="", ours=3, floor=1, unit="", limit=3, direction="at most", why="").ok
