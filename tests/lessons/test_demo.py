"""The demo academy: invented, whole, the same from the same seed, and never mixed with real data."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from academy.models import Academy, Coach, Student
from lessons.demo import build as demo
from lessons.demo.cast import SCENES, cast
from lessons.library import current_library, load_shipped
from lessons.models import Finding, Lesson, Shot, Standing
from tests import factories

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def built(django_db_setup, django_db_blocker):
    """The small demo academy, built once for this file and thrown away with it."""
    from django.db import transaction

    with django_db_blocker.unblock(), transaction.atomic():
        load_shipped()
        demo.build(size="small", say=lambda line: None)
        yield
        transaction.set_rollback(True)


@pytest.fixture
def opened(built, django_db_blocker):
    with django_db_blocker.unblock():
        yield


def test_every_scene_is_a_student_with_a_line_that_says_what_to_look_at(opened):
    hints = dict(Student.objects.exclude(demo_hint="").values_list("name", "demo_hint"))
    assert hints == {scene.name: scene.hint for scene in SCENES}


def test_everything_is_marked_as_invented(opened):
    assert Academy.objects.get().is_demo
    assert set(Shot.objects.values_list("source", flat=True)) == {"demo"}


def test_nobody_can_sign_in_to_the_demo_with_a_password(opened):
    assert not any(coach.has_usable_password() for coach in Coach.objects.all())


def test_the_player_who_needs_the_sticks_is_not_told_that_it_held(opened):
    verdicts = dict(Standing.objects.values_list("student__name", "verdict"))
    assert verdicts["Ravi Castellow"] == "cannot_tell"
    assert verdicts["Mara Averill"] in {"likely", "established"}


def test_a_paused_student_is_in_the_demo_with_the_reason(opened):
    assert Student.objects.get(status="paused").pause_reason == "injury"


def test_today_has_lessons_to_start_with(opened):
    assert Lesson.objects.filter(status="planned").count() >= 6


def test_findings_name_patterns_of_the_library_and_hold_no_gaps(opened):
    patterns = current_library().patterns
    for slug, title in Finding.objects.values_list("pattern", "title"):
        assert slug in patterns and "{" not in title


def test_the_same_seed_gives_the_same_people_and_swings():
    first, second = cast(seed=7, students=40), cast(seed=7, students=40)
    assert [(part.name, part.record, part.visits) for part in first] == [
        (part.name, part.record, part.visits) for part in second
    ]
    assert [part.player.day_effect() for part in first] == [part.player.day_effect() for part in second]
    assert [part.name for part in cast(seed=8, students=40)] != [part.name for part in first]


def test_the_demo_refuses_a_database_that_holds_anything(db):
    factories.make_academy()
    with pytest.raises(ValueError, match="already holds"):
        demo.build(size="small", say=lambda line: None)


def test_the_command_refuses_to_run_on_real_data(db):
    with pytest.raises(CommandError, match="must not touch real data"):
        call_command("demo", "--build-only")


def test_the_command_builds_in_a_folder_of_its_own_and_prints_a_way_in(tmp_path):
    environment = {k: v for k, v in os.environ.items() if k != "DATABASE_URL"}
    environment |= {"HOLDFAST_HOME": str(tmp_path), "DJANGO_SETTINGS_MODULE": "academy.settings"}
    done = subprocess.run(
        [sys.executable, "manage.py", "demo", "--build-only", "--no-browser"], cwd=ROOT, env=environment,
        capture_output=True, text=True, check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "/entry/" in done.stdout
    assert (tmp_path / "demo" / "holdfast.sqlite3").exists()
    assert not (tmp_path / "academy" / "holdfast.sqlite3").exists()
