"""Every figure of the academy against the small one counted by hand (see small.py)."""

from html import escape

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from lessons.queries.academy.cohorts import cohorts, curves
from lessons.queries.academy.comparison import coach_lines
from lessons.queries.academy.measures import MEASURES
from lessons.queries.academy.tables import spread, spread_by_number, weeks
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
    "outcome": (1, 2, {"Ana"}),  # means 20.0 then 19.0, and 20.0 then 21.0; Cy had nine
    "equipment": (1, 2, {"Ana"}),
    "package_left": (1, 2, {"Bo"}),
    "package_ending": (1, 2, {"Ana"}),
    "liability": (250.0, 5, {"Ana", "Bo"}),
    "revenue": (250.0, 6.5, {"Ana"}),  # Ana's of 1 March; Bo's of 15 January lies before
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


@pytest.mark.parametrize(("key", "items"), [
    ("hours", [("Piet Arden", "1.0 hours given, no working hours noted"), ("Runa Holm", "5.5 hours given, 104 open")]),
    ("group_fill", [("Saturday class, 2 May 2026", "1 of 4 places, with Piet Arden")]),
    ("checks", [("Piet Arden", "not in date: background check, child-protection training, first aid")]),
    ("incidents", [("It nearly went wrong, 26 April 2026",
                    "A ball over the net. Open for 10 days; Runa Holm looks after it.")]),
    ("near_misses", [("It nearly went wrong, 26 April 2026",
                      "A ball over the net. Open for 10 days; Runa Holm looks after it.")]),
])
def test_a_figure_that_counts_no_students_has_its_own_list(people, owner, client, key, items):
    assert [(one.name, one.words) for one in MEASURES[key].of(seen_by(owner)).count.items] == items
    client.force_login(owner)
    text = client.get(reverse("lessons:figures"), {"show": key}).content.decode()
    assert all(name in text and words in text for name, words in items)


def test_every_figure_that_counts_something_has_a_list(people, owner):
    figures = [one.of(seen_by(owner)).count for one in MEASURES.values()]
    assert all(count.students or count.items for count in figures if count.top and count.bottom)


def test_the_parts_of_the_three_signs_are_shown(people, owner):
    words = MEASURES["lapse"].of(seen_by(owner)).count.words
    # Bo all three; Cy, Di and Flo silent and without a package; Ana neither.
    assert words == "Of the three signs 1 show 3; 3 show 2; 0 show 1; 1 show 0."


def test_plain_ratios_stand_beside_the_same_days_a_year_before(people, owner):
    lesson = small.lesson(people["Ana"], "04-20", starts_at=small.at("2025-04-20 10:00"))
    lesson.status = "no_show"
    lesson.save()
    seen = seen_by(owner)
    before = MEASURES["no_show"].of(seen, before=seen.year_before()).before
    assert (before.top, before.bottom) == (1, 1)
    assert MEASURES["active"].of(seen, before=seen.year_before()).before is None


def test_whoever_has_left_is_counted_as_gone_and_owed_and_their_lessons_as_given(people, owner):
    from academy.models import Student

    Student.objects.filter(pk=people["Bo"].pk).update(status="left")
    seen = seen_by(owner)
    told = {key: MEASURES[key].of(seen).count for key in ("retention", "liability", "active", "overdue", "no_show")}
    assert (told["retention"].top, told["retention"].bottom) == (0, 2)
    assert people["Bo"].pk in told["retention"].students
    assert (told["liability"].top, told["liability"].bottom) == (250.0, 5)
    assert (told["active"].bottom, told["overdue"].bottom) == (5, 4)
    Student.objects.filter(pk=people["Ed"].pk).update(status="left")
    assert (MEASURES["no_show"].of(seen_by(owner)).count.top, told["no_show"].bottom) == (1, 7)


def test_an_old_customer_who_comes_back_is_named_as_the_reason_for_more_than_all(people, owner):
    for name in ("Bo", "Ed"):
        small.lesson(people[name], "05-04")
    small.lesson(people["Di"], "12-01")
    count = MEASURES["retention"].of(seen_by(owner)).count
    assert (count.top, count.bottom) == (3, 2)
    assert "1 of those counted came back after a break; that is how it can pass 100 %." in count.words


