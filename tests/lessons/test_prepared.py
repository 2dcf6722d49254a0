"""What was prepared for a page is what would be said anew, whatever is written in between."""

import uuid
from datetime import timedelta

import pytest
from django.core.management import call_command
from django.db import OperationalError
from django.urls import reverse
from django.utils import timezone

from academy import bag, keeping, people
from academy.consents import give_consent, withdraw_consent
from academy.journal import mark_of
from academy.models import HealthFlag
from lessons.models import Lesson, Override, Prepared
from lessons.own_settings import in_force
from lessons.queries import prepared as kept
from lessons.queries.prepared import prepared
from lessons.queries.private_page import private_page
from lessons.services import greet, history, lessons, library, messages, packages, prescriptions, shots
from tests import factories
from tests.lessons.private import cast
from tests.lessons.test_import_page import GOOD, look_and_store

NOW = timezone.now().replace(microsecond=0)


@pytest.fixture
def story(student):
    """A student of two finished visits, with a goal that says what is followed."""
    bag.add_goal(by=student.coach, student=student, kind="process", text="Start it right", quantity="club_path_deg",
                 category="driver")
    cast.whole_story(student)
    return student


def page_of(student) -> dict:
    student.refresh_from_db()
    with in_force():
        page = private_page(student=student, house=factories.make_academy(), now=NOW)
    return {name: page[name] for name in page if name != "cards"}


def last(student) -> Lesson:
    return student.lessons.filter(status="finished").order_by("-starts_at").first()


def ten(student):
    return last(student).blocks.get(purpose="first_ten")


def add(student):
    shots.add_ball(by=student.coach, block=ten(student), key=uuid.uuid4(), numbers={"club_path_deg": 12.0})


def correct(student):
    shots.change_ball(by=student.coach, shot=ten(student).shots.first(), club_path_deg=-9.0)


def leave_out(student):
    shots.change_ball(by=student.coach, shot=ten(student).shots.first(), excluded_reason="topped")


def take_out(student):
    shots.remove_ball(by=student.coach, shot=ten(student).shots.first())


def undo(student):
    history.undo_last(by=student.coach, lesson=last(student))


def aid_the_block(student):
    lessons.change_block(by=student.coach, block=ten(student), purpose="explore")


def rename_the_goal_of_the_hour(student):
    greet.set_header(by=student.coach, lesson=last(student), goal="Nothing but balance")


def finish_a_visit(student):
    new = cast.visit(student=student, days_ago=1, status="running", path=[1.0, 1.2, 0.8, 1.1, 0.9, 1.0])
    lessons.finish_lesson(by=student.coach, lesson=new, next_date=None, next_measure="Ten drives")


def choose(student):
    prescriptions.choose_change(by=student.coach, lesson=last(student), change="Ball a little back", cue="toes")


def other_units(student):
    people.change_student(by=student.coach, student=student, units="metres")


def other_hand(student):
    people.change_student(by=student.coach, student=student, hand="left")


def own_setting(student):
    library.override_setting(by=student.coach, key="balls_to_show", value=9, reason="We want more balls")


def sell(student):
    packages.sell_package(by=student.coach, student=student, key=uuid.uuid4(), name="Five", lessons=5)


def say(student):
    messages.send_message(student=student, key=uuid.uuid4(), kind="question", text="Which ball?")


def answer(student):
    say(student)
    page_of(student)
    messages.answer_message(by=student.coach, message=student.messages.get(), answer="Any ball.")


def no_messages(student):
    give_consent(by=student.coach, student=student, item="messaging", given_on=timezone.localdate())
    page_of(student)
    withdraw_consent(by=student.coach, student=student, item="messaging", day=timezone.localdate())


def book(student):
    lessons.book_lesson(by=student.coach, student=student, starts_at=NOW + timedelta(days=3))


WRITES = [
    add, correct, leave_out, take_out, undo, aid_the_block, rename_the_goal_of_the_hour, finish_a_visit, choose,
    other_units, other_hand, own_setting, sell, say, answer, no_messages, book,
]


@pytest.mark.parametrize("write", WRITES, ids=lambda write: write.__name__)
def test_after_every_kind_of_write_the_page_is_what_it_would_be_if_nothing_had_been_kept(story, write):
    before = page_of(story)
    write(story)
    shown = page_of(story)
    Prepared.objects.all().delete()
    assert shown == page_of(story)
    assert shown != before, "this write changes what the page says, so it proves something"


def progress_of(client, student) -> str:
    page = client.get(reverse("lessons:progress", args=[student.code])).content.decode()
    return page[page.index("<main"):page.index("</main>")] + page[page.index("application/json"):]


def elsewhere(student):
    greet.set_header(by=student.coach, lesson=last(student), new_venue="Dune Range")


def hurts(student):
    cast.visit(student=student, days_ago=1)
    flag = HealthFlag(student=student, area="elbow", severity=3, reported_at=NOW - timedelta(days=2))
    cast.written(flag, student=student)


