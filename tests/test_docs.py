"""DEVELOPERS.md and README.md say what the code does, or this fails."""

import re
from pathlib import Path

import pytest

from metrics.checkpoints import CHECKPOINTS
from metrics.fields import FIELDS

ROOT = Path(__file__).resolve().parent.parent
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
README = (ROOT / "README.md").read_text()


def table(heading: str) -> dict[str, list[str]]:
    """Return the rows of the table whose first heading is given: first cell -> the other cells."""
    rows, inside = {}, False
    for line in DEVELOPERS.splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if line.startswith("|") and cells[0] == heading:
            inside = True
        elif inside and not line.startswith("|"):
            break
        elif inside and not set(line) <= set("|-: "):
            rows[cells[0].strip("`")] = cells[1:]
    return rows


@pytest.mark.parametrize(("heading", "registry"), [("quantity", FIELDS), ("checkpoint", CHECKPOINTS)])
def test_the_glossary_lists_every_quantity_with_its_unit_and_sign(heading, registry):
    assert table(heading) == {
        key: [spec.unit or "–", spec.plus_means or "–"] for key, spec in registry.items()
    }


def test_every_place_the_change_table_names_exists():
    named = set(re.findall(r"`((?:academy|lessons|metrics|tests|fixtures)/[\w./]*)`", DEVELOPERS))
    assert named
    missing = [name for name in sorted(named) if not (ROOT / name).exists()]
    assert not missing


def test_every_environment_setting_is_in_the_readme():
    source = "".join(path.read_text() for path in (ROOT / "academy").rglob("*.py"))
    settings = set(re.findall(r'"(HOLDFAST_[A-Z_]+|DATABASE_URL)"', source))
    assert settings
    assert not [name for name in sorted(settings) if name not in README]


def test_the_readme_starts_with_the_two_commands():
    assert "python3 -m venv .venv && .venv/bin/pip install -e . && .venv/bin/python manage.py demo" in README
    assert "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest" in README
