"""The rooms and their arrows, checked by machine."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
TOP_LEVEL = {
    ".ci", ".git", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "academy", "fixtures", "lessons",
    "manage.py", "metrics", "pyproject.toml", "static", "templates", "tests",
}


def tracked_files() -> list[str]:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return listed.stdout.split()


METRICS = [name for name in tracked_files() if name.startswith("metrics/") and name.endswith(".py")]


def test_the_top_level_holds_exactly_what_the_plan_names():
    found = {name.split("/")[0] for name in tracked_files()}
    assert found == TOP_LEVEL - {".git"}


def test_imports_keep_to_the_arrows():
    done = subprocess.run(
        [str(Path(sys.executable).parent / "lint-imports")],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )
    assert done.returncode == 0, done.stdout[-3000:]


@pytest.mark.parametrize("path", METRICS)
def test_number_functions_take_their_arguments_by_name(path):
    """A swapped pair of angles must be impossible: public functions of metrics are keyword-only."""
    tree = ast.parse((ROOT / path).read_text())
    wrong = [
        node.name for node in tree.body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and len(node.args.args) > 1
    ]
    assert not wrong, f"{path}: {wrong} take more than one positional argument"


@pytest.mark.parametrize("path", METRICS)
def test_public_functions_of_metrics_say_what_they_do(path):
    tree = ast.parse((ROOT / path).read_text())
    wrong = [
        node.name for node in tree.body
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]
    assert not wrong, f"{path}: {wrong} have no docstring"