def test_a_filter_narrows_the_top_and_the_bottom(people, owner, coach):
    assert MEASURES["active"].of(seen_by(owner, coach=str(coach.code))).count.bottom == 4
    juniors = MEASURES["active"].of(seen_by(owner, who="juniors")).count
    assert (juniors.top, juniors.bottom) == (2, 2)
    assert MEASURES["no_show"].of(seen_by(owner, days=30)).count.bottom == 6


def test_a_coach_counts_the_own_part_only(people, coach):
    assert MEASURES["active"].of(seen_by(coach)).count.bottom == 4


def test_cohorts_count_who_came_again(people, owner):
    found = {one.name: one for one in cohorts(seen_by(owner))}
    winter = found["December 2025"]  # Bo alone: 1 Dec, 15 Dec, 1 Feb; 156 days ago, so 180 is too early
    assert (winter.size, winter.three_in_90, winter.active_at_180) == (1, (1, 1), (0, 0))
    assert winter.curve == [1.0, 0.0, 1.0, 0.0, 0.0]
    assert found["April 2026"].size == 1 and found["May 2026"].size == 2


def test_a_line_of_the_picture_stands_for_five_students_at_least(people, owner):
    assert curves(seen_by(owner)) == []
    from tests import factories

    for number in range(4):
        small.lesson(factories.make_student(coach=people["Bo"].coach, name=f"More {number}"), "12-20")
    line = curves(seen_by(owner))[0]
    assert (line.name, line.size) == ("2025, quarter 4", 5)
    assert line.curve == [1.0, 0.0, 0.2, 0.0]


def test_weeks_begin_on_monday_and_none_is_left_out(people, owner):
    found = dict(weeks(seen_by(owner)))
    assert all(day.weekday() == 0 for day in found) and len(found) == 23
    assert found[small.date(2026, 4, 27)] == 3 and found[small.date(2026, 3, 2)] == 0


def test_cannot_tell_stands_openly_in_the_spread_and_only_two_follow_ups_count(people, owner):
    found = {row["verdict"]: row["n"] for row in spread(seen_by(owner))}
    assert found["cannot_tell"] == 2 and sum(found.values()) == 2  # Ana and Bo; Cy has one follow-up


def test_the_spread_is_told_for_each_number_in_work(people, owner):
    from dataclasses import replace

    seen = seen_by(owner)
    like = next(row for row in seen.rows if row.student.name == "Ana")
    seen.rows = [replace(like, quantity=quantity, verdict=verdict) for quantity, verdict in (
        ("club_path_deg", "likely"), ("club_path_deg", ""), ("face_angle_deg", "slipped"), ("", ""))]
    found = {row["number"]: (row["n"], row["counts"]) for row in spread_by_number(seen)}
    assert found == {"Club path": (2, [0, 1, 0, 0, 0, 0, 1]), "Face to target": (1, [0, 0, 1, 0, 0, 0, 0]),
                     "no number in work yet": (1, [0, 0, 0, 0, 0, 0, 1])}


def test_coaches_are_not_compared_below_twenty_students(people, owner):
    lines = coach_lines(seen_by(owner))
    assert [str(line["coach"]) for line in lines] == ["Piet Arden", "Runa Holm"]
    assert all(line["held"] is None for line in lines)
    assert [(line["missed"], line["due"], line["late"]) for line in lines] == [(1, 2, 1), (0, 5, 0)]


def test_the_page_opens_the_list_behind_each_number_and_keeps_its_filters(people, owner, client):
    client.force_login(owner)
    page = client.get(reverse("lessons:figures"), {"show": "overdue", "days": "90"})
    text = page.content.decode()
    assert [line["row"].student.name for line in page.context["list"].object_list] == ["Bo"]
    assert "overdue, no practice ticked for three weeks, one lesson or none left" in text
    for measure in MEASURES.values():
        assert f"?show={measure.key}&amp;coach=&amp;who=&amp;days=90" in text
        assert escape(measure.formula)[1:] in text


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
