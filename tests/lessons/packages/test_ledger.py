"""The ledger of packages: it always balances, whatever is done and taken back in whatever order."""

import contextlib
import uuid
from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Sum
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from academy import journal
from academy.models import Change
from lessons.models import Lesson, Package, PackageEntry
from lessons.queries.packages import left_by_student, left_of
from lessons.services import lessons as lesson_service
from lessons.services import packages as service
from tests import factories


def sell(student, lessons=6, **values):
    return service.sell_package(
        by=student.coach, student=student, key=uuid.uuid4(), name=f"{lessons} lessons", lessons=lessons,
        **{"price_cents": lessons * 6000, **values},
    )


def finish(student, days_ago=0, **values):
    lesson = factories.make_lesson(student=student, days_ago=days_ago, **values)
    return lesson_service.finish_lesson(by=student.coach, lesson=lesson, next_date=None, next_measure="")


def left(student) -> int:
    return left_of(student=student, day=timezone.localdate()).lessons


def newest(sentence: str) -> Change:
    return Change.objects.filter(sentence__contains=sentence).first()


def test_a_finished_lesson_uses_one(student):
    sell(student)
    lesson = finish(student)
    assert left(student) == 5
    assert PackageEntry.objects.get(kind="used").lesson == lesson


def test_finishing_the_same_lesson_again_uses_no_second_one(student):
    sell(student)
    lesson = finish(student)
    lesson_service.finish_lesson(by=student.coach, lesson=lesson, next_date=None, next_measure="Ten balls")
    assert left(student) == 5


def test_taking_the_finish_back_gives_the_lesson_back(student):
    sell(student)
    lesson = finish(student)
    journal.undo(change=newest("Lesson finished"), by=student.coach)
    lesson.refresh_from_db()
    assert (lesson.status, left(student)) == (Lesson.Status.RUNNING, 6)
    lesson_service.finish_lesson(by=student.coach, lesson=lesson, next_date=None, next_measure="")
    assert left(student) == 5


def test_the_package_that_ends_first_is_used_first(student):
    today = timezone.localdate()
    open_end = sell(student, 5)
    soon = sell(student, 5, expires_on=today + timedelta(days=10))
    later = sell(student, 5, expires_on=today + timedelta(days=90))
    finish(student)
    assert [package.balance() for package in (open_end, soon, later)] == [5, 4, 5]


def test_a_lesson_after_the_last_day_uses_nothing_and_what_is_left_has_run_out(student):
    today = timezone.localdate()
    sell(student, starts_on=today - timedelta(days=100), expires_on=today - timedelta(days=1))
    finish(student)
    found = left_of(student=student, day=today)
    assert (found.lessons, found.run_out) == (0, 6)


def test_the_last_day_itself_still_counts(student):
    today = timezone.localdate()
    sell(student, starts_on=today - timedelta(days=9), expires_on=today)
    finish(student)
    assert left(student) == 5


def test_practice_uses_no_package(student):
    sell(student)
    finish(student, kind=Lesson.Kind.PRACTICE)
    assert left(student) == 6


def test_what_has_run_out_is_written_off_once(student):
    today = timezone.localdate()
    package = sell(student, starts_on=today - timedelta(days=100), expires_on=today - timedelta(days=1))
    for expected in (6, 0):
        assert service.write_off_expired(by=None, packages=[package], day=today) == expected
    assert left_of(student=student, day=today).run_out == 0


def test_lessons_handed_on_keep_their_value_and_their_last_day(student, coach):
    ends = timezone.localdate() + timedelta(days=40)
    package = sell(student, 6, price_cents=36000, expires_on=ends)
    friend = factories.make_student(coach=coach, name="Tove Lind")
    moved = service.move_package(by=coach, package=package, to=friend, lessons=2)
    assert (left(student), left(friend)) == (4, 2)
    assert (moved.price_cents, moved.expires_on) == (12000, ends)
    service.take_line_back(by=coach, line=PackageEntry.objects.get(kind="moved_in", reverses=None))
    assert (left(student), left(friend)) == (6, 0)


def test_more_than_is_left_cannot_be_refunded_and_not_more_money_than_came_in(student, coach):
    package = sell(student, 2, price_cents=10000)
    with pytest.raises(ValidationError, match="2 left; 3 cannot"):
        service.refund_package(by=coach, package=package, lessons=3, amount_cents=0)
    with pytest.raises(ValidationError, match="more than the 100.00"):
        service.refund_package(by=coach, package=package, lessons=1, amount_cents=10001)
    assert left(student) == 2


