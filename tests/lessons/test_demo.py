"""The demo academy: invented, whole, the same from the same seed, and never mixed with real data."""

import os
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from academy.models import Academy, Coach, Student
from lessons.demo import build as demo
from lessons.demo.cast import cast
from lessons.demo.scenes import SCENES
from lessons.frames import shots_of
from lessons.library import current_library, load_shipped
from lessons.models import Block, Booking, Finding, ImportBatch, Lesson, Shot, Standing
from lessons.queries.guide import signposts
from lessons.queries.held import held_for
from lessons.queries.roster import roster_rows
from lessons.services.import_readings import table_of
from lessons.services.imports import preview
from lessons.summaries import summarise_into
from tests import factories

ROOT = Path(__file__).resolve().parents[2]
A_DAY = date(2026, 5, 20)


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


def test_the_scenarios_show_what_they_are_there_to_show(opened):
    verdicts = dict(Standing.objects.values_list("student__name", "verdict"))
    assert verdicts["Ravi Castellow"] == "cannot_tell"
    assert verdicts["Kofi Iversholm"] == "cannot_tell"
    assert verdicts["Tomasz Brekkan"] == "cannot_tell"
    assert "Not the same club" in held_for(student=Student.objects.get(name="Henrik Solbakken")).sentence
    assert verdicts["Callan Whitmoor"] == "established"
    assert verdicts["Mara Averill"] in {"likely", "established"}
    assert verdicts["Signe Halloran"] == "slipped"
    assert verdicts["Yrsa Tindberg"] == "overshot"


def test_a_file_that_comes_twice_brings_two_new_balls_and_one_without_units_is_read_as_metres(opened):
    waiting = ImportBatch.objects.filter(stored_at=None).select_related("lesson__student")
    told = {batch.file_name: preview(batch=batch, table=table_of(batch)) for batch in waiting}
    again = told["bay2_session_again.csv"]
    assert (again.already, again.new) == (23, 2)
    assert told["from_holiday.csv"].parsed.shots["carry_m"].max() == pytest.approx(197, abs=3)


def test_the_left_handers_file_has_the_other_sign_than_her_lesson(opened):
    shot = Shot.objects.filter(batch__file_name="bay4_left.csv").exclude(club_path_deg=None).first()
    assert float(shot.raw.split(",")[3]) == -shot.club_path_deg


def test_the_guide_names_every_scenario_to_the_owner_and_a_coach_the_own_ones(opened):
    seen = [len(signposts(coach=Coach.objects.get(username=name))) for name in ("runa", "tarek", "ines")]
    assert seen == [len(SCENES), 1, 0]


def test_three_students_are_paused_with_an_injury_and_six_are_overdue_with_or_without_a_package(opened):
    owner = Coach.objects.get(is_owner=True)
    overdue = {row.student.name for row in roster_rows(coach=owner) if row.overdue_because}
    expected = {scene.name for scene in SCENES if scene.booked is None and scene.status == "active"}
    assert expected <= overdue
    paused = Student.objects.filter(status="paused", pause_reason="injury").values_list("name", flat=True)
    assert {scene.name for scene in SCENES if scene.status == "paused"} <= set(paused)


def test_today_has_lessons_to_start_with(opened):
    assert Lesson.objects.filter(status="planned").count() >= 6


def test_findings_name_patterns_of_the_library_and_hold_no_gaps(opened):
    patterns = current_library().patterns
    for slug, title in Finding.objects.values_list("pattern", "title"):
        assert slug in patterns and "{" not in title


def test_the_same_seed_gives_the_same_people_visits_and_swings():
    first, second = (cast(seed=7, students=40, coaches=4, today=A_DAY) for _ in range(2))
    assert [(part.name, part.record, part.days) for part in first] == [
        (part.name, part.record, part.days) for part in second
    ]
    assert [part.player.day() for part in first] == [part.player.day() for part in second]
    other = cast(seed=8, students=40, coaches=4, today=A_DAY)
    assert [part.name for part in other[len(SCENES):]] != [part.name for part in first[len(SCENES):]]


def test_a_hundred_and_twenty_students_come_about_2500_times_in_18_months():
    parts = cast(seed=demo.SEED, students=demo.STUDENTS["standard"], coaches=4, today=A_DAY)
    assert len({part.name for part in parts}) == 120
    assert 1900 < sum(len(part.days) for part in parts) < 2500
    assert {part.record["hand"] for part in parts} == {"right", "left"}
    assert {part.player.level for part in parts} == {"scratch", "low", "mid", "high", "very_high", "beginner"}


def test_two_thousand_names_are_two_thousand_people():
    assert len({part.name for part in cast(seed=1, students=2000, coaches=34, today=A_DAY)}) == 2000


def test_no_coach_teaches_two_people_at_once(opened):
    hours = Booking.objects.filter(group=None).exclude(lesson__status="cancelled").values_list(
        "lesson__coach", "lesson__starts_at")
    assert len(hours) == len(set(hours))


def test_the_stored_numbers_are_what_the_program_would_have_stored(opened):
    blocks = list(Block.objects.select_related("lesson__device").order_by("code")[:60])
    shots = shots_of(blocks)
    for block in blocks:
        stored = block.summary
        summarise_into(block=block, shots=shots[block.pk])
        assert block.summary == stored
    for standing in Standing.objects.select_related("student")[:5]:
        held = held_for(student=standing.student)
        assert (held.code, held.trend) == (standing.verdict, standing.trend)


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
        [sys.executable, "manage.py", "demo", "--size", "small", "--build-only"], cwd=ROOT, env=environment,
        capture_output=True, text=True, check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "/entry/" in done.stdout
    assert (tmp_path / "demo" / "holdfast.sqlite3").exists()
    assert not (tmp_path / "academy" / "holdfast.sqlite3").exists()
