"""No number without its method, no code without its sentence."""

import ast
import importlib
from pathlib import Path

import pytest

import metrics.flight
from metrics.flight.methods import METHODS
from metrics.flight.reasons import REFUSALS, WARNINGS

_FILES = [path for path in Path(metrics.flight.__file__).parent.glob("*.py") if path.name != "reasons.py"]
_NOT_A_NUMBER = {
    "words", "why", "refusals", "within_range", "air_at", "standard_pressure_hpa", "club_values", "shape_from_launch",
    "estimate", "columns_of", "start", "possible", "direction_of", "tilted_axis", "flow_around", "rate_of_change",
    "step", "landed",
}
"""Public functions that say, choose or set up rather than compute a number of their own for a screen."""


@pytest.mark.parametrize("method", METHODS, ids=lambda method: method.key)
def test_every_row_of_the_method_page_names_a_function_with_a_docstring(method):
    module, name = method.function.rsplit(".", 1)
    function = getattr(importlib.import_module(module), name)
    assert callable(function) and len(function.__doc__) > 60
    assert all((method.label, method.formula, method.valid_range, method.source))


def test_keys_and_functions_stand_once():
    assert len({method.key for method in METHODS}) == len(METHODS)
    assert len({method.function for method in METHODS}) == len(METHODS)


def test_every_public_function_that_computes_a_number_has_its_row():
    public = {
        f"metrics.flight.{path.stem}.{node.name}"
        for path in _FILES for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and node.name not in _NOT_A_NUMBER
    }
    assert public == {method.function for method in METHODS}


def test_every_code_is_used_and_every_sentence_is_one():
    text = "".join(path.read_text(encoding="utf-8") for path in _FILES)
    for code, sentence in (REFUSALS | WARNINGS).items():
        assert f'"{code}"' in text, code
        assert sentence[0].isupper() and sentence.endswith(".") and len(sentence) > 20, code