def test_a_purchase_that_was_used_cannot_be_taken_back_before_the_use(student, coach):
    sell(student, 1)
    finish(student)
    with pytest.raises(journal.CannotUndo, match="Take back what used them first"):
        journal.undo(change=newest("Package bought"), by=coach)
    bought = PackageEntry.objects.get(kind="bought")
    with pytest.raises(ValidationError, match="Take back what used them first"):
        service.take_line_back(by=coach, line=bought)


def test_a_line_is_never_changed_and_never_taken_back_twice(student, coach):
    sell(student)
    line = PackageEntry.objects.get()
    with pytest.raises(TypeError, match="never changed"):
        line.save()
    service.take_line_back(by=coach, line=line)
    with pytest.raises(ValidationError, match="already"):
        service.take_line_back(by=coach, line=line)
    assert PackageEntry.objects.count() == 2


def test_the_same_sale_sent_twice_is_stored_once(student, coach):
    key = uuid.uuid4()
    for _ in ("first", "again"):
        service.sell_package(by=coach, student=student, key=key, name="Five", lessons=5)
    assert left(student) == 5


def test_everybodys_balance_is_one_query(student, coach, django_assert_num_queries):
    for number in range(5):
        other = factories.make_student(coach=coach, name=f"Student {number}")
        sell(other, number + 1)
        sell(other, 1)
    with django_assert_num_queries(1):
        found = left_by_student(day=timezone.localdate())
    assert sorted(one.lessons for one in found.values()) == [2, 3, 4, 5, 6]


def test_a_package_that_was_taken_back_gets_nothing_back_by_undoing_an_older_answer(student, coach):
    """Found by the property below: the sale's line was answered by hand, the sale undone, then the answer undone."""
    package = sell(student, 1)
    sale = Change.objects.latest("pk")
    service.take_line_back(by=coach, line=package.entries.get())
    answer = Change.objects.latest("pk")
    journal.undo(change=sale, by=coach)
    with pytest.raises(journal.CannotUndo, match="itself was taken back"):
        journal.undo(change=answer, by=coach)
    check_balance([student])


STEPS = st.lists(st.tuples(
    st.sampled_from(["sell", "finish", "refund", "move", "expire", "back", "undo"]),
    st.integers(0, 9), st.integers(1, 4),
), max_size=25)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_whatever_is_done_and_taken_back_the_ledger_balances(student, other_coach, steps):
    """Beside the ledger a count by hand is kept; refused steps must leave no trace."""
    with transaction.atomic():
        people = [student, factories.make_student(coach=other_coach, name="Tove Lind")]
        for step in steps:
            with contextlib.suppress(ValidationError, journal.CannotUndo):
                do(people, *step)
            check_balance(people)
        transaction.set_rollback(True)


def do(people, what: str, which: int, many: int) -> None:
    person, today = people[which % 2], timezone.localdate()
    packages = list(Package.objects.filter(removed_at=None).order_by("pk"))
    if what == "sell":
        ends = today + timedelta(days=many - 2) if which > 6 else None
        sell(person, many, starts_on=today - timedelta(days=30), expires_on=ends)
    elif what == "finish":
        finish(person, days_ago=many)
    elif what == "undo" and (changes := list(Change.objects.filter(undone_at=None).order_by("-pk"))):
        journal.undo(change=changes[which % len(changes)], by=person.coach)
    elif what == "back" and (lines := list(PackageEntry.objects.order_by("pk"))):
        service.take_line_back(by=person.coach, line=lines[which % len(lines)])
    elif packages:
        package = packages[which % len(packages)]
        if what == "refund":
            service.refund_package(by=person.coach, package=package, lessons=many, amount_cents=many * 100)
        elif what == "move":
            service.move_package(by=person.coach, package=package, to=people[many % 2], lessons=many)
        elif what == "expire":
            service.write_off_expired(by=None, packages=[package], day=today + timedelta(days=1))


def check_balance(people) -> None:
    lines = PackageEntry.objects.all()
    by_kind = dict(lines.order_by().values_list("kind").annotate(sum=Sum("lessons")))
    assert by_kind.get("moved_in", 0) + by_kind.get("moved_out", 0) == 0, "a transfer makes and loses nothing"
    assert all(package.balance() >= 0 for package in Package.objects.all())
    for person in people:
        found = left_of(student=person, day=timezone.localdate())
        own = lines.filter(package__student=person).aggregate(sum=Sum("lessons"))["sum"] or 0
        assert found.lessons + found.run_out == own
    uses = lines.filter(kind="used").order_by().values("lesson").annotate(sum=Sum("lessons"))
    for use in uses:
        assert use["sum"] in (0, -1), "a lesson uses one or none"
    for line in lines.exclude(reverses=None):
        first = PackageEntry.objects.get(code=line.reverses)
        assert (line.lessons, line.amount_cents) == (-first.lessons, -first.amount_cents)
