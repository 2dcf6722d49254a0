"""What a student reads, and what never gets there."""

import re
import uuid
from datetime import timedelta

import pytest
from django.apps import apps
from django.db import models
from django.utils import timezone

from academy.models import Concern, HealthFlag
from lessons.models import Finding, FollowUp, Lesson, LibraryEntry, PracticeEntry, SetupObservation, StudentMessage
from lessons.queries.shown import SHOWN
from tests import factories
from tests.lessons.whole_record import make_world

from . import cast
from .practice_plan import plan_for


def text_of(response) -> str:
    """Return the page as a reader sees it, without tags."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def test_the_first_view_is_the_one_thing_how_to_practise_it_and_the_setup(student):
    student.practice_minutes_week = 60
    student.save()
    cast.whole_story(student)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert "toes on the railway line" in page
    assert "Two-stick station : 15 minutes, at most 12 balls" in page
    assert "You said 60 minutes a week" in page
    assert "Your setup from above" in page


def test_drills_stand_with_numbered_steps_pass_mark_and_caution(student):
    cast.whole_story(student)
    response = cast.holder_of(student).get("/me/")
    steps = re.search(r'<ol class="steps">(.*?)</ol>', response.content.decode(), re.S).group(1)
    assert re.findall(r"<li>(.*?)</li>", steps) == ["Pick a target.", "Lay a stick.", "Check the ball."]
    page = text_of(response)
    assert "Passed when 10 setups within 2°" in page
    assert "Stick never in front of the swing" in page


def test_first_ten_stand_beside_those_of_the_visit_before(student):
    cast.whole_story(student)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert re.search(r"3\.0° in-to-out \(6 balls\).*5\.8° in-to-out \(6 balls\)", page)


def test_with_and_without_aids_stand_as_they_are_and_four_balls_get_no_mean(student):
    cast.whole_story(student)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert re.search(r"With sticks or other help 2\.0° in-to-out \(5 balls\) With nothing 4 balls logged", page)


@pytest.mark.parametrize(("hand", "side"), [("right", "right"), ("left", "left")])
def test_the_slice_side_is_named_as_the_student_sees_it(student, hand, side):
    student.hand = hand
    student.save()
    lesson = factories.make_lesson(student=student, days_ago=2, status=Lesson.Status.FINISHED)
    block = factories.make_block(lesson=lesson, purpose="first_ten")
    factories.add_balls(block=block, side_m=[9.0, 10.0, 11.0, 9.5, 10.5])
    assert f"yd {side}" in text_of(cast.holder_of(student).get("/me/"))


def test_blocks_called_by_eye_are_not_set_against_measured_ones(student):
    lesson = cast.visit(student=student, days_ago=3)
    aided = factories.make_block(lesson=lesson, purpose="with_aid", aids=["sticks"])
    factories.add_balls(block=aided, club_path_deg=[2.0, 2.1, 1.9, 2.2, 1.8])
    measured = factories.make_block(lesson=lesson, purpose="no_aid")
    factories.add_balls(block=measured, club_path_deg=[5.4, 5.5, 5.3, 5.6, 5.2])
    called = factories.make_block(lesson=lesson, purpose="no_aid")
    for _ in range(6):
        factories.add_call(block=called, called_start=0, called_curve=0, contact="clean")
    page = text_of(cast.holder_of(student).get("/me/"))
    assert re.search(r"other help 2\.0° in-to-out \(5 balls\) With nothing 5\.4° in-to-out \(5 balls\)", page)


def test_nobody_is_shown_the_setup_that_was_found_wanting_as_one_to_copy(student):
    lesson = cast.visit(student=student, days_ago=3)
    for checkpoint, value in (("feet_deg", 7.0), ("hips_deg", 2.0)):
        SetupObservation.objects.create(
            lesson=lesson, category="driver", checkpoint=checkpoint, value=value, phase="before")
    page = text_of(cast.holder_of(student).get("/me/"))
    assert "7° closed" in page and "as it was in the lesson" in page and "to copy" not in page
    cast.change(lesson=lesson, change="Feet line", value_from=7.0, value_to=5.0)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert "5° closed" in page and "7° closed" not in page and "with the one thing as it should be" in page
    cast.setup(lesson=lesson, feet_deg=4.0)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert "4° closed" in page and "Your setup from above, to copy" in page


def test_the_picture_is_drawn_for_the_students_hand(student):
    student.hand = "left"
    student.save()
    cast.whole_story(student)
    assert 'data-hand="left"' in cast.holder_of(student).get("/me/").content.decode()


READ_BY_HOLDERS = ("/me/", "/me/pictures/", "/me/concern/", "/me/consents/")


def test_nothing_leaks_that_is_not_on_the_list(student, other_coach):
    """Every text column of every table gets a word of its own; only the listed columns' words may be read."""
    make_world(student=student, other_coach=other_coach)
    LibraryEntry.objects.all().delete()  # half an entry, made for another test; the shipped library is read instead
    last, assignment = cast.whole_story(student)
    Finding.objects.create(lesson=last, pattern="over_draw", title="t", state="hint")
    HealthFlag.objects.create(student=student, area="hip", severity=5, text="t", reported_at=timezone.now())
    PracticeEntry.objects.create(
        student=student, assignment=assignment, key=uuid.uuid4(), practised_at=timezone.now(), pain=1, minutes=9)
    StudentMessage.objects.create(student=student, key=uuid.uuid4(), kind="question", text="t", sent_at=timezone.now())
    Concern.objects.create(student=student, key=uuid.uuid4(), text="t", outcome="t", sent_at=timezone.now())
    stranger = factories.make_student(coach=other_coach, name="Somebody Else")
    cast.whole_story(stranger)
    client = cast.holder_of(student)
    words = plant_words(student)
    pages = [client.get(address).content.decode() for address in READ_BY_HOLDERS]
    pages.append(client.get(f"/me/drills/{assignment.code}/").content.decode())
    read = {place for word, place in words.items() if any(word in page for page in pages)}
    assert read <= allowed_places(), read - allowed_places()
    assert {("lessons.prescription", "cue"), ("lessons.lesson", "student_note")} <= read
    assert ("lessons.studentmessage", "text") in read


