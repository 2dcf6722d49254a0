"""Goals, wanted flights and clubs of a student."""

from datetime import date

import pytest
from django.utils import timezone

from academy.models import Club, Goal, Intent


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


@pytest.mark.parametrize(("values", "said"), [
    ({"lower": "5", "upper": "2", "quantity": "club_path_deg"}, "2 lies below 5"),
    ({"upper": "2"}, "Say which number the limits are for."),
    ({"text": ""}, "This field is required"),
])
def test_a_goal_that_cannot_be_judged_is_refused_with_the_reason(as_coach, bag, values, said):
    response = as_coach.post(f"{bag}goal/", {"text": "Path", "kind": "performance", **values})
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Goal.objects.exists()


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
