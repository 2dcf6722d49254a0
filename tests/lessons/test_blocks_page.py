"""Blocks and history: one condition changed at a time, everything to be taken back."""

import uuid

import pytest
from django.urls import reverse

from academy.models import Change, Club
from lessons.models import Block, Shot
from lessons.queries.readings import reading
from lessons.services import lessons as service
from lessons.services import shots as shot_service
from tests import factories


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student, pain_asked=True)


@pytest.fixture
def block(lesson):
    return factories.make_block(lesson=lesson)


WHOLE = {"club_name": "7i", "intent": "draw", "reading": "calls", "effort_pct": "100", "wanted_balls": "10"}


def open_block(client, lesson, **values):
    return client.post(reverse("lessons:block_new", args=[lesson.code]), {"key": str(uuid.uuid4()), **WHOLE, **values})


def test_a_club_name_says_what_kind_of_club_it_is(as_coach, lesson):
    open_block(as_coach, lesson)
    assert lesson.blocks.get().category == "mid_iron"


def test_an_unknown_club_name_asks_for_the_kind(as_coach, lesson):
    answer = open_block(as_coach, lesson, club_name="Old Faithful")
    assert answer.status_code == 422 and "choose the kind of club" in answer.content.decode()
    open_block(as_coach, lesson, club_name="Old Faithful", category="fairway")
    assert lesson.blocks.get().category == "fairway"


def test_a_club_of_the_bag_is_linked(as_coach, lesson, student):
    club = Club.objects.create(student=student, name="Driver 10.5", category="driver")
    open_block(as_coach, lesson, club_name="driver 10.5")
    assert lesson.blocks.get().club == club


def test_aids_decide_what_a_block_is_for(as_coach, lesson):
    open_block(as_coach, lesson, aids=["sticks"])
    assert lesson.blocks.get().purpose == Block.Purpose.WITH_AID


def test_first_ten_with_aids_is_refused_with_a_sentence(as_coach, lesson):
    answer = open_block(as_coach, lesson, aids=["sticks"], purpose="first_ten")
    assert answer.status_code == 422 and "without aids" in answer.content.decode()


def test_the_next_block_takes_the_aids_away_and_lays_the_same_ones_down_again(as_coach, lesson):
    first = factories.make_block(lesson=lesson, aids=["gate", "towel"], purpose=Block.Purpose.WITH_AID)
    as_coach.post(reverse("lessons:block_next", args=[first.code]), {"change": "aids_off"})
    second = lesson.blocks.get(position=2)
    assert (second.aids, second.purpose) == ([], Block.Purpose.NO_AID)
    as_coach.post(reverse("lessons:block_next", args=[second.code]), {"change": "aids_on"})
    assert lesson.blocks.get(position=3).aids == ["gate", "towel"]


def test_the_silence_of_the_first_ten_ends_with_it(as_coach, lesson):
    first = factories.make_block(lesson=lesson, purpose=Block.Purpose.FIRST_TEN, feedback_shown=False)
    as_coach.post(reverse("lessons:block_next", args=[first.code]), {"change": "same"})
    second = lesson.blocks.get(position=2)
    assert second.feedback_shown and second.purpose == Block.Purpose.NO_AID


def test_correcting_a_block_keeps_its_balls(as_coach, block):
    factories.add_balls(block=block, carry_m=[200.0, 201.0])
    as_coach.post(reverse("lessons:block_change", args=[block.code]), {**WHOLE, "club_name": "3w"})
    block.refresh_from_db()
    assert block.category == "fairway" and block.shots.count() == 2


@pytest.mark.parametrize(("club", "category", "enough"), [("Driver", "driver", 8), ("7i", "mid_iron", 10)])
def test_a_block_says_how_many_balls_are_missing(lesson, club, category, enough):
    block = factories.make_block(lesson=lesson, club_name=club, category=category)
    factories.add_balls(block=block, club_path_deg=[1.0, 2.0, 3.0, 4.0])
    early = reading(block, left_handed=False)
    assert early.more == enough - 4 and early.numbers[0].stage == "none"
    factories.add_balls(block=block, club_path_deg=[5.0])
    assert reading(block, left_handed=False).numbers[0].stage == "early"
    factories.add_balls(block=block, club_path_deg=[2.0] * (enough - 5))
    full = reading(block, left_handed=False)
    assert full.more == 0 and full.numbers[0].stage == "judged"


