"""The page of rounds: typed cards in, the mirror of the index and the mean of the last ten out."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from academy.models import Student
from lessons.models import Round
from lessons.queries.rounds import rounds_page
from tests.factories import make_student

CARD = {"played_on": "2026-05-03", "adjusted_gross": "90", "course_rating": "71.2", "slope": "128", "holes": "18"}


@pytest.fixture
def page(student):
    return f"/students/{student.code}/rounds/"


def play(student, *differentials: float, first: date = date(2026, 1, 1)) -> None:
    for place, value in enumerate(differentials):
        Round.objects.create(
            student=student, played_on=first + timedelta(days=place), adjusted_gross=90, official_differential=value)


def test_a_typed_round_shows_its_differential(as_coach, student, page):
    assert as_coach.post(f"{page}new/", CARD).status_code == 302
    text = as_coach.get(page).content.decode()
    assert "16.6" in text and "needs 3 rounds, 1 so far" in text


def test_a_decimal_comma_is_a_decimal_point(as_coach, student, page):
    as_coach.post(f"{page}new/", {**CARD, "course_rating": "71,2"})
    assert student.rounds.get().course_rating == 71.2


def test_the_same_card_sent_twice_is_one_round(as_coach, student, page):
    for _ in range(2):
        as_coach.post(f"{page}new/", CARD)
    assert student.rounds.count() == 1


@pytest.mark.parametrize(("values", "said"), [
    ({"slope": ""}, "The slope of the tees is needed"),
    ({"course_rating": ""}, "The course rating of the tees is needed"),
    ({"course_rating": "712"}, "712 was found; expected a course rating from 50 to 90."),
    ({"course_rating": "par"}, "“par” was found; expected a number"),
    ({"holes": "9"}, "Nine holes count only with the differential"),
    ({"pcc": "4"}, "less than or equal to 3"),
    ({"played_on": "2999-01-01"}, "has not come yet"),
    ({"official_index": "77"}, "expected an index from -10 to 54"),
])
def test_a_round_that_cannot_be_is_refused_with_what_was_expected(as_coach, page, values, said):
    response = as_coach.post(f"{page}new/", {**CARD, **values})
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Round.objects.exists()


def test_nine_holes_count_by_the_differential_of_the_official_record(as_coach, student, page):
    as_coach.post(f"{page}new/", {
        "played_on": "2026-05-03", "adjusted_gross": "44", "holes": "9", "official_differential": "17.3"})
    assert rounds_page(student=student)["rows"][0].line.score.differential == 17.3


def test_the_typed_index_wins_and_the_gap_is_said(as_coach, student, page):
    play(student, 15.3, 15.2, 16.6)
    as_coach.post(f"{page}index/", {"handicap_index": "14.0"})
    found = rounds_page(student=type(student).objects.get(pk=student.pk))
    assert (found["official"], found["mirror"].index, found["apart"]) == (14.0, 13.2, -0.8)
    assert "The official one counts." in as_coach.get(page).content.decode()


def test_the_mean_of_ten_says_how_much_of_it_is_luck(as_coach, student, page):
    play(student, 15, 19, 12, 18, 16, 20, 14, 17, 13, 21, 16)
    text = as_coach.get(page).content.decode()
    assert "Mean of the last 10 rounds: 16.6" in text
    assert "is within luck" in text


def test_an_exceptional_round_is_named_with_its_rule(as_coach, student, page):
    play(student, 20, 20, 20, 20, 20, 10)
    text = as_coach.get(page).content.decode()
    assert "exceptional: -2.0 (5.9)" in text and "reads as 18.0" in text


def test_a_round_is_taken_out_and_put_back(as_coach, student, page):
    play(student, 15.0)
    played = Round.objects.get()
    assert "taken out" in as_coach.post(f"{page}{played.code}/out/").content.decode()
    assert rounds_page(student=student)["rows"] == []
    as_coach.post(f"{page}{played.code}/out/", {"back": "1"})
    assert len(rounds_page(student=student)["rows"]) == 1


def test_another_students_round_is_a_missing_page(as_coach, student, other_coach, page):
    stranger = make_student(coach=other_coach, name="Tove Lind")
    play(stranger, 15.0)
    assert as_coach.post(f"{page}{Round.objects.get().code}/out/").status_code == 404


def test_the_form_remembers_the_course(as_coach, student, page):
    as_coach.post(f"{page}new/", {**CARD, "course": "Saltmarsh, middle tees"})
    assert "Saltmarsh, middle tees" in as_coach.get(page).content.decode()
    assert f'value="{timezone.localdate():%Y-%m-%d}"' in as_coach.get(page).content.decode()


def test_the_page_asks_once_for_all_rounds(django_assert_max_num_queries, student):
    play(student, *[15.0] * 30)
    with django_assert_max_num_queries(1):
        rounds_page(student=student)


def test_the_newest_change_of_the_official_index_is_put_back_by_a_button(as_coach, student, page):
    as_coach.post(f"{page}index/", {"handicap_index": "16.6"})
    as_coach.post(f"{page}index/", {"handicap_index": "61"})
    as_coach.post(f"{page}index/", {"handicap_index": "6.1"})
    assert "Put back" in as_coach.get(page).content.decode()
    as_coach.post(f"{page}index/", {"back": "1"})
    student.refresh_from_db()
    assert student.handicap_index == 16.6
    as_coach.post(f"{page}index/", {"back": "1"})
    as_coach.post(f"{page}index/", {"back": "1"})
    student.refresh_from_db()
    assert student.handicap_index is None
    assert "Put back" not in as_coach.get(page).content.decode()


def test_an_index_that_was_changed_elsewhere_since_is_not_put_back(as_coach, student, page):
    as_coach.post(f"{page}index/", {"handicap_index": "16.6"})
    Student.objects.filter(pk=student.pk).update(handicap_index=12.0)
    said = as_coach.post(f"{page}index/", {"back": "1"}, follow=True).content.decode()
    student.refresh_from_db()
    assert "Not taken back." in said and student.handicap_index == 12.0


def test_the_strokes_of_a_course_and_the_most_that_counts_on_each_hole(as_coach, student, page):
    """The governing bodies’ example: 16.6 on slope 128 and 71.2, par 72, is 18."""
    as_coach.post(f"{page}index/", {"handicap_index": "16.6"})
    tees = {"course_rating": "71.2", "slope": "128", "par": "72"}
    strokes = as_coach.get(page, tees).context["strokes"]
    assert strokes["total"] == 18
    assert [(row.said, row.strokes, row.most) for row in strokes["holes"]] == [("1 to 18", 1, (6, 7, 8))]
    assert "Course handicap 18" in as_coach.get(page, tees).content.decode()
    as_coach.post(f"{page}index/", {"handicap_index": "18.2"})
    strokes = as_coach.get(page, tees).context["strokes"]
    assert [(row.said, row.strokes) for row in strokes["holes"]] == [("1 to 2", 2), ("3 to 18", 1)]


@pytest.mark.parametrize(("tees", "said"), [
    ({"course_rating": "", "slope": "128", "par": "72"}, "such as 71.2"),
    ({"course_rating": "712", "slope": "128", "par": "72"}, "expected a course rating from 50 to 90"),
    ({"course_rating": "71.2", "slope": "20", "par": "72"}, "greater than or equal to 55"),
])
def test_tees_that_cannot_be_are_refused_with_what_was_expected(as_coach, page, tees, said):
    as_coach.post(f"{page}index/", {"handicap_index": "16.6"})
    response = as_coach.get(page, tees)
    assert said in response.content.decode() and response.context["strokes"] is None


def test_without_an_index_a_hole_counts_with_par_and_five(as_coach, page):
    assert "par + 5 at most" in as_coach.get(page).content.decode()