def other_goal(student):
    bag.end_goal(by=student.coach, goal=student.goals.get(), day=NOW.date())
    bag.add_goal(by=student.coach, student=student, kind="process", text="Narrow", quantity="club_path_deg",
                 category="driver", lower=0.0, upper=1.0)


BALLS = [add, correct, leave_out, take_out, undo, aid_the_block, finish_a_visit, choose, own_setting, elsewhere, hurts,
         other_goal]


@pytest.mark.parametrize("write", BALLS, ids=lambda write: write.__name__)
def test_after_every_kind_of_write_progress_is_what_it_would_be_if_nothing_had_been_kept(story, as_coach, write):
    before = progress_of(as_coach, story)
    assert Prepared.objects.filter(name="progress").count() == 1
    write(story)
    shown = progress_of(as_coach, story)
    Prepared.objects.all().delete()
    assert shown == progress_of(as_coach, story)
    assert shown != before, "this write changes what the page says, so it proves something"


def test_progress_in_another_coachs_units_is_not_taken_from_the_first_ones(story, as_coach, coach):
    show = {"show": "driver:club_path_deg"}
    yards = as_coach.get(reverse("lessons:progress", args=[story.code]), show).content
    coach.units = "metres"
    coach.save()
    assert as_coach.get(reverse("lessons:progress", args=[story.code]), show).status_code == 200
    kept_rows = list(Prepared.objects.filter(name="progress driver:club_path_deg"))
    assert len(kept_rows) == 1 and yards
    as_coach.get(reverse("lessons:progress", args=[story.code]), {"show": "no:thing"})
    assert set(Prepared.objects.values_list("name", flat=True)) == {"progress", "progress driver:club_path_deg"}


def test_a_file_dropped_into_a_finished_lesson_changes_the_page(story, as_coach):
    before = page_of(story)
    look_and_store(as_coach, last(story), GOOD)
    shown = page_of(story)
    Prepared.objects.all().delete()
    assert shown == page_of(story) and mark_of(student=story)
    assert before["progress"] == shown["progress"], "balls of one more block are no first ten"


def test_an_own_setting_that_is_taken_back_counts_no_more(story):
    before = page_of(story)
    own_setting(story)
    assert page_of(story) != before
    library.take_override_back(by=story.coach, override=Override.objects.get())
    assert page_of(story) == before


def test_what_is_unchanged_is_made_once(story, monkeypatch):
    made = []

    def make() -> int:
        made.append(1)
        return len(made)

    assert [prepared(student=story, name="one", make=make) for _ in range(3)] == [1, 1, 1]
    assert prepared(student=story, name="one", rests_on=("metric",), make=make) == 2
    monkeypatch.setattr(kept, "VERSION", "another")
    assert prepared(student=story, name="one", rests_on=("metric",), make=make) == 3
    monkeypatch.setattr(kept, "SUMMARY_VERSION", "another")
    assert prepared(student=story, name="one", rests_on=("metric",), make=make) == 4
    monkeypatch.setattr(timezone, "localdate", lambda *_: NOW.date() + timedelta(days=1))
    assert prepared(student=story, name="one", rests_on=("metric",), make=make) == 5


def test_a_write_of_another_student_leaves_it_as_it_is(story, coach):
    mark = mark_of(student=story)
    other = factories.make_student(coach=coach, name="Orla Fenwick")
    cast.whole_story(other)
    undo(other)
    assert mark_of(student=story) == mark
    undo(story)
    assert mark_of(student=story) != mark


def test_an_update_of_the_program_forgets_everything(story):
    page_of(story)
    assert Prepared.objects.exists()
    call_command("migrate", verbosity=0)
    assert not Prepared.objects.exists()


def test_it_is_tidied_away_after_a_month(story):
    page_of(story)
    assert keeping.run(now=timezone.now() + timedelta(days=29))["prepared"] == 0
    assert keeping.run(now=timezone.now() + timedelta(days=31))["prepared"] == 1


def test_a_disk_that_takes_nothing_more_does_not_close_the_page(story, monkeypatch):
    def full(*_, **__):
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(Prepared.objects.__class__, "bulk_create", full)
    assert page_of(story)["first_ten"] is not None
    assert not Prepared.objects.exists()


def test_nothing_of_the_students_health_is_kept_in_it(story):
    messages.tell_pain(student=story, key=uuid.uuid4(), severity=6, area="elbow", is_new=True, red_flag=False)
    page_of(story)
    told = str(Prepared.objects.get().content)
    assert "elbow" not in told and "Stop the full swings" not in told


def test_the_page_of_thirty_visits_asks_as_often_as_that_of_two(story, django_assert_max_num_queries):
    client = cast.holder_of(story)
    client.get(reverse("lessons:me"))
    with django_assert_max_num_queries(10):
        client.get(reverse("lessons:me"))
