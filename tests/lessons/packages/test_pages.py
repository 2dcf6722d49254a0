"""The pages of packages: what is left, sold, taken back, and handed to the bookkeeper."""

import csv
import io
import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from lessons.models import Package, PackageEntry
from tests import factories

from .test_ledger import left, sell


def post_sale(client, student, **values):
    whole = {"key": str(uuid.uuid4()), "name": "Six lessons", "lessons": "6", "price": "330.50", "invoice": "2026-17",
             "expires_on": "", **values}
    return client.post(reverse("lessons:student_packages", args=[student.code]), whole)


def test_a_package_is_sold_once_however_often_the_button_is_pressed(as_coach, student):
    key = str(uuid.uuid4())
    for _ in ("first", "again"):
        assert post_sale(as_coach, student, key=key).status_code == 302
    line = PackageEntry.objects.get()
    assert (line.lessons, line.amount_cents, line.invoice) == (6, 33050, "2026-17")


@pytest.mark.parametrize(("values", "said"), [
    ({"lessons": "0"}, "greater than or equal to 1"), ({"price": "-1"}, "greater than or equal to 0"),
    ({"expires_on": "soon"}, "valid date"),
])
def test_a_wrong_value_is_named_and_nothing_is_stored(as_coach, student, values, said):
    answer = post_sale(as_coach, student, **values)
    assert answer.status_code == 422 and said in answer.content.decode()
    assert not Package.objects.exists()


def test_the_page_shows_every_line_and_takes_one_back(as_coach, student):
    sell(student, 6, invoice="2026-17")
    line = PackageEntry.objects.get()
    page = as_coach.get(reverse("lessons:student_packages", args=[student.code])).content.decode()
    assert "6 lessons left" in page and "2026-17" in page
    as_coach.post(reverse("lessons:package_line_back", args=[line.code]))
    page = as_coach.get(reverse("lessons:student_packages", args=[student.code])).content.decode()
    assert left(student) == 0 and "(taken back)" in page


def test_a_refund_of_more_than_is_left_says_what_is_left(as_coach, student):
    package = sell(student, 2)
    address = reverse("lessons:package_step", args=[package.code, "refund"])
    answer = as_coach.post(address, {"lessons": "3", "amount": "10"})
    assert answer.status_code == 422 and "2 left; 3 cannot" in answer.content.decode()
    assert as_coach.post(address, {"lessons": "1", "amount": "60"}).status_code == 302
    assert left(student) == 1


def test_lessons_can_be_handed_only_to_students_one_may_see(as_coach, student, other_coach):
    package = sell(student, 2)
    stranger = factories.make_student(coach=other_coach, name="Tove Lind")
    answer = as_coach.post(
        reverse("lessons:package_step", args=[package.code, "hand-on"]), {"to": str(stranger.code), "lessons": "1"}
    )
    assert answer.status_code == 422 and left(stranger) == 0


def test_the_academys_page_counts_what_is_open_owed_and_running_out(owner, coach, student, client):
    today = timezone.localdate()
    sell(student, 4, price_cents=20000, expires_on=today + timedelta(days=9))
    sell(student, 3, price_cents=30000, starts_on=today - timedelta(days=90), expires_on=today - timedelta(days=1))
    client.force_login(owner)
    page = client.get(reverse("lessons:packages"), {"show": "ending"})
    found = page.context
    assert (found["open_lessons"], found["liability_cents"], found["run_out_lessons"]) == (4, 20000, 3)
    assert [row.days for row in found["listed"]] == [9]
    client.post(reverse("lessons:package_write_off"))
    assert client.get(reverse("lessons:packages")).context["run_out_lessons"] == 0


def test_a_coach_sees_the_own_students_packages_only(client, other_coach, student):
    sell(student, 4)
    client.force_login(other_coach)
    assert client.get(reverse("lessons:packages"), {"show": "all"}).context["listed"].paginator.count == 0
    assert len(list(csv.reader(io.StringIO(client.get(reverse("lessons:package_ledger")).content.decode())))) == 1


def test_the_bookkeepers_table_holds_the_period_and_runs_no_formula(as_coach, student, coach):
    today = timezone.localdate()
    student.name = "=HYPERLINK(1)"
    student.save()
    sell(student, 4, price_cents=20050, invoice="17")
    sell(student, 2, starts_on=today - timedelta(days=400))
    data = as_coach.get(reverse("lessons:package_ledger"), {"since": today.isoformat(), "until": today.isoformat()})
    rows = list(csv.DictReader(io.StringIO(data.content.decode("utf-8-sig"))))
    assert [(row["Student"], row["Lessons"], row["Amount"], row["Invoice"]) for row in rows] == [
        ("'=HYPERLINK(1)", "4", "200.5", "17")
    ]


def test_a_period_that_ends_before_it_begins_is_asked_back(as_coach):
    answer = as_coach.get(reverse("lessons:package_ledger"), {"since": "2026-05-02", "until": "2026-05-01"})
    assert answer.status_code == 422 and "lies before 2 May 2026" in answer.content.decode()


def test_the_list_takes_the_same_queries_for_many_packages(as_coach, coach, student, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    sell(student)
    with CaptureQueriesContext(connection) as few:
        as_coach.get(reverse("lessons:packages"))
    for number in range(12):
        sell(factories.make_student(coach=coach, name=f"Student {number}"))
    with django_assert_num_queries(len(few)):
        as_coach.get(reverse("lessons:packages"))
