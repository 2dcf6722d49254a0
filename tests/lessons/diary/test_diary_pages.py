"""The diary's pages: shown by week and day, booked, moved, cancelled, undone, by whom it may be."""

import uuid
from datetime import UTC

import pytest
from django.urls import reverse
from django.utils import timezone

from academy.models import Venue
from lessons.models import Lesson, WorkingHours
from tests import factories

from .hours import at, booked


@pytest.fixture(autouse=True)
def clock(academy):
    with timezone.override("Europe/Dublin"):
        yield


def read(client, **asked):
    return client.get(reverse("lessons:diary"), asked)


def columns(page) -> dict[str, list[str]]:
    return {column.title: [item.title for item in column.items] for column in page.context["columns"]}


def post_booking(client, student, at_text, **values):
    whole = {"key": str(uuid.uuid4()), "student": str(student.code), "starts_at": at_text, "minutes": "60",
             "coach": str(student.coach.code), "kind": "lesson", "times": "1", "every": "1", **values}
    return client.post(reverse("lessons:diary_book"), whole)


def test_a_week_shows_each_lesson_on_its_day_in_order(as_coach, coach, student):
    booked(student, "2030-05-01 14:00")
    booked(factories.make_student(coach=coach, name="Tove Lind"), "2030-05-01 09:00")
    booked(student, "2030-05-04 10:00")
    booked(student, "2030-05-06 10:00")
    found = columns(read(as_coach, day="2030-05-02"))
    assert found["Wed 1 May"] == ["Tove Lind", "Edda Marlow"] and found["Sat 4 May"] == ["Edda Marlow"]
    assert "Mon 6 May" not in found and len(found) == 7


def test_a_lesson_begins_in_the_row_of_its_quarter_hour(as_coach, student):
    booked(student, "2030-05-01 09:30", minutes=45)
    item = next(i for c in read(as_coach, day="2030-05-01").context["columns"] for i in c.items)
    assert (item.row, item.rows) == (7, 3)  # from eight o'clock: six quarters before it


def test_an_early_lesson_widens_the_day(as_coach, student):
    booked(student, "2030-05-01 06:15")
    page = read(as_coach, day="2030-05-01")
    assert page.context["first_hour"] == 6 and page.context["columns"][2].items[0].row == 2


def test_the_day_by_bay_shows_other_coaches_hours_without_their_students(client, coach, other_coach, student):
    place = Venue.objects.create(name="Saltmarsh range")
    booked(student, "2030-05-01 10:00", venue=place, bay="4")
    client.force_login(other_coach)
    page = read(client, day="2030-05-01", view="bays")
    assert columns(page) == {"Saltmarsh range, bay 4": ["Taken"]}
    assert student.name not in page.content.decode()
    assert "Edda" not in str(columns(read(client, day="2030-05-01", view="coaches")))


def test_an_owner_sees_every_coachs_day(client, owner, coach, student):
    booked(student, "2030-05-01 10:00")
    client.force_login(owner)
    assert columns(read(client, day="2030-05-01", view="coaches"))[str(coach)] == ["Edda Marlow"]


