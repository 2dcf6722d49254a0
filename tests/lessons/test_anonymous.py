"""The academy's numbers without its people: somebody who knows a lot of a student tries to find them in the file."""

import json
import random
import uuid
from collections import Counter
from datetime import timedelta

import pytest
from django.apps import apps
from django.urls import reverse
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from academy.models import Consent, Student
from lessons.archive.anonymous import GRID, TooFew, anonymous
from lessons.archive.anonymous_files import as_document, as_text
from lessons.archive.crowd import ANY, Member, in_crowds, told_by_enough
from metrics.fields import FIELDS
from tests import factories

MANY = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
MEMBERS = st.lists(st.builds(
    lambda hand, age, index, visits: ((hand, age, index), visits), st.sampled_from(["right", "left"]),
    st.sampled_from("abc"), st.sampled_from("xyz"), st.integers(1, 12)), max_size=60)


def members(drawn) -> list[Member]:
    return [Member(pk=number, traits=traits, visits=visits) for number, (traits, visits) in enumerate(drawn)]


def fits(told: Member, known: Member) -> bool:
    """Whether somebody of whom everything is known could be this row."""
    return told.visits <= known.visits and all(
        one in (ANY, other) for one, other in zip(told.traits, known.traits, strict=True))


@MANY
@given(drawn=MEMBERS, least=st.integers(2, 8))
def test_whoever_knows_all_of_somebody_finds_a_crowd_or_nobody(drawn, least):
    told = in_crowds(members(drawn), least=least)
    assert all(count >= least for count in Counter((one.traits, one.visits) for one in told).values())
    for known in members(drawn):
        rows = [one for one in told if fits(one, known)]
        assert not rows or len(rows) >= least


@MANY
@given(drawn=MEMBERS, least=st.integers(2, 8))
def test_nobody_is_told_twice_nor_as_anything_they_are_not(drawn, least):
    known = {one.pk: one for one in members(drawn)}
    told = in_crowds(known.values(), least=least)
    assert len({one.pk for one in told}) == len(told)
    assert all(fits(one, known[one.pk]) for one in told)


def test_a_crowd_that_is_large_enough_is_told_whole():
    told = in_crowds([Member(pk=n, traits=("right", "a", "x"), visits=3) for n in range(5)], least=5)
    assert {(one.traits, one.visits) for one in told} == {(("right", "a", "x"), 3)}


def test_a_key_is_shared_by_people_not_by_rows():
    assert told_by_enough([("putter", 1)] * 9 + [("driver", 1), ("driver", 2)], least=2) == {"driver"}


def visitor(coach, number: int, *, visits: int = 2, yes: bool = True, club: str = "mid_iron", **values) -> Student:
    """Somebody with finished visits of ten balls; every visit's numbers are a little different."""
    student = factories.make_student(
        coach=coach, name=f"Quorben Nax{number}", **{"born_on": "1980-05-17", "handicap_index": 14.3, **values})
    if yes:
        today = timezone.localdate()
        Consent.objects.create(student=student, item="statistics", given_by_name=student.name, given_on=today,
                               expires_on=today + timedelta(days=300))
    for visit in range(visits):
        lesson = factories.make_lesson(
            student=student, status="finished", days_ago=90 - 10 * visit, student_note="Zilverwords", goal="Zilver")
        block = factories.make_block(lesson=lesson, category=club, club_name="Zilverclub")
        factories.add_balls(
            block=block, club_path_deg=[3.137 + number / 7 + ball / 10 for ball in range(10)],
            carry_m=[141.23 + number + ball for ball in range(10)])
    return student


@pytest.fixture
def six(coach):
    return [visitor(coach, number) for number in range(6)]


def made(**values):
    return anonymous(day=timezone.localdate(), adult_age=18, least=5, **values)


def whole(found) -> str:
    return json.dumps(as_document(found), ensure_ascii=False) + as_text(found)


