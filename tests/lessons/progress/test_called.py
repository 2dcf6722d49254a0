"""Progress of a player whose balls are called by eye: counted like with like, and never said louder than that."""

import pytest
from django.urls import reverse

from tests import factories
from tests.lessons.progress.records import block, prescribe, text_of, visit


def called(lesson, *, clean: int, top: int = 0, fat: int = 0, **values):
    made = block(lesson, **{"club_name": "7 iron", "category": "mid_iron", "reading": "calls", **values})
    for contact, count in (("clean", clean), ("top", top), ("fat", fat)):
        for _ in range(count):
            factories.add_call(block=made, called_start=0, called_curve=0, contact=contact)
    return made


@pytest.fixture
def topping(student):
    """Two of ten clean at the first visit, and the change that answers it."""
    prescribe(called(visit(student, days_ago=30), clean=2, top=8, purpose="explore", feedback_shown=True),
              pattern="thin_top_iron", checkpoint="hand_thigh_cm")
    return student


def test_one_visit_is_counted_and_said_to_have_nothing_to_compare(as_coach, topping):
    page = text_of(as_coach, topping)
    assert "Nothing to compare yet" in page and "Before: 2 of 10 struck clean" in page and "6 to 51 %" in page
    assert "Begin the next visit with a first ten" in page


def test_more_clean_balls_at_one_later_first_ten_are_said_with_the_doubt_of_one_day(as_coach, topping):
    called(visit(topping, days_ago=9), clean=9, top=1)
    page = text_of(as_coach, topping)
    assert "More struck clean" in page and "9 of 10 struck clean" in page
    assert "One visit can be one good or one hard day" in page and "improve" not in page.lower()


def test_a_second_day_takes_the_doubt_of_one_day_away(as_coach, topping):
    for days_ago in (9, 2):
        called(visit(topping, days_ago=days_ago), clean=8, top=2)
    page = text_of(as_coach, topping)
    assert "16 of 20 struck clean" in page and "One visit can be" not in page


def test_a_few_more_clean_balls_cannot_be_told_from_luck(as_coach, topping):
    called(visit(topping, days_ago=9), clean=4, top=6)
    assert "Can’t tell yet" in text_of(as_coach, topping)


def test_balls_with_aids_or_after_coaching_do_not_count(as_coach, topping):
    later = visit(topping, days_ago=9)
    called(later, clean=10, purpose="with_aid", aids=["sticks"])
    called(later, clean=10, purpose="no_aid", position=2)
    assert "Nothing to compare yet" in text_of(as_coach, topping)


def test_another_club_is_not_compared_and_can_be_chosen(as_coach, topping):
    called(visit(topping, days_ago=9), clean=10, club_name="Driver", category="driver")
    assert "Nothing to compare yet" in text_of(as_coach, topping, show="mid_iron:called")
    assert "contact called by eye, driver" in text_of(as_coach, topping, show="driver:called")


def test_numbers_come_first_and_the_calls_are_a_choice(as_coach, topping):
    block(visit(topping, days_ago=5), mean=3.0)
    assert "club path, driver" in text_of(as_coach, topping)
    assert "Contact by eye, mid iron (10 balls)" in text_of(as_coach, topping)
    assert "2 of 10 struck clean" in text_of(as_coach, topping, show="mid_iron:called")


def test_the_page_costs_the_same_however_many_visits(as_coach, topping, django_assert_max_num_queries):
    for days_ago in range(2, 22, 4):
        called(visit(topping, days_ago=days_ago), clean=7, top=3)
    with django_assert_max_num_queries(16):
        as_coach.get(reverse("lessons:progress", args=[topping.code]))
