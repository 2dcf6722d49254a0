"""The plan of one lesson: edited by hand, opened beside the running order, held against what was done."""

import pytest
from django.utils import timezone

from lessons.models import Lesson, Plan
from lessons.queries.plans.hour import done_of, strip_of
from tests import factories


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, status=Lesson.Status.PLANNED)


def form_of(client, lesson, **changes) -> dict:
    """Return what the page would send if nothing but ``changes`` were touched."""
    body = client.get(f"/lessons/{lesson.code}/plan/").context["body"]
    data = {"minutes": body["minutes"], "goal": body["goal"], "order": [item["key"] for item in body["items"]]}
    for item in body["items"]:
        data |= {f"minutes-{item['key']}": item["minutes"], f"text-{item['key']}": item["text"]}
    return {**data, **changes}


def keep(client, lesson, **changes):
    return client.post(f"/lessons/{lesson.code}/plan/", form_of(client, lesson, **changes))


@pytest.mark.parametrize("minutes", [30, 45, 60])
def test_a_proposal_is_made_for_the_length_that_is_asked_for(as_coach, lesson, minutes):
    body = as_coach.get(f"/lessons/{lesson.code}/plan/", {"minutes": minutes, "fresh": "1"}).context["body"]
    assert sum(item["minutes"] for item in body["items"]) == minutes
    assert not Plan.objects.exists()


def test_an_edited_plan_is_kept_with_its_order_minutes_and_words(as_coach, lesson):
    order = form_of(as_coach, lesson)["order"]
    changed = [order[1], order[0], *order[2:]]
    keep(as_coach, lesson, order=changed, **{"minutes-look": "2", "text-look": "Ball position only."})
    items = Plan.objects.get().body["items"]
    assert [item["key"] for item in items] == changed
    assert next(item for item in items if item["key"] == "look")["text"] == "Ball position only."


def test_the_parts_never_add_up_to_more_than_was_promised(as_coach, lesson):
    response = keep(as_coach, lesson, **{"minutes-look": "30"})
    assert response.status_code == 422
    assert "The parts add up to 86 minutes; 60 were promised." in response.content.decode()
    assert not Plan.objects.exists()


@pytest.mark.parametrize("typed", ["ten", "-5", "999", "1.5"])
def test_minutes_that_are_none_are_refused_by_the_name_of_the_part(as_coach, lesson, typed):
    response = keep(as_coach, lesson, **{"minutes-look": typed})
    assert response.status_code == 422 and f"“{typed}” minutes was found" in response.content.decode()


def test_a_part_with_no_minutes_is_out(as_coach, lesson):
    keep(as_coach, lesson, **{"minutes-look": "0"})
    assert "look" not in {item["key"] for item in Plan.objects.get().body["items"]}


def test_a_part_is_moved_by_a_plain_button_and_nothing_is_kept_yet(as_coach, lesson):
    response = keep(as_coach, lesson, move="first_ten:up")
    assert [item["key"] for item in response.context["body"]["items"]][:2] == ["first_ten", "greet"]
    assert not Plan.objects.exists()


def test_a_change_of_plan_is_a_new_version_with_its_reason(as_coach, lesson):
    keep(as_coach, lesson)
    keep(as_coach, lesson, reason="She is tired", **{"minutes-transfer": "5"})
    assert [plan.version for plan in Plan.objects.order_by("version")] == [1, 2]
    page = as_coach.get(f"/lessons/{lesson.code}/plan/").content.decode()
    assert "She is tired" in page and "Version 1" in page


def test_the_desk_shows_the_plan_with_the_clock_and_the_moment_of_the_transfer(as_coach, lesson):
    keep(as_coach, lesson)
    as_coach.post(f"/lessons/{lesson.code}/start/")
    lesson.refresh_from_db()
    strip = strip_of(lesson)
    assert (strip["nudge_at"] - lesson.started_at).total_seconds() == 43 * 60
    assert "data-nudge-at" in as_coach.get(f"/lessons/{lesson.code}/").content.decode()


def test_a_lesson_without_a_plan_shows_no_strip(as_coach, lesson):
    as_coach.post(f"/lessons/{lesson.code}/start/")
    assert "hour-strip" not in as_coach.get(f"/lessons/{lesson.code}/").content.decode()


def tick(client, lesson, part, **more):
    return client.post(f"/lessons/{lesson.code}/plan/done/", {"part": part, **more})


