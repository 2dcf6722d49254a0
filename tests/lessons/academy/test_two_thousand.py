"""The owner's pages at 120 and at 2,000 students: the same number of queries, and pages that can still be read."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from academy.models import Student
from academy.paging import ON_A_PAGE
from lessons.models import Lesson, Package, PackageEntry, Standing

PAGES = {
    "lessons:roster": {"show": "overdue"}, "lessons:figures": {"show": "overdue"}, "lessons:monday": {},
    "lessons:packages": {},
}


def grow(coaches, upto: int) -> None:
    """Add students until there are so many: each came twice, is overdue, and has a package nearly used up."""
    now, today = timezone.now(), timezone.localdate()
    start = Student.objects.count()
    new = Student.objects.bulk_create(
        Student(coach=coaches[number % 2], name=f"Student {number:04}") for number in range(start, upto))
    Lesson.objects.bulk_create(
        Lesson(student=one, coach=one.coach, status="finished", starts_at=now - timedelta(days=days))
        for one in new for days in (70, 100))
    Standing.objects.bulk_create(
        Standing(student=one, visits=2, return_visits=1, last_visit_at=now - timedelta(days=70),
                 agreed_date=today - timedelta(days=40), verdict="likely", quantity="club_path_deg",
                 trend=[3.0, 2.5]) for one in new)
    packs = Package.objects.bulk_create(
        Package(student=one, name="Pack", lessons=1, price_cents=5000, starts_on=today) for one in new)
    PackageEntry.objects.bulk_create(
        PackageEntry(package=one, kind="bought", lessons=1, on_date=today, amount_cents=5000) for one in packs)


def opened(client, address: str, **asked):
    """Return the page and how many queries it took."""
    client.get(reverse(address), asked)
    with CaptureQueriesContext(connection) as caught:
        page = client.get(reverse(address), asked)
    assert page.status_code == 200
    return page, len(caught)


@pytest.fixture
def signed_in(client, owner):
    client.force_login(owner)
    return client


def test_a_page_asks_no_more_of_the_database_for_2000_students_than_for_120(signed_in, coach, other_coach):
    counts = []
    for size in (120, 2000):
        grow((coach, other_coach), size)
        counts.append({address: opened(signed_in, address, **asked)[1] for address, asked in PAGES.items()})
    assert counts[0] == counts[1]


@pytest.mark.parametrize(("address", "asked"), PAGES.items())
def test_a_long_list_comes_a_page_at_a_time_and_keeps_its_filters(signed_in, coach, other_coach, address, asked):
    grow((coach, other_coach), 120)
    filters = {**asked, "coach": str(coach.code)} if address != "lessons:packages" else asked
    rows = {"lessons:packages": 120, "lessons:monday": 120}.get(address, 60)  # overdue, and a package that ends
    page, _ = opened(signed_in, address, **filters)
    text = page.content.decode()
    assert f"1 to {ON_A_PAGE} of {rows}" in text
    further = text.split('rel="next" href="')[1].split('"')[0].replace("&amp;", "&").split("#")[0]
    assert all(f"{key}={value}" in further for key, value in filters.items())
    after = signed_in.get(reverse(address) + further).content.decode()
    assert f"{ON_A_PAGE + 1} to {min(rows, 2 * ON_A_PAGE)} of {rows}" in after


@pytest.mark.parametrize(("page", "first"), [("0", "Student 0100"), ("99", "Student 0100"), ("x", "Student 0000")])
def test_a_page_that_is_not_there_is_the_nearest_one(signed_in, coach, other_coach, page, first):
    grow((coach, other_coach), 120)
    listed = signed_in.get(reverse("lessons:roster"), {"page": page}).context["listed"]
    assert listed.object_list[0].student.name == first


def test_a_name_is_found_among_all_of_them(signed_in, coach, other_coach):
    grow((coach, other_coach), 120)
    listed = signed_in.get(reverse("lessons:roster"), {"name": "t 0077"}).context["listed"]
    assert [row.student.name for row in listed] == ["Student 0077"]
