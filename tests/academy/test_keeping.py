"""What is kept, for how long, and who read it."""

from datetime import timedelta

import pytest
from django.conf import settings
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from academy import keeping, share
from academy.access import LINK_SESSION_KEY
from academy.models import Academy, Change, EntryLink, Erasure, HealthFlag, Reading, Student
from tests import factories


def days_ago(days: float):
    return timezone.now() - timedelta(days=days)


@pytest.fixture
def junior(coach):
    today = timezone.localdate()
    return factories.make_student(coach=coach, name="Nilo Bracken", born_on=today.replace(year=today.year - 12, day=1))


def test_cleared_health_entries_end_after_two_years_and_open_ones_never(student):
    for cleared in (days_ago(731), days_ago(700), None):
        HealthFlag.objects.create(
            student=student, area="hip", severity=2, reported_at=days_ago(2000), cleared_at=cleared)
    assert keeping.run(now=timezone.now())["health"] == 1
    assert HealthFlag.objects.count() == 2


def test_the_academy_sets_its_own_days_and_zero_means_never(client, owner, student):
    Change.objects.create(sentence="old", created_at=days_ago(1000), student=student)
    client.force_login(owner)
    page = reverse("academy:keeping")
    values = {key: line.days for key, line in keeping.LINES.items()}
    assert client.post(page, values | {"history": "-1"}).status_code == 422
    client.post(page, values | {"history": "0"})
    assert "history" not in keeping.run(now=timezone.now()) and Change.objects.count() == 1
    client.post(page, values | {"history": "900"})
    assert keeping.run(now=timezone.now())["history"] == 1
    assert Academy.objects.get().house_rules[keeping.SETTING]["history"] == 900


def test_who_left_long_ago_is_erased_and_who_was_touched_since_stays(coach):
    old = {"coach": coach, "status": Student.Status.LEFT, "created_at": days_ago(3000)}
    gone, touched = Student.objects.create(name="Ola Gone", **old), Student.objects.create(name="Ada Back", **old)
    factories.make_student(coach=coach, name="Still Here", created_at=days_ago(3000))
    Change.objects.create(sentence="a word", student=touched, created_at=days_ago(100))
    keeping.run(now=timezone.now())
    assert set(Student.objects.values_list("name", flat=True)) == {"Ada Back", "Still Here"}
    assert Erasure.objects.get().student_code == gone.code


def test_mails_and_backups_before_updates_end_and_the_daily_backups_stay(academy):
    import os

    names = ("outbox/a.log", "backups/holdfast-1-before-update.zip", "backups/holdfast-1-auto.zip", "backups/own.zip")
    for name in names:
        path = settings.DATA_DIR / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"x")
        os.utime(path, (0, 0))
    keeping.run(now=timezone.now())
    assert [name for name in names if (settings.DATA_DIR / name).exists()] == [*names[2:]]
    for name in names[2:]:
        (settings.DATA_DIR / name).unlink()


def test_a_clock_set_back_ends_nothing(coach):
    EntryLink.objects.create(coach=coach, digest="x", expires_at=days_ago(2))
    assert keeping.run(now=days_ago(400))["entries"] == 0
    assert keeping.run(now=timezone.now())["entries"] == 1


def test_the_command_says_what_it_ended(coach, capsys):
    EntryLink.objects.create(coach=coach, digest="x", expires_at=days_ago(2))
    call_command("tidy")
    assert "One-time sign-ins: 1" in capsys.readouterr().out


def kinds(**values) -> list[str]:
    return sorted(Reading.objects.filter(**values).values_list("kind", flat=True))


def test_a_read_of_a_juniors_record_is_noted_once_a_day_and_an_adults_is_not(as_coach, coach, student, junior):
    for one in (student, junior, junior):
        as_coach.get(reverse("lessons:student", args=[one.code]))
    assert kinds(reader=coach, student_code=junior.code) == ["junior"]
    assert not kinds(student_code=student.code)


def test_a_juniors_lesson_counts_as_their_record(as_coach, coach, junior):
    as_coach.get(reverse("lessons:lesson", args=[factories.make_lesson(student=junior).code]))
    assert kinds(reader=coach, student_code=junior.code) == ["junior"]


def test_health_and_exports_are_noted_for_everybody_and_a_refusal_is_not(client, coach, other_coach, student):
    client.force_login(coach)
    client.get(reverse("academy:health", args=[student.code]))
    client.get(reverse("lessons:student_archive", args=[student.code]))
    assert kinds(reader=coach, student_code=student.code) == ["export", "health"]
    client.force_login(other_coach)
    client.get(reverse("academy:health", args=[student.code]))
    assert not kinds(reader=other_coach)


def test_what_a_private_link_takes_along_is_noted_without_a_reader(client, coach, student):
    session = client.session
    session[LINK_SESSION_KEY] = share.issue_link(student=student, by=coach)[0].pk
    session.save()
    client.get(reverse("lessons:me_json"))
    assert kinds(reader=None, student_code=student.code) == ["export"]


def test_an_owner_reads_the_trail_and_a_welfare_lead_the_juniors(client, as_coach, owner, student, junior):
    as_coach.get(reverse("academy:health", args=[student.code]))
    as_coach.get(reverse("lessons:student", args=[junior.code]))
    client.force_login(owner)
    page = client.get(reverse("academy:readings")).content.decode()
    assert student.name in page and junior.name in page
    client.force_login(factories.make_coach("welfare", is_coach=False, is_welfare_lead=True))
    page = client.get(reverse("academy:readings")).content.decode()
    assert student.name not in page and junior.name in page


def test_the_trail_holds_codes_and_no_name(as_coach, junior):
    as_coach.get(reverse("lessons:student", args=[junior.code]))
    assert {one.name for one in Reading._meta.concrete_fields} == {
        "id", "day", "reader", "student_code", "kind", "first_at"}
