"""The stop “agree”: drills that fit, a note built from the taps, and a finish that always ends well."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from academy import share
from academy.models import Guardian, Guardianship, HealthFlag, ShareLink
from lessons.library import stored_library
from lessons.models import DrillAssignment, Finding, FollowUp, Lesson, Standing
from tests import factories
from tests.lessons.private import cast

from .hour import data_of, draw_lesson, note_setup, stop

HTMX = {"HX-Request": "true"}


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def give(client, lesson, slug="two-stick-station"):
    return client.post(reverse("lessons:drill_give", args=[lesson.code]), {"drill": slug})


def finish(client, lesson, **values):
    day = timezone.localdate() + timedelta(days=14)
    whole = {"key": uuid.uuid4(), "next_day": day.isoformat(), "next_measure": "Ten drivers, no aids",
             "student_note": "Feet first.", "private_note": "nervous today", "link": "on", **values}
    return client.post(reverse("lessons:finish", args=[lesson.code]), whole)


def sore(student, **values):
    return HealthFlag.objects.create(student=student, area="low_back", reported_at=timezone.now(), **values)


def offered(client, lesson, **filters) -> list[str]:
    answer = client.get(reverse("lessons:drills", args=[lesson.code]), filters, headers=HTMX)
    return [drill.slug for drill in answer.context["data"]["offers"] + answer.context["data"]["more"]]


def test_the_finding_s_drills_come_first(as_coach, lesson):
    named = stored_library().patterns["over_draw"].drills
    assert offered(as_coach, lesson)[:len(named)] == list(named)


def test_the_list_fits_place_kit_and_minutes(as_coach, lesson):
    drills = stored_library().drills
    found = [drills[slug] for slug in offered(as_coach, lesson, place="home", kit="none", minutes="10")]
    assert found and all("home" in d.places and not d.kit and d.minutes <= 10 for d in found)


def test_a_filter_that_does_not_exist_is_ignored(as_coach, lesson):
    assert offered(as_coach, lesson, place="moon", minutes="99") == offered(as_coach, lesson)


def test_a_sore_back_keeps_its_drills_out_and_says_how_many(as_coach, lesson, student):
    before = offered(as_coach, lesson)
    sore(student, severity=2)
    after = offered(as_coach, lesson)
    assert "over-the-marker" in before and "over-the-marker" not in after
    assert "drills left out" in stop(as_coach, lesson, "agree")


def test_pain_that_stops_the_long_game_leaves_what_needs_no_full_swing(as_coach, lesson, student):
    sore(student, severity=6)
    drills = stored_library().drills
    found = [drills[slug] for slug in offered(as_coach, lesson)]
    assert "putting-gate" in [drill.slug for drill in found] and all(drill.gentle for drill in found)


def test_a_drill_is_given_once_with_its_dose_and_can_be_taken_back(as_coach, lesson):
    give(as_coach, lesson)
    give(as_coach, lesson)
    given = DrillAssignment.objects.get()
    assert given.dose == "10 to 20 balls, then fade the sticks" and given.card["steps"]
    url = reverse("lessons:drill_dose", args=[lesson.code, given.code])
    as_coach.post(url, {"dose": "5 balls", "minutes_week": "20"})
    given.refresh_from_db()
    assert (given.dose, given.minutes_week) == ("5 balls", 20)
    as_coach.post(reverse("lessons:drill_back", args=[lesson.code, given.code]))
    assert data_of(as_coach, lesson, "agree")["given"] == []


def test_a_drill_given_again_at_a_later_visit_ends_the_earlier_one_and_taking_it_back_lets_that_run_on(
    as_coach, lesson, student
):
    earlier = cast.drill(student=student, lesson=cast.visit(student=student, days_ago=14))
    give(as_coach, lesson, earlier.drill)
    earlier.refresh_from_db()
    assert earlier.ends_on == timezone.localdate()
    page = as_coach.get(f"/students/{student.code}/").content.decode()
    assert page.count("<li>Two-stick station") == 1 and "given 2 times" in page
    again = lesson.assignments.get()
    as_coach.post(reverse("lessons:drill_back", args=[lesson.code, again.code]))
    earlier.refresh_from_db()
    assert earlier.ends_on is None


def test_a_dose_that_cannot_be_is_refused_and_named(as_coach, lesson):
    give(as_coach, lesson)
    url = reverse("lessons:drill_dose", args=[lesson.code, DrillAssignment.objects.get().code])
    refused = as_coach.post(url, {"dose": "5", "minutes_week": "lots"}, headers=HTMX)
    assert refused.status_code == 422 and "Two-stick station: Enter a whole number" in refused.content.decode()


def test_a_drill_that_is_not_in_the_library_is_refused(as_coach, lesson):
    assert give(as_coach, lesson, "moon-walk").status_code == 422 and not DrillAssignment.objects.exists()


@pytest.mark.parametrize(("hand", "side"), [("right", "left"), ("left", "right")])
def test_the_card_is_given_in_the_words_of_the_student_s_hand(as_coach, coach, hand, side):
    student = factories.make_student(coach=coach, name="Kit", hand=hand)
    lesson = draw_lesson(student=student)
    give(as_coach, lesson, "inside-soft-barrier")
    card = str(DrillAssignment.objects.get().card)
    assert "{" + "slice_side}" not in card and "{" + "hook_side}" not in card and side in card


def test_the_note_is_built_from_the_taps_and_knows_nothing_of_health(as_coach, lesson, student):
    sore(student, severity=2, text="slipped disc")
    note_setup(as_coach, lesson, feet_deg="7")
    url = reverse("lessons:finding_decide", args=[lesson.code])
    as_coach.post(url, {"pattern": "over_draw", "decision": "confirmed"})
    change = {"change": "Feet line: from 7° closed to 4° closed", "cue": "belt at the flag"}
    as_coach.post(reverse("lessons:change", args=[lesson.code]), {**change, "stop_sign": "Ball starts left"})
    note = data_of(as_coach, lesson, "agree")["note"]
    assert "10 balls with the driver" in note and "“belt at the flag”" in note
    assert "The one thing to change: feet line: from 7° closed to 4° closed." in note
    assert "gone too far when: ball starts left" in note
    assert "low back" not in note.lower() and "disc" not in note


def test_finishing_closes_the_lesson_and_shows_a_link_that_works(as_coach, client, lesson):
    page = finish(as_coach, lesson)
    lesson.refresh_from_db()
    assert (lesson.status, lesson.student_note) == ("finished", "Feet first.")
    assert lesson.next_measure == "Ten drivers, no aids"
    assert lesson.next_date == timezone.localdate() + timedelta(days=14)
    assert share.find_link(token=page.context["done"].token).student == lesson.student
    text = page.content.decode()
    assert "<svg" in text and page.context["address"] in text and " style=" not in text
    assert FollowUp.objects.get().text == "Feet first." and "/p/" not in FollowUp.objects.get().text
    assert Standing.objects.get(student=lesson.student).visits == 1


def test_the_link_is_nowhere_in_the_database(as_coach, lesson):
    token = finish(as_coach, lesson).context["done"].token
    assert not ShareLink.objects.filter(digest__contains=token[8:20]).exists()
    assert token not in str(list(FollowUp.objects.values())) + str(list(Lesson.objects.values()))


def test_a_double_click_keeps_one_note_and_one_link_that_works(as_coach, lesson):
    key = uuid.uuid4()
    first = finish(as_coach, lesson, key=key).context["done"].token
    second = finish(as_coach, lesson, key=key).context["done"].token
    assert FollowUp.objects.count() == 1
    assert share.find_link(token=first) is None and share.find_link(token=second)


def test_findings_that_were_shown_and_not_decided_are_kept_for_the_next_visit(as_coach, lesson):
    finish(as_coach, lesson)
    kept = Finding.objects.get()
    assert (kept.pattern, kept.decision) == ("over_draw", "") and kept.evidence["explain"]


def test_a_date_before_the_lesson_is_refused_and_the_note_stays(as_coach, lesson):
    refused = finish(as_coach, lesson, other_day="2020-01-01", student_note="Feet first, quietly.")
    text = refused.content.decode()
    assert refused.status_code == 422 and "expected a day after" in text and "Feet first, quietly." in text
    lesson.refresh_from_db()
    assert lesson.status == "running" and not ShareLink.objects.exists()


def test_no_date_and_no_link_are_answers_too(as_coach, lesson):
    page = finish(as_coach, lesson, next_day="", link="")
    lesson.refresh_from_db()
    assert lesson.next_date is None and lesson.status == "finished" and not ShareLink.objects.exists()
    assert page.context["address"] == ""


def junior(coach):
    born = timezone.localdate() - timedelta(days=11 * 366)
    return factories.make_student(coach=coach, name="Ilya Brand", born_on=born)


def test_a_junior_s_link_goes_to_the_guardian(as_coach, coach):
    student = junior(coach)
    guardian = Guardian.objects.create(name="Ada Brand")
    Guardianship.objects.create(student=student, guardian=guardian)
    lesson = draw_lesson(student=student)
    assert "the link goes to" in stop(as_coach, lesson, "agree")
    page = finish(as_coach, lesson, guardian=guardian.code)
    assert page.context["done"].link.guardian == guardian and "Hello Ada Brand" in page.content.decode()


def test_a_junior_without_a_guardian_is_finished_without_a_link(as_coach, coach):
    lesson = draw_lesson(student=junior(coach))
    page = finish(as_coach, lesson)
    lesson.refresh_from_db()
    assert lesson.status == "finished" and not ShareLink.objects.exists()
    assert "the link goes to a guardian" in page.content.decode()


def test_the_notes_are_kept_while_the_lesson_goes_on_and_only_the_one_that_was_sent(as_coach, lesson):
    url = reverse("lessons:notes", args=[lesson.code])
    assert as_coach.post(url, {"student_note": "Feet"}, headers=HTMX).status_code == 204
    assert as_coach.post(url, {"private_note": "shy"}, headers=HTMX).status_code == 204
    lesson.refresh_from_db()
    assert (lesson.student_note, lesson.private_note) == ("Feet", "shy")


def test_the_note_on_paper_has_the_drill_and_never_the_private_note_or_health(as_coach, lesson, student):
    sore(student, severity=2, text="slipped disc")
    note_setup(as_coach, lesson, feet_deg="7")
    give(as_coach, lesson)
    finish(as_coach, lesson, private_note="thinks of giving up")
    text = as_coach.get(reverse("lessons:note", args=[lesson.code])).content.decode()
    assert "Two-stick station" in text and "Feet first." in text and 'id="note-plan"' in text
    assert "giving up" not in text and "disc" not in text and "Low back" not in text and "sore" not in text


def test_another_coach_gets_nothing(client, other_coach, lesson):
    client.force_login(other_coach)
    assert finish(client, lesson).status_code == 404 and give(client, lesson).status_code == 404
    assert client.get(reverse("lessons:note", args=[lesson.code])).status_code == 404
