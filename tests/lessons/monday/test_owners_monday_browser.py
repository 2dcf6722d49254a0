"""The owner's Monday in a browser: from a number to the people behind it, and down the list until it is worked."""

from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse
from django.utils import timezone

from lessons.models import FollowUp, QueueMark
from lessons.services.standing import refresh_standing
from tests import factories
from tests.browser import WIDE, sign_in, watch

pytestmark = pytest.mark.django_db(transaction=True)


def late(coach, name: str, *, agreed: str, said: str) -> None:
    """Store a student who was due three weeks ago, with what was said at the last visit."""
    student = factories.make_student(coach=coach, name=name, email=f"{name[:3].lower()}@example.org")
    lesson = factories.make_lesson(
        student=student, days_ago=40, status="finished", next_date=timezone.localdate() - timedelta(days=20),
        next_measure=agreed, student_note=said, private_note="worried about the hip")
    FollowUp.objects.create(lesson=lesson, channel="copy", sent_at=lesson.starts_at + timedelta(hours=2))
    refresh_standing(student=student)


@pytest.fixture
def monday(page, live_server, owner, coach, other_coach):
    late(coach, "Ana Fen", agreed="Ten driver balls", said="Soft hands")
    late(other_coach, "Bo Lind", agreed="Start line", said="Feet first")
    page.set_viewport_size(WIDE)
    sign_in(page, live_server, owner)
    seen = watch(page, live_server)
    page.goto(live_server.url + reverse("lessons:figures"))
    yield page
    # The browser reports the 422 with which a question comes back; that is the answer, not a fault.
    seen.messages[:] = [said for said in seen.messages if "422" not in said]
    seen.assert_clean()


def tick(page, name: str) -> None:
    page.get_by_role("row", name=name).filter(has_text="Overdue.").get_by_role("checkbox").check()


def test_the_owner_goes_from_a_number_to_the_call_list_and_works_it(monday):
    page = monday
    page.get_by_role("link", name="Overdue").click()
    behind = page.locator("#list")
    assert behind.get_by_role("row").count() == 3, "a head and two students"
    assert "Ten driver balls" in behind.inner_text() and "20 days ago" in behind.inner_text()
    assert not [word for word in ("hip", "Soft hands") if word in page.content()], "the coach's own words"

    page.get_by_role("link", name="Monday’s list").click()
    found = Axe().run(page)
    assert not found.response["violations"], found.generate_report()
    tick(page, "Ana Fen")
    page.get_by_role("button", name="Drafts of messages").click()
    assert "Shall we find an hour?" in page.get_by_label("Text").input_value()
    page.get_by_role("link", name="Back to Monday’s list").click()

    tick(page, "Ana Fen")
    page.get_by_label("Why, or what was done").fill("Rang, comes on Friday")
    page.get_by_role("button", name="Done, or put off").click()
    page.get_by_text("Rang, comes on Friday").wait_for()

    tick(page, "Bo Lind")
    page.get_by_label("Put off until").fill(f"{timezone.localdate() + timedelta(days=9)}")
    page.get_by_role("button", name="Done, or put off").click()
    page.get_by_text("Say why it is put off").wait_for()
    tick(page, "Bo Lind")
    page.get_by_label("Why, or what was done").fill("Away until the tenth")
    page.get_by_role("button", name="Done, or put off").click()
    page.get_by_text("Away until the tenth").wait_for()
    assert page.get_by_text("Overdue.").count() == 0
    assert set(QueueMark.objects.values_list("student__name", "reason", "created_by__username")) == {
        ("Ana Fen", "Rang, comes on Friday", "owner"), ("Bo Lind", "Away until the tenth", "owner")}

    page.get_by_role("button", name="Bo Lind, overdue").click()
    page.get_by_text("Bo Lind is back on the list").wait_for()
    row = page.get_by_role("row", name="Bo Lind").filter(has_text="Overdue.")
    row.get_by_role("link", name="Ring, then book").click()
    assert page.get_by_label("Student").input_value(), "the next step knows for whom"
