"""What is installed is pinned, hashed, known by licence, and the same as what the tests ran with."""

import importlib.metadata
import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "academy" / "deployment"
LOCK = (FOLDER / "requirements.txt").read_text()
PINS = dict(re.findall(r"^([a-z0-9-]+)==(\S+) \\$", LOCK, re.M))
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]


def named(requirements: list[str]) -> dict[str, str]:
    """Return package -> version of exact requirements, without extras."""
    return dict(re.fullmatch(r"([A-Za-z0-9-]+)(?:\[\w+\])?==(\S+)", one).groups() for one in requirements)


def test_every_dependency_of_the_project_is_pinned_and_the_lock_file_has_the_same_version():
    asked = named([*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["postgres"]])
    assert {name: PINS.get(name.lower()) for name in asked} == asked


def test_every_package_of_the_lock_file_has_hashes():
    blocks = re.split(r"^(?=[a-z0-9-]+==)", LOCK, flags=re.M)[1:]
    assert len(blocks) == len(PINS)
    assert not [block.split("=")[0] for block in blocks if "--hash=sha256:" not in block]


def test_the_lock_file_is_complete_and_is_what_these_tests_ran_with():
    missing = set()
    for name in PINS:
        for wanted in importlib.metadata.requires(name) or []:
            package, *condition = (part.strip() for part in wanted.split(";"))
            plain = re.match(r"[A-Za-z0-9._-]+", package)[0].lower().replace("_", "-").replace(".", "-")
            if not condition and plain not in PINS:
                missing.add((name, plain))
    assert not missing
    assert {name: importlib.metadata.version(name) for name in PINS} == PINS


def test_the_licence_of_every_package_is_listed_as_the_package_states_it():
    listed = dict(re.findall(r"^\| ([a-z0-9-]+) \| (.+) \|$", (FOLDER / "licences.md").read_text(), re.M))
    listed.pop("package", None)
    assert set(listed) == set(PINS)
    for name, licence in listed.items():
        about = importlib.metadata.metadata(name)
        said = f"{about.get('License-Expression')} {about.get('License')} {about.get_all('Classifier')}"
        assert licence in said, name


def test_every_test_that_the_table_of_security_requirements_names_is_there_and_no_row_is_open():
    table = (FOLDER / "asvs.md").read_text()
    rows = [row for row in table.splitlines() if row.startswith("| V")]
    assert len(rows) > 35
    assert not [row for row in rows if "| Open" in row or ("| – |" in row and "Not here" not in row)]
    named_tests = set(re.findall(r"`(tests/[\w/.]+)`", table))
    assert not [name for name in named_tests if not (ROOT / name).exists()]
