"""What a strange week leaves behind: the page answers in words, never with an error or a bluff."""

from datetime import timedelta

import pytest
from django.urls import reverse

from academy.models import Venue
from lessons.models import DataSource
from lessons.queries.held import held_for
from metrics.fields import FIELDS
from tests import factories
from tests.lessons.progress.records import balls, block, prescribe, text_of, visit


def test_one_ball_is_one_ball_and_asks_for_more(as_coach, student):
    prescribe(block(visit(student, days_ago=9), columns={"club_path_deg": [5.0]}))
    block(visit(student, days_ago=2), columns={"club_path_deg": [3.0]})
    page = text_of(as_coach, student)
    assert "Not enough balls yet: 1 with club path, 8 needed in one visit. Hit 7 more balls" in page


def test_two_balls_on_each_of_thirty_visits_are_thirty_visits_with_too_few_balls(as_coach, student):
    for day in range(30):
        made = block(visit(student, days_ago=60 - 2 * day), columns={"club_path_deg": [5.0, 4.0]})
        if day == 10:
            prescribe(made)
    page = text_of(as_coach, student)
    assert "2 with club path, 8 needed" in page and page.count("not enough balls yet") == 12
    assert "18 older blocks" in page
    assert text_of(as_coach, student, all="1").count("not enough balls yet") == 30


def test_equal_balls_leave_no_spread_and_no_error(as_coach, student):
    prescribe(block(visit(student, days_ago=9), columns={"club_path_deg": [5.0] * 10}))
    block(visit(student, days_ago=2), columns={"club_path_deg": [3.0] * 10})
    assert "Club path +5.0° before, +3.0° after" in text_of(as_coach, student)


def test_all_mishits_are_counted_and_none_of_them_is_averaged(as_coach, student):
    for days_ago in (9, 2):
        made = block(visit(student, days_ago=days_ago), mean=5.0)
        made.shots.update(is_mishit=True, contact="top")
        if days_ago == 9:
            prescribe(made)
    page = text_of(as_coach, student)
    assert "Not enough balls yet: 0 with club path" in page and "10 of 10" in page


def test_a_column_that_is_missing_at_one_visit_is_a_visit_without_that_number(as_coach, student):
    prescribe(block(visit(student, days_ago=20), mean=5.7))
    block(visit(student, days_ago=9), columns={"launch_direction_deg": balls(2, 1, 10)})
    block(visit(student, days_ago=2), mean=3.0)
    assert "10 balls in 1 visit against 10 balls in 1 visit" in text_of(as_coach, student)


def test_two_lessons_of_one_day_with_different_balls_are_one_visit(as_coach, student):
    prescribe(block(visit(student, days_ago=20), mean=5.7))
    block(visit(student, days_ago=2, ball_type="range"), mean=3.0)
    block(visit(student, days_ago=2 - 0.1, ball_type="premium"), mean=3.2)
    page = text_of(as_coach, student)
    assert "10 balls in 1 visit against 20 balls in 1 visit" in page and "ball type may differ" in page


def test_one_day_at_two_places_compares_with_the_like_one(as_coach, student):
    hall, tee = Venue.objects.create(name="Hall", indoor=True), Venue.objects.create(name="Tee")
    prescribe(block(visit(student, days_ago=20, venue=tee), mean=5.7))
    block(visit(student, days_ago=2, venue=tee), mean=3.0)
    block(visit(student, days_ago=1.9, venue=hall), mean=1.0)
    page = text_of(as_coach, student)
    assert "10 balls in 1 visit against 10 balls in 1 visit" in page
    assert "Left out: another kind of place than at the newest look (indoor, not outdoor)." in page


def test_the_change_and_the_first_ten_on_one_day_wait_for_another_day(as_coach, student):
    prescribe(block(visit(student, days_ago=2), mean=5.7))
    block(visit(student, days_ago=1.9), mean=3.0)
    assert "none after it" in text_of(as_coach, student)


def test_a_device_that_is_not_noted_once_is_named_and_does_not_stop_the_claim(as_coach, student):
    prescribe(block(visit(student, days_ago=20), mean=5.7))
    block(visit(student, days_ago=2, device=DataSource.objects.create(name="Unit")), mean=3.0)
    page = text_of(as_coach, student)
    assert "Likely kept" in page and "The device may differ: not recorded before, Unit after." in page


@pytest.mark.parametrize("category", ["driver", "mid_iron", "chip", "sand", "putter"])
def test_every_number_with_every_kind_of_club_has_a_page(as_coach, student, category):
    """A number without a window and without a better way to go is shown and not judged."""
    columns = {key: balls((field.lower + field.upper) / 2, 0.5, 20) for key, field in FIELDS.items()}
    prescribe(block(visit(student, days_ago=20), columns=columns, category=category))
    block(visit(student, days_ago=2), columns=columns, category=category)
    for key in FIELDS:
        page = text_of(as_coach, student, show=f"{category}:{key}")
        assert "Did it hold?" in page
        if key in ("apex_m", "spin_axis_deg"):
            assert "Not judged" in page


def test_a_period_without_a_visit_before_the_change_says_so(as_coach, student):
    prescribe(block(visit(student, days_ago=20), mean=5.7))
    later = visit(student, days_ago=2)
    block(later, mean=3.0)
    page = text_of(as_coach, student, **{"from": (later.starts_at - timedelta(days=1)).date().isoformat()})
    assert "No visit before the change lies in this period" in page


@pytest.mark.parametrize("asked", [
    {"show": "driver:no_such_number"}, {"show": "::"}, {"from": "yesterday"}, {"to": "2026-02-30"},
    {"since": "nonsense"}, {"from": "2026-05-01", "to": "2026-04-01"},
])
def test_a_mistyped_address_shows_what_there_is(as_coach, student, asked):
    prescribe(block(visit(student, days_ago=20), mean=5.7))
    assert as_coach.get(reverse("lessons:progress", args=[student.code]), asked).status_code == 200


def test_the_same_change_noted_at_every_visit_is_one_piece_of_work_counted_from_its_first_day(as_coach, student):
    for days_ago, mean in ((40, 5.7), (26, 3.1), (12, 3.1)):
        prescribe(block(visit(student, days_ago=days_ago), mean=mean))
    assert held_for(student=student).code == "established"
    page = text_of(as_coach, student)
    assert "Established" in page[:400] and "Counted from" in page
    second = student.lessons.order_by("starts_at")[1].prescriptions.get()
    assert "Club path +4.4° before, +3.1° after" in text_of(as_coach, student, since=str(second.code))


def test_balls_of_getting_used_to_a_change_and_mixed_ones_are_never_a_first_look(as_coach, student):
    first = visit(student, days_ago=20)
    block(first, mean=9.0, purpose="adapt")
    block(first, mean=5.7)
    prescribe(first.blocks.last())
    later = visit(student, days_ago=2)
    block(later, mean=8.0, purpose="transfer")
    block(later, mean=3.0)
    page = text_of(as_coach, student)
    assert "Club path +5.7° before, +3.0° after" in page
    assert "10 balls of getting used to a change are kept and not judged" in page and "kept, not judged" in page


def test_a_student_whose_balls_were_only_called_reads_what_was_called(as_coach, student):
    factories.add_call(block=block(visit(student, days_ago=2)), called_start=1, contact="clean")
    assert "contact called by eye, driver" in text_of(as_coach, student)
