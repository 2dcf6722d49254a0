"""The library in the database: shipped rows, own rows, overrides, and the one that counts."""

import json

import pytest
from django.core.management import call_command

from lessons import library
from lessons.models import LibraryEntry, Override
from metrics.rules.reader import LibraryError
from tests.library.shipped import shipped_library

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(tmp_path, settings):
    """A copy of the shipped files that a test may change."""
    for path in library.Path(settings.LIBRARY_DIR).rglob("*.json"):
        target = tmp_path / path.relative_to(settings.LIBRARY_DIR)
        target.parent.mkdir(exist_ok=True)
        target.write_text(path.read_text())
    return tmp_path


def edit(folder, document: str, change) -> None:
    path = folder / f"{document}.json"
    rows = json.loads(path.read_text())
    change(rows)
    path.write_text(json.dumps(rows))


def own_drill(slug: str = "own-fence-gate") -> dict:
    rows = library.read_documents(library.Path(library.settings.LIBRARY_DIR))["drills"]
    return {**rows[0], "slug": slug, "code": "OWN", "name": "Gate of the own fence"}


def test_loading_stores_every_shipped_entry_and_a_second_time_changes_nothing():
    first = library.load_shipped()
    assert first["patterns"] == len(shipped_library().patterns) and first["drills"] == len(shipped_library().drills)
    assert first["changed"] == LibraryEntry.objects.count() > 300
    keys = list(LibraryEntry.objects.order_by("pk").values_list("pk", "slug"))
    assert library.load_shipped()["changed"] == 0
    assert list(LibraryEntry.objects.order_by("pk").values_list("pk", "slug")) == keys


def test_what_is_read_from_the_database_is_what_the_files_say():
    library.load_shipped()
    assert library.stored_library() == shipped_library()


def test_before_anything_is_loaded_the_files_count():
    assert library.stored_library() == shipped_library()


def test_the_command_says_what_it_stored(capsys):
    call_command("load_library")
    assert capsys.readouterr().out.startswith(f"Library: {len(shipped_library().patterns)} patterns, ")


def test_an_upgrade_replaces_shipped_entries_and_retires_what_is_shipped_no_longer(folder):
    library.load_shipped()
    edit(folder, "drills", lambda rows: rows[0].update(name="Another name"))
    edit(folder, "setup_effects", lambda rows: rows.pop())
    assert library.load_shipped(folder)["changed"] == 2
    now = library.stored_library()
    assert next(iter(now.drills.values())).name == "Another name"
    assert len(now.effects) == len(shipped_library().effects) - 1
    assert library.load_shipped(folder)["changed"] == 0


def test_an_upgrade_leaves_own_entries_and_overrides_alone(folder):
    library.load_shipped()
    data = own_drill()
    LibraryEntry.objects.create(kind="drill", slug=data["slug"], title=data["name"], data=data, is_own=True)
    Override.objects.create(kind="window", slug="driver/feet_deg", path="window/driver/feet_deg",
                            value={"low": -1, "high": 1}, reason="our mats lie so")
    library.load_shipped(folder)
    row = LibraryEntry.objects.get(slug=data["slug"])
    assert row.is_own and row.data == data and row.retired_at is None
    assert data["slug"] in library.stored_library().drills
    assert Override.objects.get().removed_at is None


def test_an_own_drill_keeps_its_slug_when_a_shipped_one_of_that_name_arrives(folder):
    library.load_shipped()
    data = own_drill()
    LibraryEntry.objects.create(kind="drill", slug=data["slug"], title=data["name"], data=data, is_own=True)
    edit(folder, "drills", lambda rows: rows.append({**data, "name": "Theirs"}))
    library.load_shipped(folder)
    assert library.stored_library().drills[data["slug"]].name == "Gate of the own fence"


def test_files_that_do_not_fit_are_refused_whole(folder):
    library.load_shipped()
    before = list(LibraryEntry.objects.values_list("fingerprint", flat=True))
    edit(folder, "drills", lambda rows: rows[0].pop("steps"))
    with pytest.raises(LibraryError, match="steps"):
        library.load_shipped(folder)
    assert list(LibraryEntry.objects.values_list("fingerprint", flat=True)) == before


def test_an_upgrade_that_an_own_entry_does_not_fit_is_refused_with_its_name(folder):
    library.load_shipped()
    data = {**own_drill(), "patterns": ["a-pattern-that-went"]}
    LibraryEntry.objects.create(kind="drill", slug=data["slug"], title=data["name"], data=data, is_own=True)
    with pytest.raises(LibraryError, match="own-fence-gate.*a-pattern-that-went"):
        library.load_shipped(folder)


def test_an_entry_changed_by_another_process_is_seen_here():
    library.load_shipped()
    assert library.stored_library() is library.stored_library()
    row = LibraryEntry.objects.get(kind="drill", slug="two-stick-station")
    row.data = {**row.data, "name": "Changed elsewhere"}
    row.fingerprint = library.fingerprint(kind=row.kind, slug=row.slug, data=row.data)
    row.save()
    assert library.stored_library().drills["two-stick-station"].name == "Changed elsewhere"


def test_reading_the_library_again_costs_one_query(django_assert_num_queries):
    library.load_shipped()
    library.stored_library()
    with django_assert_num_queries(1):
        library.stored_library()
    with django_assert_num_queries(2):
        library.current_library()


def window(lib, club, checkpoint, intent=""):
    return next((w.low, w.high) for w in lib.windows if (w.club, w.checkpoint, w.intent) == (club, checkpoint, intent))


def test_the_student_s_own_window_wins_over_the_academy_s_and_the_shipped_one_stays(student, coach):
    library.load_shipped()
    common = {"kind": "window", "slug": "driver/feet_deg", "path": "window/driver/feet_deg"}
    Override.objects.create(**common, value={"low": -1, "high": 1, "intent": ""}, reason="house rule")
    Override.objects.create(**common, value={"low": 3, "high": 6, "intent": ""}, reason="new hip", student=student)
    assert window(library.stored_library(), "driver", "feet_deg") == (-2, 2)
    assert window(library.current_library(), "driver", "feet_deg") == (-1, 1)
    assert window(library.current_library(student), "driver", "feet_deg") == (3, 6)
    assert window(library.current_library(student), "driver", "feet_deg", "draw") == (2, 5)


def test_an_override_for_every_flight_reaches_the_draw_window_too(student):
    Override.objects.create(kind="window", slug="driver/feet_deg", path="window/driver/feet_deg",
                            value={"low": 0, "high": 1}, reason="prosthesis", student=student)
    assert window(library.current_library(student), "driver", "feet_deg", "draw") == (0, 1)


def test_an_override_of_something_that_is_gone_is_left_out_instead_of_stopping_the_lesson(student):
    Override.objects.create(kind="window", slug="putter/tee_height_mm", path="window/putter/tee_height_mm",
                            value={"low": 0, "high": 1}, reason="was there once")
    assert library.current_library(student) == library.stored_library()


def test_a_threshold_can_be_the_academy_s_own(student):
    target = "threshold/over_draw/numbers-straight/club_path_deg"
    Override.objects.create(kind="pattern", slug="over_draw", path=target, value={"watch": 5, "strong": 7},
                            reason="our juniors")
    route = library.current_library().patterns["over_draw"].routes[0]
    assert (route.conditions[0].watch, route.conditions[0].strong) == (5, 7)
