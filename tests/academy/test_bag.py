"""Goals, wanted flights and clubs of a student."""

from datetime import date

import pytest
from django.utils import timezone

from academy.models import Club, Goal, Intent
from tests import factories


@pytest.fixture
def bag(student):
    return f"/students/{student.code}/bag/"


def test_a_wanted_flight_is_stored_once_a_kind_of_club(as_coach, student, bag):
    as_coach.post(f"{bag}flight/", {"category": "driver", "shape": "draw"})
    as_coach.post(f"{bag}flight/", {"category": "driver", "shape": "fade"})
    assert Intent.objects.get(student=student).shape == "fade"
    assert "fade" in as_coach.get(bag).content.decode()


def test_a_goal_is_added_and_closed_and_stays_in_the_record(as_coach, student, bag):
    as_coach.post(f"{bag}goal/", {"text": "Aim the face first", "kind": "process"})
    goal = Goal.objects.get(student=student)
    as_coach.post(f"{bag}goal/end/", {"which": str(goal.code)})
    goal.refresh_from_db()
    assert goal.ended_on == timezone.localdate()
    assert "Aim the face first" not in as_coach.get(bag).content.decode()


PATH = {"measure": "ball:club_path_deg", "category": "driver"}


@pytest.mark.parametrize(("values", "said"), [
    ({**PATH, "lower": "5", "upper": "2"}, "2 lies below 5"),
    ({"upper": "2"}, "Say which number the limits are for."),
    ({"text": ""}, "This field is required"),
    ({"measure": "ball:club_path_deg"}, "Say with which kind of club"),
    ({**PATH, "upper": "200"}, "200° cannot be"),
    ({**PATH, "upper": "two"}, "Enter a number"),
    ({"measure": "test:putt_make"}, "Say at least or at most"),
    ({"measure": "test:putt_make", "lower": "120"}, "120 % cannot be"),
    ({"measure": "ball:nonsense"}, "not one of the available choices"),
])
def test_a_goal_that_cannot_be_judged_is_refused_with_the_reason(as_coach, bag, values, said):
    response = as_coach.post(f"{bag}goal/", {"text": "Path", "kind": "performance", **values})
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Goal.objects.exists()


def test_a_measurable_goal_names_its_number_club_flight_window_test_and_date(as_coach, student, bag):
    club = Club.objects.create(student=student, name="Driver 10.5", category="driver")
    as_coach.post(f"{bag}goal/", {
        "text": "Path nearer to the window", "kind": "performance", "by_date": "2027-03-01", "club": str(club.code),
        "measure": "ball:club_path_deg", "intent": "draw", "lower": "\u22121,5", "upper": "2"})
    goal = Goal.objects.get()
    assert (goal.quantity, goal.test, goal.club, goal.category) == ("club_path_deg", "first_ten", club, "driver")
    assert (goal.intent, goal.lower, goal.upper, goal.by_date) == ("draw", -1.5, 2.0, date(2027, 3, 1))


@pytest.mark.parametrize(("system", "stored"), [("yards", 182.88), ("metres", 200.0)])
def test_a_limit_is_typed_in_the_coachs_units(as_coach, academy, bag, system, stored):
    academy.units = system
    academy.save()
    as_coach.post(f"{bag}goal/", {
        "text": "Carry it over the water", "kind": "performance", "category": "driver", "measure": "ball:carry_m",
        "lower": "200"})
    assert Goal.objects.get().lower == pytest.approx(stored)


def test_a_club_of_somebody_else_is_no_choice(as_coach, coach, bag):
    club = Club.objects.create(student=factories.make_student(coach=coach), name="Driver", category="driver")
    response = as_coach.post(f"{bag}goal/", {"text": "Path", "kind": "process", **PATH, "club": str(club.code)})
    assert response.status_code == 422 and not Goal.objects.exists()


def test_a_club_leaves_the_bag_by_its_date_and_is_not_deleted(as_coach, student, bag):
    as_coach.post(f"{bag}club/", {"name": "Old driver", "category": "driver", "loft_deg": "10.5"})
    club = Club.objects.get(student=student)
    as_coach.post(f"{bag}club/end/", {"which": str(club.code)})
    club.refresh_from_db()
    assert club.to_date == timezone.localdate()
    assert "Old driver" not in as_coach.get(bag).content.decode()


def test_a_club_bought_tomorrow_can_leave_today_without_breaking_its_dates(as_coach, student, bag):
    club = Club.objects.create(student=student, name="New driver", category="driver", from_date=date(2999, 1, 1))
    as_coach.post(f"{bag}club/end/", {"which": str(club.code)})
    club.refresh_from_db()
    assert club.to_date == date(2999, 1, 1)


@pytest.mark.parametrize("which", ["", "nonsense", "00000000-0000-4000-8000-000000000000"])
def test_a_row_that_is_not_there_changes_nothing(as_coach, bag, which):
    assert as_coach.post(f"{bag}club/end/", {"which": which}).status_code == 302
    assert as_coach.post(f"{bag}goal/end/", {"which": which}).status_code == 302