def test_the_diary_takes_the_same_queries_for_a_full_week(as_coach, coach, student, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    booked(student, "2030-05-01 10:00")
    with CaptureQueriesContext(connection) as few:
        read(as_coach, day="2030-05-01")
    for hour in range(8, 18):
        booked(factories.make_student(coach=coach, name=f"Student {hour}"), f"2030-05-02 {hour:02}:00")
    with django_assert_num_queries(len(few)):
        read(as_coach, day="2030-05-01")


def test_an_hour_is_booked_once_however_often_it_is_sent(as_coach, student):
    key = str(uuid.uuid4())
    for _ in ("first", "again"):
        answer = post_booking(as_coach, student, "2030-05-01T10:00", key=key)
    assert Lesson.objects.count() == 1 and answer.status_code in (302, 422)


def test_a_clash_is_said_and_booked_only_when_it_is_meant(as_coach, coach, student):
    booked(student, "2030-05-01 10:00")
    friend = factories.make_student(coach=coach, name="Tove Lind")
    answer = post_booking(as_coach, friend, "2030-05-01T10:30")
    assert answer.status_code == 422 and "has Edda Marlow then" in answer.content.decode()
    assert post_booking(as_coach, friend, "2030-05-01T10:30", anyway="on").status_code == 302
    assert friend.lessons.count() == 1


def test_a_clash_in_a_later_week_of_a_series_is_said_with_its_day(as_coach, coach, student):
    friend = factories.make_student(coach=coach, name="Tove Lind")
    booked(friend, "2030-05-15 10:30")
    answer = post_booking(as_coach, student, "2030-05-01T10:00", times="4")
    assert answer.status_code == 422 and not student.lessons.exists()
    assert "15 May: Runa Holm has Tove Lind then, 10:30–11:30." in answer.content.decode()
    assert post_booking(as_coach, student, "2030-05-01T10:00", times="2").status_code == 302


def test_a_series_that_moves_is_not_in_its_own_way_and_says_what_is_in_a_later_week(as_coach, coach, student):
    post_booking(as_coach, student, "2030-05-01T10:00", times="3")
    first = student.lessons.earliest("starts_at")
    assert move(as_coach, first, "2030-05-08T10:00", whole_series="on").status_code == 302
    booked(factories.make_student(coach=coach, name="Tove Lind"), "2030-05-22 12:00")
    first.refresh_from_db()
    answer = move(as_coach, first, "2030-05-08T12:00", whole_series="on")
    assert answer.status_code == 422 and "22 May: Runa Holm has Tove Lind then" in answer.content.decode()


@pytest.mark.parametrize(("day", "hour", "utc"), [
    ("2026-10-24", "10:00", 9), ("2026-10-25", "10:00", 10), ("2026-03-28", "10:00", 10), ("2026-03-29", "10:00", 9),
])
def test_both_days_of_a_clock_change_show_the_clocks_own_hour(as_coach, student, day, hour, utc):
    lesson = booked(student, f"{day} {hour}")
    assert lesson.starts_at.astimezone(UTC).hour == utc
    column = next(one for one in read(as_coach, day=day).context["columns"] if one.items)
    assert f"{timezone.localtime(column.items[0].starts_at):%H:%M}" == hour and column.items[0].row == 9
    assert f"{column.day}" == day


def test_an_hour_every_week_keeps_its_clock_over_the_change(as_coach, student):
    post_booking(as_coach, student, "2026-10-21T17:00", times="2")
    utc = [lesson.starts_at.hour for lesson in Lesson.objects.order_by("starts_at")]
    assert utc == [16, 17]


@pytest.mark.parametrize("moment", ["2026-03-29T01:30", "2026-10-25T01:30"])
def test_an_hour_that_does_not_exist_or_exists_twice_is_asked_back(as_coach, student, moment):
    answer = post_booking(as_coach, student, moment)
    assert answer.status_code == 422 and not Lesson.objects.exists()


def move(client, lesson, text, **values):
    whole = {"starts_at": text, "minutes": "60", "coach": str(lesson.coach.code), "venue": "", "bay": "", **values}
    return client.post(reverse("lessons:booking_move", args=[lesson.code]), whole)


def test_a_lesson_is_moved_and_the_move_taken_back(as_coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    answer = move(as_coach, lesson, "2030-05-02T15:30", bay="7")
    page = as_coach.get(answer["Location"]).content.decode()
    assert "Lesson moved to 2 May, 15:30" in page
    lesson.refresh_from_db()
    assert (lesson.starts_at, lesson.booking.bay) == (at("2030-05-02 15:30"), "7")
    as_coach.post(reverse("lessons:booking_undo", args=[lesson.code]))
    lesson.refresh_from_db()
    assert lesson.starts_at == at("2030-05-01 10:00")


def test_a_whole_series_moves_by_the_same_days_to_the_same_hour(as_coach, student):
    post_booking(as_coach, student, "2026-10-14T17:00", times="3")
    second = Lesson.objects.order_by("starts_at")[1]
    move(as_coach, second, "2026-10-22T18:00", whole_series="on")
    found = [f"{timezone.localtime(one.starts_at):%d %H:%M}" for one in Lesson.objects.order_by("starts_at")]
    assert found == ["14 17:00", "22 18:00", "29 18:00"]


def test_a_lesson_is_cancelled_with_its_reason_and_no_longer_without_one(as_coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    address = reverse("lessons:booking_cancel", args=[lesson.code])
    assert as_coach.post(address, {"reason": ""}).status_code == 422
    as_coach.post(address, {"reason": "ill", "note": "rang at eight"})
    lesson.refresh_from_db()
    assert (lesson.status, lesson.booking.cancel_reason) == ("cancelled", "ill")
    page = as_coach.get(reverse("lessons:booking", args=[lesson.code])).content.decode()
    assert "ill or injured" in page and "rang at eight" in page


def test_who_did_not_come_is_noted_only_once_the_hour_has_begun(as_coach, student):
    lesson = booked(student, "2030-05-01 10:00")
    as_coach.post(reverse("lessons:booking_no_show", args=[lesson.code]))
    lesson.refresh_from_db()
    assert lesson.status == "planned"
    past = booked(student, "2026-01-07 10:00")
    as_coach.post(reverse("lessons:booking_no_show", args=[past.code]))
    past.refresh_from_db()
    assert past.status == "no_show"


def test_the_rest_of_the_day_goes_for_the_weather_and_no_other_day(as_coach, student, time_machine_at_noon):
    lessons = [booked(student, f"2026-05-06 {hour}:00") for hour in ("09", "14", "16")]
    tomorrow = booked(student, "2026-05-07 10:00")
    as_coach.post(reverse("lessons:diary_weather"), {"coach": str(student.coach.code)})
    assert [Lesson.objects.get(pk=one.pk).status for one in [*lessons, tomorrow]] == [
        "planned", "cancelled", "cancelled", "planned"
    ]


@pytest.fixture
def time_machine_at_noon():
    import time_machine

    with time_machine.travel(at("2026-05-06 12:00"), tick=False):
        yield


def test_working_hours_are_stored_and_an_end_before_the_start_is_asked_back(as_coach, coach):
    address = reverse("lessons:diary_hours")
    bad = as_coach.post(address, {"weekday": "2", "opens": "17:00", "closes": "09:00"})
    assert bad.status_code == 422 and "09:00 is not after 17:00" in bad.content.decode()
    as_coach.post(address, {"weekday": "2", "opens": "09:00", "closes": "17:00"})
    row = WorkingHours.objects.get()
    assert (row.coach, row.minutes) == (coach, 480)
    as_coach.post(address, {"out": str(row.code)})
    assert not WorkingHours.objects.exists()