def test_no_name_no_code_no_word_and_no_day_of_anybody_stands_in_either_file(six):
    text = whole(made())
    assert "Nax" not in text and "Zilver" not in text and "Runa" not in text and "Saltmarsh" not in text
    for model in (*apps.get_app_config("academy").get_models(), *apps.get_app_config("lessons").get_models()):
        for name in {"code", "key"} & {field.name for field in model._meta.fields}:
            codes = [str(one) for one in model.objects.values_list(name, flat=True) if isinstance(one, uuid.UUID)]
            assert not [code for code in codes if code in text], model
    days = {student.born_on for student in six} | {str(lesson.starts_at.date()) for one in six
                                                   for lesson in one.lessons.all()}
    assert not [day for day in days if str(day) in text]


def test_a_students_own_numbers_are_not_found_again_for_all_lie_on_a_coarse_grid(six):
    found = made()
    assert found.rows and all(set(row.numbers) == {"club_path_deg", "carry_m"} for row in found.rows)
    for row in found.rows:
        for key, values in row.numbers.items():
            step = GRID[FIELDS[key].dimension]
            assert all(value / step == pytest.approx(round(value / step)) for value in values.values())


def test_the_one_left_hander_is_told_without_the_hand_or_not_at_all(coach, six):
    visitor(coach, 7, hand="left", born_on="1944-01-02", handicap_index=2.0, visits=9)
    found = made()
    assert "left" not in {one["hand"] for one in found.people}
    assert found.aside["too rare to be told"] == 1 and len(found.people) == 6


def test_five_rare_ones_make_a_crowd_that_tells_only_what_they_share(coach, six):
    for number in range(7, 12):
        visitor(coach, number, hand="left", handicap_index=float(number % 3 * 10 + 4))
    crowds = Counter((one["hand"], one["age"], one["index"]) for one in made().people)
    assert crowds == {("right", "40 to 59", "10 to 19.9"): 6, ("left", "40 to 59", "any"): 5}


def test_whoever_came_more_often_than_the_others_is_told_as_having_come_as_often(coach, six):
    visitor(coach, 8, visits=7)
    assert {one["visits"] for one in made().people} == {2}
    assert {row.visit for row in made().rows} == {1, 2}


def test_a_club_of_one_person_is_not_told(coach, six):
    lesson = six[0].lessons.first()
    factories.add_balls(block=factories.make_block(lesson=lesson, category="sand"), club_path_deg=[1.0] * 9)
    assert {row.club for row in made().rows} == {"mid_iron"}


def test_children_and_who_did_not_agree_or_took_it_back_are_left_out(coach, six):
    today = timezone.localdate()
    visitor(coach, 7, born_on=today - timedelta(days=365 * 12))
    visitor(coach, 8, yes=False)
    six[0].consents.update(withdrawn_on=today)
    found = made()
    assert len(found.people) == 5
    assert found.aside["under age"] == 1 and found.aside["did not agree to statistics"] == 2


def test_fewer_than_a_crowd_are_no_file_but_a_sentence(client, owner, coach):
    for number in range(4):
        visitor(coach, number)
    with pytest.raises(TooFew, match="4 grown students"):
        made()
    client.force_login(owner)
    answer = client.get(reverse("lessons:anonymous_json"), {"least": "5"})
    assert answer.status_code == 422 and "5 who look alike are needed" in answer.content.decode()


def test_nobody_can_ask_for_a_crowd_of_one(client, owner, six):
    assert anonymous(day=timezone.localdate(), adult_age=18, least=1).least == 5
    client.force_login(owner)
    assert client.get(reverse("lessons:anonymous"), {"least": "1"}).status_code == 422


def test_the_numbers_of_the_students_are_drawn_anew_for_each_file(coach, six):
    for number in range(7, 13):
        visitor(coach, number, hand="left")
    orders = {tuple(one["hand"] for one in made(rng=random.Random(seed)).people) for seed in range(5)}
    assert len(orders) > 1


def test_an_owner_looks_first_and_takes_either_file(client, owner, six):
    client.force_login(owner)
    page = client.get(reverse("lessons:anonymous"), {"least": "5"}).content.decode()
    assert "6 students, 12 blocks" in page and "What nobody can promise" in page
    sent = client.get(reverse("lessons:anonymous_json"), {"least": "5"})
    assert len(sent.json()["blocks"]) == 12 and "attachment" in sent["Content-Disposition"]
    text = client.get(reverse("lessons:anonymous_txt"), {"least": "5"}).content.decode()
    assert "6 students: right-handed, age 40 to 59, index 10 to 19.9" in text and "Mid iron" in text
