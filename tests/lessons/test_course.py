"""An on-course lesson: each shot with its decision, and what the decisions were worth."""

import uuid

import pytest
from django.utils import timezone

from academy.models import HealthFlag
from lessons.models import CourseShot
from lessons.queries.course import summary_of
from lessons.services.course import add_course_shot, undo_course_shot
from metrics.intervals import wilson_interval
from tests import factories
from tests.browser import PHONE, sign_in, watch

SHOT = {"hole": "1", "lie": "tee", "club": "Driver", "committed": "yes", "result": "as_meant"}


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, kind="course")


def post(client, lesson, **values):
    return client.post(f"/lessons/{lesson.code}/course/shot/", {**SHOT, "key": str(uuid.uuid4()), **values})


def made(**values) -> CourseShot:
    whole = {"hole": 1, "lie": "tee", "club": "Driver", "committed": True, "result": "as_meant"}
    return CourseShot(**{**whole, **values})


def test_a_shot_is_stored_with_its_decision_and_counted_within_its_hole(as_coach, lesson):
    post(as_coach, lesson, club_advised="3 wood", aim="Left edge of the bunker", committed="no", half_a_shot="on")
    post(as_coach, lesson, lie="rough", club="7 iron")
    first, second = lesson.course_shots.all()
    assert (first.number, second.number) == (1, 2)
    assert (first.club_advised, first.committed, first.half_a_shot) == ("3 wood", False, True)
    page = as_coach.get(f"/lessons/{lesson.code}/course/").content.decode()
    assert "advised 3 wood" in page and "at Left edge of the bunker" in page and "not committed" in page


def test_the_same_shot_sent_twice_is_one(coach, lesson):
    key = uuid.uuid4()
    for _ in range(2):
        add_course_shot(by=coach, lesson=lesson, key=key, hole=3, lie="tee", club="Driver", result="as_meant")
    assert lesson.course_shots.count() == 1


@pytest.mark.parametrize(("values", "said"), [
    ({"hole": "19"}, "less than or equal to 18"), ({"lie": ""}, "This field is required"),
    ({"result": "penalty"}, "Say what the penalty came from."),
    ({"cause": "aim"}, "A cause belongs to a penalty"), ({"club": ""}, "This field is required"),
])
def test_half_a_shot_is_refused_with_what_was_expected(as_coach, lesson, values, said):
    response = post(as_coach, lesson, **values)
    assert response.status_code == 422 and said in response.content.decode()
    assert not lesson.course_shots.exists()


def test_the_next_hole_begins_where_the_coach_says_so(as_coach, lesson):
    assert "hole=1" in post(as_coach, lesson)["Location"]
    assert "hole=2" in post(as_coach, lesson, next="1")["Location"]
    assert "hole=18" in post(as_coach, lesson, hole="18", next="1")["Location"]


def test_the_last_shot_is_taken_back_and_stays_in_the_record(coach, as_coach, lesson):
    post(as_coach, lesson)
    post(as_coach, lesson, club="Wedge")
    undo_course_shot(by=coach, lesson=lesson)
    assert list(lesson.course_shots.filter(removed_at__isnull=True).values_list("club", flat=True)) == ["Driver"]
    assert lesson.course_shots.count() == 2
    post(as_coach, lesson, club="Putter")
    assert lesson.course_shots.get(club="Putter").number == 2


def test_costly_decisions_come_first_with_their_interval_and_where_they_were_made():
    shots = [made(half_a_shot=n < 3, lie="trouble" if n < 3 else "fairway") for n in range(10)]
    lo, hi = wilson_interval(successes=3, trials=10)
    first = summary_of(shots)[0]
    assert f"3 of 10 (30 %, 95 % {100 * lo:.0f} to {100 * hi:.0f} %)" in first
    assert "Most often from: trees or trouble" in first


def test_four_shots_are_counted_and_not_turned_into_a_share():
    assert summary_of([made()] * 4)[0] == "Decisions worth half a shot or more: 0 of 4."


def test_commitment_advice_and_penalties_are_counted_each_for_itself():
    shots = [made(), made(club_advised="driver"), made(club_advised="3 wood", committed=False, result="trouble"),
             made(result="penalty", cause="decision"), made(result="penalty", cause="decision"),
             made(result="penalty", cause="aim")]
    lines = " ".join(summary_of(shots))
    assert "not committed: 0 of 1" in lines
    assert "Another club than advised: 1 of 2." in lines
    assert "Penalties: 3, from risk taken 2, aim 1." in lines


def test_no_shot_makes_no_claim():
    assert summary_of([]) == []


def test_open_pain_is_said_before_the_first_tee(as_coach, lesson, student):
    HealthFlag.objects.create(student=student, area="hip", severity=6, reported_at=timezone.now())
    assert "No long game today" in as_coach.get(f"/lessons/{lesson.code}/course/").content.decode()


@pytest.mark.django_db(transaction=True)
def test_a_hole_is_noted_with_the_thumb(page, live_server, coach, lesson):
    seen = watch(sign_in(page, live_server, coach), live_server)
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}/lessons/{lesson.code}/course/")
    page.locator("label[for=id_lie_0]").click()
    page.get_by_label("Club taken").fill("Driver")
    page.locator("label[for=id_result_1]").click()
    page.get_by_role("button", name="Store, and on to the next hole").click()
    page.get_by_text("Last: hole 1, Driver, playable").wait_for()
    assert page.get_by_label("Hole", exact=True).input_value() == "2"
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    seen.assert_clean()
