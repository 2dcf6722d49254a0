"""Kept pictures: only with a yes, shown in pairs, off at once when it is withdrawn, deleted on their day."""

import os
import time
import uuid
from datetime import timedelta

import pytest
from django.core.exceptions import ValidationError
from django.core.management import call_command
from django.utils import timezone

from academy.consents import give_consent, withdraw_consent
from academy.models import Guardian, Guardianship
from lessons.media import store
from lessons.models import Attachment
from lessons.queries.media import may_look, newest_pairs, pairs_of_lesson
from lessons.services.history import undo_last
from lessons.services.media import attach, delete_due, remove, say_yes
from tests import factories
from tests.factories import clean, keep_picture, picture_bytes

TODAY = timezone.localdate


@pytest.fixture
def block(student, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return factories.make_block(lesson=factories.make_lesson(student=student))


def junior(student, **consents) -> None:
    """Make the student eleven, with a guardian who allows the items named."""
    student.born_on = TODAY() - timedelta(days=11 * 365 + 30)
    student.save()
    guardian = Guardian.objects.create(name="Ada Marlow")
    Guardianship.objects.create(student=student, guardian=guardian)
    for item in consents:
        give_consent(by=student.coach, student=student, item=item, given_on=TODAY(), guardian=guardian)


def try_to_keep(block):
    return attach(by=block.lesson.coach, lesson=block.lesson, cleaned=clean(picture_bytes()), block=block,
                  angle="face_on", phase="before", aids=[], keep_days=180, key=uuid.uuid4())


def file_of(row):
    return store.path_of(code=row.code, mime=row.mime)


def test_an_adult_s_picture_is_kept_only_after_a_yes(block):
    with pytest.raises(ValidationError, match="only after a yes"):
        try_to_keep(block)
    assert not Attachment.objects.exists() and not list(store.every_file())
    say_yes(by=block.lesson.coach, student=block.lesson.student, day=TODAY())
    row = try_to_keep(block)
    assert file_of(row).read_bytes()[:2] == b"\xff\xd8" and row.consent.item == "keeping"
    assert file_of(row).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("allowed", [{}, {"filming": 1}, {"keeping": 1}])
def test_a_junior_needs_a_guardian_for_filming_and_for_keeping(block, student, allowed):
    junior(student, **allowed)
    with pytest.raises(ValidationError, match="nobody has allowed this yet"):
        try_to_keep(block)
    with pytest.raises(ValidationError, match="junior"):
        say_yes(by=block.lesson.coach, student=student, day=TODAY())


def test_a_guardian_s_consent_keeps_a_junior_s_picture(block, student):
    junior(student, filming=1, keeping=1)
    assert try_to_keep(block).consent.given_by_name == "Ada Marlow"


@pytest.mark.parametrize("item", ["keeping", "filming"])
def test_a_withdrawn_consent_switches_viewing_off_at_once(block, student, item):
    junior(student, filming=1, keeping=1)
    keep_kwargs = {"lesson": block.lesson}
    try_to_keep(block)
    assert len(pairs_of_lesson(**keep_kwargs)) == len(newest_pairs(student=student)) == 1
    withdraw_consent(by=student.coach, student=student, item=item, day=TODAY())
    assert not may_look(student=student)
    assert pairs_of_lesson(**keep_kwargs) == newest_pairs(student=student) == []


def test_a_day_after_the_withdrawal_the_file_is_deleted(block, student):
    row = keep_picture(block=block)
    withdraw_consent(by=student.coach, student=student, item="keeping", day=TODAY())
    assert delete_due() == 0 and file_of(row).exists()
    assert delete_due(day=TODAY() + timedelta(days=1)) == 1
    assert not file_of(row).exists() and not Attachment.objects.exists()


def test_a_picture_goes_on_its_day_and_not_before(block):
    row = keep_picture(block=block, keep_days=30)
    assert row.delete_on == TODAY() + timedelta(days=30)
    assert delete_due(day=row.delete_on - timedelta(days=1)) == 0
    assert delete_due(day=row.delete_on) == 1 and not file_of(row).exists()


def test_no_picture_outlives_the_consent_it_was_kept_by(block, student):
    give_consent(by=student.coach, student=student, item="keeping", given_on=TODAY() - timedelta(days=300))
    row = keep_picture(block=block, keep_days=365)
    assert row.delete_on == row.consent.expires_on < TODAY() + timedelta(days=100)


def test_the_command_deletes_and_says_how_many(block, capsys):
    row = keep_picture(block=block)
    Attachment.objects.update(delete_on=TODAY())
    call_command("delete_pictures")
    assert "Deleted 1 picture" in capsys.readouterr().out and not file_of(row).exists()


def test_what_was_taken_out_can_be_put_back_until_it_is_deleted(block):
    row = keep_picture(block=block)
    remove(by=block.lesson.coach, attachment=row)
    assert pairs_of_lesson(lesson=block.lesson) == [] and delete_due() == 0
    undo_last(by=block.lesson.coach, lesson=block.lesson)
    assert len(pairs_of_lesson(lesson=block.lesson)) == 1
    Attachment.objects.update(removed_at=timezone.now() - timedelta(days=2))
    assert delete_due() == 1 and not file_of(row).exists()


def test_undoing_the_keeping_takes_the_picture_out_of_view(block):
    keep_picture(block=block)
    undo_last(by=block.lesson.coach, lesson=block.lesson)
    assert pairs_of_lesson(lesson=block.lesson) == []


def test_a_file_without_a_row_is_swept_up_unless_it_is_on_its_way(block):
    stray = store.write(code=uuid.uuid4(), mime="image/jpeg", data=b"left over")
    assert delete_due() == 0 and stray.exists()
    os.utime(stray, (time.time() - 7200,) * 2)
    assert delete_due() == 1 and not stray.exists()


def test_erasing_a_student_leaves_no_file_behind(block, student):
    row = keep_picture(block=block)
    os.utime(file_of(row), (time.time() - 7200,) * 2)
    student.delete()
    assert delete_due() == 1 and not file_of(row).exists()


def test_the_same_sending_twice_keeps_one(block):
    key = uuid.uuid4()
    assert keep_picture(block=block, key=key) == keep_picture(block=block, key=key)
    assert Attachment.objects.count() == 1 == len(list(store.every_file()))


def test_a_pair_is_the_same_angle_and_club_and_says_its_aids(block):
    keep_picture(block=block)
    keep_picture(block=block, phase="after", aids=["sticks"])
    keep_picture(block=block, angle="down_line", phase="after")
    whole, half = pairs_of_lesson(lesson=block.lesson)
    assert whole.whole and whole.aids_differ and whole.after.aids == ("Alignment sticks",)
    assert whole.before.words == "Picture face-on, Driver, before, no aids"
    assert half.before is None and half.after is not None


def test_a_lone_after_stands_beside_the_newest_earlier_picture_of_that_angle_and_club(block, student):
    old = factories.make_lesson(student=student, days_ago=30)
    earlier = keep_picture(block=factories.make_block(lesson=old))
    keep_picture(block=factories.make_block(lesson=old, category="mid_iron", club_name="7 iron"))
    keep_picture(block=block, phase="after")
    pair, = pairs_of_lesson(lesson=block.lesson)
    assert pair.before.code == str(earlier.code)
    assert [found.club for found in newest_pairs(student=student)] == ["Driver", "7 iron"]


def test_pairs_take_as_many_queries_for_ten_pictures_as_for_one(block, django_assert_num_queries):
    for phase in ("before", "after") * 5:
        keep_picture(block=block, phase=phase)
    with django_assert_num_queries(3):
        pairs_of_lesson(lesson=block.lesson)
