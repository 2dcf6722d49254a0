"""Every figure of the academy against the small one counted by hand (see small.py)."""

import csv
import io
from html import escape

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from lessons.queries.academy.measures import MEASURES
from lessons.queries.academy.tables import coach_lines, cohorts, spread, weeks
from lessons.queries.academy.world import Filters, world

from . import small


@pytest.fixture
def people(coach, other_coach):
    with time_machine.travel(small.NOON, tick=False), timezone.override("Europe/Dublin"):
        yield small.build(coach, other_coach)


def seen_by(person, **filters):
    return world(coach=person, filters=Filters(**{"days": 90, **filters}), now=small.NOON)


# The window of 90 days is 6 February to 6 May 2026.
BY_HAND = {
    "active": (3, 6, {"Ana", "Cy", "Di"}),
    "retention": (0, 2, {"Bo", "Ed"}),  # active on 5 February: Bo and Ed; active now are only later comers
    "overdue": (1, 5, {"Bo"}),
    "unbooked": (4, 5, {"Bo", "Cy", "Di", "Flo"}),
    "paused": (1, 6, {"Ed"}),
    "lapse": (1, 5, {"Bo"}),
    "conversion": (1, 2, {"Cy"}),
    "hours": (6.5, 104.0, set()),  # 1 + 1 + 1.5, 1 + 1, 1; thirteen Wednesdays of eight hours
    "no_show": (1, 7, {"Ed"}),
    "late_cancel": (1, 9, {"Ed"}),
    "group_fill": (1, 4, set()),
    "given": (2, 5, {"Ana", "Cy"}),
    "opened": (1, 3, {"Ana"}),
    "first_ten": (2, 5, {"Ana", "Bo"}),
    "held": (0, 3, set()),
    "cant_tell": (3, 3, {"Ana", "Bo", "Cy"}),
    "slipped": (0, 3, set()),
    "package_left": (1, 2, {"Bo"}),
    "package_ending": (1, 2, {"Ana"}),
    "liability": (250.0, 5, {"Ana", "Bo"}),
    "revenue": (250.0, 6.5, set()),  # Ana's of 1 March; Bo's of 15 January lies before
    "junior_consents": (1, 2, {"Di"}),
    "consents_ending": (1, 2, {"Cy"}),
    "second_adult": (1, 2, {"Cy"}),
    "checks": (1, 2, set()),
    "incidents": (1, 2, set()),
    "near_misses": (1, 6, set()),
}


def test_every_measure_is_counted_by_hand_here():
    assert set(BY_HAND) == set(MEASURES)


@pytest.mark.parametrize("key", MEASURES)
def test_each_figure_is_what_was_counted_by_hand(people, owner, key):
    count = MEASURES[key].of(seen_by(owner)).count
    names = {student.pk: name for name, student in people.items()}
    top, bottom, listed = BY_HAND[key]
    assert (count.top, count.bottom) == (pytest.approx(top), pytest.approx(bottom))
    assert {names[pk] for pk in count.students} == listed


def test_a_filter_narrows_the_top_and_the_bottom(people, owner, coach):
    assert MEASURES["active"].of(seen_by(owner, coach=str(coach.code))).count.bottom == 4
    juniors = MEASURES["active"].of(seen_by(owner, who="juniors")).count
    assert (juniors.top, juniors.bottom) == (2, 2)
    assert MEASURES["no_show"].of(seen_by(owner, days=30)).count.bottom == 6


def test_a_coach_counts_the_own_part_only(people, coach):
    assert MEASURES["active"].of(seen_by(coach)).count.bottom == 4


def test_cohorts_count_who_came_again(people, owner):
    found = {one.name: one for one in cohorts(seen_by(owner))}
    winter = found["2025, quarter 4"]  # Bo alone: 1 Dec, 15 Dec, 1 Feb; 156 days ago, so 180 is too early
    assert (winter.size, winter.three_in_90, winter.active_at_180) == (1, (1, 1), (0, 0))
    assert winter.curve == [1.0, 0.0, 1.0, 0.0, 0.0]
    assert found["2026, quarter 2"].size == 3


def test_weeks_begin_on_monday_and_none_is_left_out(people, owner):
    found = dict(weeks(seen_by(owner)))
    assert all(day.weekday() == 0 for day in found) and len(found) == 23
    assert found[small.date(2026, 4, 27)] == 3 and found[small.date(2026, 3, 2)] == 0