def test_in_the_wind_carry_is_not_judged_and_path_is(block):
    factories.add_balls(block=block, club_path_deg=[1.0] * 8, carry_m=[180.0] * 8)
    block.lesson.is_windy = True
    marked = {number.key: number.in_wind for number in reading(block, left_handed=False).numbers}
    assert marked == {"carry_m": True, "club_path_deg": False}


def test_calls_are_counted_in_words_as_seen_from_behind(block):
    for start in (1, 1, 0):
        factories.add_call(block=block, called_start=start, called_curve=-1, contact="clean")
    block.refresh_from_db()
    assert "Start, of 3: 2 right, 1 on line" in reading(block, left_handed=False).calls
    assert "Start, of 3: 2 left, 1 on line" in reading(block, left_handed=True).calls


def test_the_history_names_who_did_what_and_takes_one_thing_back(as_coach, coach, block):
    shot_service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 200.0})
    shot_service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 210.0})
    first = Change.objects.get(sentence="Ball 1 of Driver added")
    page = as_coach.get(reverse("lessons:lesson_history", args=[block.lesson.code])).content.decode()
    assert "Runa Holm" in page and "Ball 2 of Driver added" in page
    as_coach.post(reverse("lessons:change_undo", args=[block.lesson.code, first.code]))
    assert list(Shot.objects.present().values_list("number", flat=True)) == [2]


def test_a_block_with_balls_is_not_taken_away_from_under_them(as_coach, coach, lesson):
    block = service.add_block(by=coach, lesson=lesson, club_name="Driver", category="driver")
    shot_service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 200.0})
    opened = Change.objects.get(sentence__startswith="Block 1 opened")
    answer = as_coach.post(reverse("lessons:change_undo", args=[lesson.code, opened.code]), follow=True)
    assert "This block holds 1 ball; take those back first." in answer.content.decode()
    block.refresh_from_db()
    assert block.removed_at is None


def test_a_lesson_that_was_begun_is_never_deleted_by_an_undo(as_coach, coach, student):
    lesson = service.book_lesson(by=coach, student=student, starts_at=factories.timezone.now())
    service.start_lesson(by=coach, lesson=lesson)
    booked = Change.objects.get(sentence="Lesson booked")
    as_coach.post(reverse("lessons:change_undo", args=[lesson.code, booked.code]))
    assert type(lesson).objects.filter(pk=lesson.pk).exists()


def test_undoing_the_start_leads_back_to_today(as_coach, coach, student):
    lesson = service.book_lesson(by=coach, student=student, starts_at=factories.timezone.now())
    service.start_lesson(by=coach, lesson=lesson)
    answer = as_coach.post(reverse("lessons:lesson_undo", args=[lesson.code]))
    assert answer["Location"] == reverse("lessons:today")


def test_a_change_of_another_lesson_is_a_missing_page(as_coach, coach, student, block):
    other = factories.make_lesson(student=student)
    shot_service.add_ball(by=coach, block=block, key=uuid.uuid4(), numbers={"carry_m": 200.0})
    change = Change.objects.get()
    assert as_coach.post(reverse("lessons:change_undo", args=[other.code, change.code])).status_code == 404


def test_a_first_ten_with_a_mishit_in_it_is_one_ball_short_on_the_desk_as_in_the_verdict(block):
    factories.add_balls(block=block, club_path_deg=[1.0] * 10, carry_m=[200.0] * 9 + [60.0])
    block.category = "mid_iron"
    found = reading(block, left_handed=False)
    assert (found.balls, found.mishits, found.more) == (10, 1, 1)


def test_called_mishits_are_balls_that_were_called(block):
    for contact in ["top"] * 6 + ["clean"] * 4:
        factories.add_call(block=block, contact=contact)
    assert (reading(block, left_handed=False).mishits, reading(block, left_handed=False).more) == (6, 0)