def plant_words(student) -> dict[str, tuple[str, str]]:
    """Write a unique word into every free text column of both rooms; the student's own name stays."""
    words = {}
    for model in [*apps.get_app_config("academy").get_models(), *apps.get_app_config("lessons").get_models()]:
        if model._meta.label_lower == "academy.session":
            continue  # a word in it would only sign the reader out
        for field in model._meta.concrete_fields:
            free = isinstance(field, (models.CharField, models.TextField)) and not field.choices and not field.unique
            if not free or field.name in LEFT_ALONE or (field.max_length or 99) < 12:
                continue
            for row in model._default_manager.all():
                word = f"w{len(words):04d}z"
                model._default_manager.filter(pk=row.pk).update(**{field.name: word})
                own = _reaches(row, student)
                words[word] = (model._meta.label_lower, field.name) if own else (model._meta.label_lower, "stranger's")
    return words


LEFT_ALONE = {"timezone", "language", "password", "digest", "session_key", "category", "purpose", "checkpoint",
              "summary_version"}
HOUSE = {("academy.academy", name) for name in ("name", "emergency_number", "defibrillator_place")}


def _reaches(row, student) -> bool:
    for path in ("student_id", "lesson.student_id", "block.lesson.student_id"):
        value = row
        for step in path.split("."):
            value = getattr(value, step, None)
        if value is not None:
            return value == student.pk
    return row == student or row._meta.label_lower in {"academy.academy", "academy.coach", "academy.guardian"}


def allowed_places() -> set[tuple[str, str]]:
    tables = {
        "student": "academy.student", "lesson": "lessons.lesson", "prescription": "lessons.prescription",
        "drill": "lessons.drillassignment", "block": "lessons.block", "setup": "lessons.setupobservation",
        "practice": "lessons.practiceentry", "plan": "lessons.plan", "message": "lessons.studentmessage",
        "goal": "academy.goal",
    }
    places = {(tables[kind], column) for kind, columns in SHOWN.items() for column in columns}
    # The page of consents names who gave each one.
    return places | HOUSE | {
        ("academy.coach", "first_name"), ("academy.coach", "last_name"), ("academy.consent", "given_by_name")}


def test_the_list_itself_holds_no_note_and_no_health():
    columns = {column for names in SHOWN.values() for column in names}
    assert not columns & {"notes", "private_note", "pain", "severity", "area", "evidence", "belief", "pk", "id"}


def test_a_drills_card_shows_its_listed_parts_only(student):
    cast.drill(student=student, card={**cast.CARD, "coach_remark": "hasslefree"})
    assert "hasslefree" not in cast.holder_of(student).get("/me/").content.decode()


def test_no_row_number_stands_on_the_page(student):
    """Rows get numbers that cannot be there by chance."""
    last, _ = cast.whole_story(student)
    far = Lesson(pk=87654321, student=student, coach=student.coach, starts_at=timezone.now() - timedelta(days=1),
                 status=Lesson.Status.FINISHED, goal="aim")
    far.save()
    StudentMessage.objects.create(
        pk=76543210, student=student, key=uuid.uuid4(), kind="question", text="when?", sent_at=timezone.now())
    page = cast.holder_of(student).get("/me/").content.decode()
    assert "when?" in page
    assert "87654321" not in page and "76543210" not in page


def test_reading_it_marks_the_follow_up_as_opened_but_a_coachs_look_does_not(student, coach, client):
    last, _ = cast.whole_story(student)
    sent = FollowUp.objects.create(lesson=last, channel="link", sent_at=timezone.now() - timedelta(hours=2))
    client.force_login(coach)
    cast.holder_of(student, client).get("/me/")
    sent.refresh_from_db()
    assert sent.opened_at is None
    cast.holder_of(student).get("/me/")
    sent.refresh_from_db()
    assert sent.opened_at is not None


def test_the_number_of_queries_does_not_grow_with_the_visits(student, django_assert_max_num_queries):
    for days in (3, 9, 15, 21, 27, 33, 39, 45, 51, 57):
        lesson = cast.visit(student=student, days_ago=days)
        cast.change(lesson=lesson)
        cast.drill(student=student, lesson=lesson)
    plan_for(student)
    client = cast.holder_of(student)
    client.get("/me/")
    with django_assert_max_num_queries(29):
        client.get("/me/")


def test_a_page_without_any_lesson_still_opens(student):
    assert "Your first lesson comes first" in text_of(cast.holder_of(student).get("/me/"))


def test_a_young_child_gets_no_degrees(student):
    student.born_on = timezone.localdate() - timedelta(days=9 * 366)
    student.save()
    cast.whole_story(student)
    page = text_of(cast.holder_of(student, guardian=cast.guardian_of(student)).get("/me/"))
    assert "toes on the railway line" in page
    assert "first ten" not in page


def test_a_thing_that_does_not_show_from_above_is_said_beside_the_picture(student):
    lesson = cast.visit(student=student, days_ago=3)
    SetupObservation.objects.create(lesson=lesson, category="driver", checkpoint="feet_deg", value=7.0, phase="before")
    cast.change(lesson=lesson, checkpoint="hand_thigh_cm", change="Hands", value_from=22.0, value_to=15.0)
    page = text_of(cast.holder_of(student).get("/me/"))
    assert "The one thing does not show from above." in page and "do not copy it" in page