def test_cannot_tell_stands_openly_in_the_spread_and_only_two_follow_ups_count(people, owner):
    found = {row["verdict"]: row["n"] for row in spread(seen_by(owner))}
    assert found["cannot_tell"] == 2 and sum(found.values()) == 2  # Ana and Bo; Cy has one follow-up


def test_coaches_are_not_compared_below_twenty_students(people, owner):
    lines = coach_lines(seen_by(owner))
    assert [str(line["coach"]) for line in lines] == ["Piet Arden", "Runa Holm"]
    assert all(line["held"] is None for line in lines)
    assert [(line["missed"], line["due"], line["late"]) for line in lines] == [(1, 2, 1), (0, 5, 0)]


def test_coaches_are_compared_with_students_like_theirs_from_twenty_on(people, owner):
    from dataclasses import replace

    seen = seen_by(owner)
    like = next(row for row in seen.rows if row.student.name == "Ana")
    other = next(row for row in seen.rows if row.student.name == "Di")
    def many(row, held, rest):
        return [replace(row, verdict="likely", return_visits=3)] * held + [
            replace(row, verdict="slipped", return_visits=3)] * rest
    seen.rows = [*many(like, 15, 5), *many(replace(other, student=_grown(other.student)), 5, 14)]
    lines = {str(line["coach"]): line["held"] for line in coach_lines(seen)}
    assert lines["Piet Arden"] is None, "nineteen"
    assert lines["Runa Holm"]["seen"] == 15 and lines["Runa Holm"]["usual"] == pytest.approx(20 * 20 / 39)


def _grown(student):
    student.born_on = None
    return student


def test_the_page_opens_the_list_behind_each_number_and_keeps_its_filters(people, owner, client):
    client.force_login(owner)
    page = client.get(reverse("lessons:figures"), {"show": "overdue", "days": "90"})
    text = page.content.decode()
    assert [line["row"].student.name for line in page.context["rows"]] == ["Bo"]
    assert "overdue, no practice ticked for three weeks, one lesson or none left" in text
    for measure in MEASURES.values():
        assert f"?show={measure.key}&amp;coach=&amp;who=&amp;days=90" in text
        assert escape(measure.formula)[1:] in text


def test_small_counts_and_what_would_give_them_away_are_left_out_of_the_table(people, owner, client):
    client.force_login(owner)
    answer = client.get(reverse("lessons:figures_table", args=["figures"]))
    rows = {row["Figure"]: row for row in csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig")))}
    assert len(rows) == len(MEASURES)
    active = rows["Active"]
    assert (active["Counted"], active["Out of"], active["Ratio"]) == ("fewer than 5", "6", "fewer than 5")
    assert rows["Hours given"]["Counted"] == "6.5"
    assert "Ana" not in answer.content.decode()


def test_no_health_and_no_note_reaches_the_owner(people, owner, client):
    from academy.models import HealthFlag
    from lessons.models import Lesson

    HealthFlag.objects.create(student=people["Bo"], area="hip", severity=6, text="hip hurts", reported_at=small.NOON)
    Lesson.objects.filter(student=people["Bo"]).update(private_note="afraid", student_note="soft hands")
    people["Bo"].notes = "owes a call"
    people["Bo"].save()
    client.force_login(owner)
    for address in ("lessons:figures", "lessons:monday", "lessons:roster", "lessons:incidents", "lessons:packages"):
        text = client.get(reverse(address), {"show": "overdue"}).content.decode()
        assert not [word for word in ("hip", "afraid", "soft hands", "owes a call") if word in text], address


def test_the_figures_take_the_same_queries_for_many_students(people, owner, client):
    from tests import factories

    client.force_login(owner)
    client.get(reverse("lessons:figures"))
    with CaptureQueriesContext(connection) as few:
        client.get(reverse("lessons:figures"), {"show": "active"})
    for number in range(15):
        student = factories.make_student(coach=people["Ana"].coach, name=f"More {number}")
        small.lesson(student, "05-02")
    with CaptureQueriesContext(connection) as many:
        client.get(reverse("lessons:figures"), {"show": "active"})
    assert len(few) == len(many)