def test_a_part_is_ticked_at_the_range_and_the_next_one_is_on(as_coach, lesson):
    keep(as_coach, lesson)
    as_coach.post(f"/lessons/{lesson.code}/start/")
    lesson.refresh_from_db()
    assert strip_of(lesson)["now"]["key"] == "greet"
    assert tick(as_coach, lesson, "greet")["Location"] == f"/lessons/{lesson.code}/"
    assert strip_of(lesson)["now"]["key"] == "first_ten" and strip_of(lesson)["done"] == 1
    first = Plan.objects.get().ticked["greet"]
    tick(as_coach, lesson, "greet")
    assert Plan.objects.get().ticked["greet"] == first, "sent twice: the first moment counts"
    tick(as_coach, lesson, "greet", done="no")
    assert strip_of(lesson)["now"]["key"] == "greet"


def test_a_tick_is_taken_back_by_the_undo_of_the_lesson(as_coach, lesson):
    keep(as_coach, lesson)
    as_coach.post(f"/lessons/{lesson.code}/start/")
    tick(as_coach, lesson, "greet")
    as_coach.post(f"/lessons/{lesson.code}/undo/")
    assert Plan.objects.get().ticked == {}


def test_a_stop_that_is_done_takes_its_part_along(as_coach, lesson):
    keep(as_coach, lesson)
    lesson.status, lesson.started_at, lesson.done_stops = Lesson.Status.RUNNING, timezone.now(), ["greet"]
    lesson.save()
    assert strip_of(lesson)["now"]["key"] == "first_ten"


def test_once_the_transfer_is_ticked_nobody_is_nudged_to_it(as_coach, lesson):
    keep(as_coach, lesson)
    as_coach.post(f"/lessons/{lesson.code}/start/")
    tick(as_coach, lesson, "transfer")
    lesson.refresh_from_db()
    assert strip_of(lesson)["nudge_at"] is None


def test_ticks_stay_when_the_plan_is_changed_in_the_middle(as_coach, lesson):
    keep(as_coach, lesson)
    as_coach.post(f"/lessons/{lesson.code}/start/")
    tick(as_coach, lesson, "greet")
    keep(as_coach, lesson, reason="Rain", **{"minutes-transfer": "5"})
    assert "greet" in Plan.objects.get(version=2).ticked
    assert "done at" in as_coach.get(f"/lessons/{lesson.code}/plan/").content.decode()


@pytest.mark.parametrize("part", ["", "lunch"])
def test_a_part_that_is_not_in_the_plan_changes_nothing(as_coach, lesson, part):
    assert tick(as_coach, lesson, part).status_code == 302
    keep(as_coach, lesson)
    tick(as_coach, lesson, part)
    assert Plan.objects.get().ticked == {}


def test_two_lines_of_reflection_are_kept_with_the_lesson_and_read_before_the_next(as_coach, student, lesson):
    before = factories.make_lesson(student=student, days_ago=14, status=Lesson.Status.RUNNING)
    as_coach.post(f"/lessons/{before.code}/notes/", {"reflection_good": "Silence before the first ten"})
    as_coach.post(f"/lessons/{before.code}/finish/", {
        "key": "4b1d0a52-5f0a-4e8c-9a39-111111111111", "reflection_other": "Fewer words", "student_note": "n"})
    before.refresh_from_db()
    assert (before.reflection_good, before.reflection_other) == ("Silence before the first ten", "Fewer words")
    page = as_coach.get(f"/lessons/{lesson.code}/plan/").content.decode()
    assert "Silence before the first ten" in page and "Fewer words" in page
    assert "Fewer words" in as_coach.get("/").content.decode(), "and in the brief of today"


def test_what_was_done_stands_beside_what_was_planned(as_coach, lesson):
    keep(as_coach, lesson)
    lesson.status, lesson.started_at = Lesson.Status.RUNNING, timezone.now()
    lesson.done_stops = ["greet"]
    lesson.save()
    block = factories.make_block(lesson=lesson, purpose="first_ten")
    factories.add_balls(block=block, club_path_deg=[1.0] * 7)
    rows = {row["key"]: row for row in done_of(lesson=lesson, plan=Plan.objects.get())}
    assert rows["first_ten"]["balls"] == 7 and rows["first_ten"]["done"]
    assert rows["greet"]["done"] and not rows["transfer"]["done"]
    assert "not seen" in as_coach.get(f"/lessons/{lesson.code}/plan/").content.decode()


def test_another_coach_who_gives_one_lesson_sees_no_plan(client, other_coach, lesson):
    lesson.coach = other_coach
    lesson.save()
    client.force_login(other_coach)
    assert client.get(f"/lessons/{lesson.code}/plan/").status_code == 404
