"""The page of pictures: what is sent, what is refused, and how a file is handed out."""

import uuid
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from academy.consents import withdraw_consent
from academy.models import Consent
from lessons.media import store
from lessons.models import Attachment
from tests import factories
from tests.factories import keep_picture, picture_bytes

from .media.clips import clip


@pytest.fixture
def block(student, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return factories.make_block(lesson=factories.make_lesson(student=student))


def upload(data: bytes, name: str = "photo.png") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/png")


def send(client, block, **values):
    whole = {"angle": "face_on", "block": str(block.code), "keep_days": "180", "yes": "on", "key": str(uuid.uuid4()),
             "before": upload(picture_bytes()), **values}
    return client.post(reverse("lessons:pictures", args=[block.lesson.code]), whole)


def test_a_pair_is_kept_with_a_yes_and_shown_side_by_side(as_coach, block):
    answer = send(as_coach, block, after=upload(picture_bytes()), after_aids=["sticks"])
    assert answer.status_code == 302
    text = as_coach.get(answer["Location"]).content.decode()
    assert "{#" not in text
    assert "2 pictures kept, without place, time and sound." in text and text.count('class="pair-half"') == 2
    assert "with alignment sticks" in text and "no aids" in text and "Only one of the two is with aids" in text
    assert Consent.objects.get().item == "keeping"


def test_without_the_yes_the_file_is_dropped_unread(as_coach, block):
    answer = send(as_coach, block, yes="")
    assert answer.status_code == 422 and "only after a yes" in answer.content.decode()
    assert not Attachment.objects.exists() and not list(store.every_file()) and not Consent.objects.exists()


def test_a_junior_s_page_asks_for_the_guardian_and_takes_nothing(as_coach, block, student):
    student.born_on = timezone.localdate() - timedelta(days=4000)
    student.save()
    text = as_coach.get(reverse("lessons:pictures", args=[block.lesson.code])).content.decode()
    assert "nobody has allowed this yet" in text and 'type="file"' not in text
    assert send(as_coach, block).status_code == 422 and not Attachment.objects.exists()


@pytest.mark.parametrize(("data", "words"), [
    (b"<svg onload='alert(1)'></svg>", "not a picture"), (b"<html></html>", "not a picture"),
    (clip("mp4")[:400], "cut off or damaged"),
])
def test_a_wrong_file_is_named_and_nothing_is_kept(as_coach, block, data, words):
    answer = send(as_coach, block, after=upload(data, "swing.mp4"))
    assert answer.status_code == 422 and words in answer.content.decode()
    assert not Attachment.objects.exists() and not list(store.every_file())


def test_nothing_chosen_is_said(as_coach, block):
    assert "Nothing was chosen" in send(as_coach, block, before="").content.decode()


def test_a_file_s_name_is_never_used(as_coach, block):
    send(as_coach, block, before=upload(picture_bytes(), "../../../etc/passwd"))
    (name, path), = store.every_file()
    assert path.name == f"{Attachment.objects.get().code.hex}.jpg" and path.parent.name == "attached"


def test_a_picture_is_handed_out_as_a_picture_and_nothing_else(as_coach, block):
    row = keep_picture(block=block)
    answer = as_coach.get(reverse("lessons:picture", args=[row.code]))
    assert answer.status_code == 200 and b"".join(answer.streaming_content)[:2] == b"\xff\xd8"
    assert answer["Content-Type"] == "image/jpeg" and answer["X-Content-Type-Options"] == "nosniff"
    assert "sandbox" in answer["Content-Security-Policy"] and answer["Cache-Control"] == "no-store"
    assert answer["Content-Disposition"] == 'inline; filename="picture.jpg"'


@pytest.mark.parametrize(("asked", "status", "start", "end"), [
    ("bytes=0-", 206, 0, None), ("bytes=10-19", 206, 10, 20), ("bytes=-5", 206, -5, None),
    ("bytes=5-999999999", 206, 5, None), ("lines=1-2", 206, 0, None),
])
def test_a_clip_is_handed_out_in_the_pieces_a_player_asks_for(as_coach, block, asked, status, start, end):
    row = keep_picture(block=block, data=clip("webm"))
    whole = store.path_of(code=row.code, mime=row.mime).read_bytes()
    answer = as_coach.get(reverse("lessons:picture", args=[row.code]), headers={"Range": asked})
    assert answer.status_code == status and answer["Content-Type"] == "video/webm"
    assert b"".join(answer.streaming_content) == whole[start:end]
    assert answer["Content-Range"].endswith(f"/{len(whole)}")


def test_a_piece_outside_the_file_is_refused(as_coach, block):
    row = keep_picture(block=block)
    answer = as_coach.get(reverse("lessons:picture", args=[row.code]), headers={"Range": "bytes=99999999-"})
    assert answer.status_code == 416


def test_after_a_withdrawal_the_file_s_own_address_is_a_missing_page(as_coach, block, student):
    row = keep_picture(block=block)
    withdraw_consent(by=student.coach, student=student, item="keeping", day=timezone.localdate())
    assert as_coach.get(reverse("lessons:picture", args=[row.code])).status_code == 404
    text = as_coach.get(reverse("lessons:pictures", args=[block.lesson.code])).content.decode()
    assert "not shown" in text and "withdrawn on" in text and str(row.code) not in text


def test_another_coach_and_the_owner_get_a_missing_page(client, block, other_coach, owner):
    row = keep_picture(block=block)
    for person in (other_coach, owner):
        client.force_login(person)
        assert client.get(reverse("lessons:picture", args=[row.code])).status_code == 404
        assert client.get(reverse("lessons:pictures", args=[block.lesson.code])).status_code == 404


def test_taking_out_hides_the_file_at_once(as_coach, block):
    row = keep_picture(block=block)
    assert as_coach.post(reverse("lessons:picture_out", args=[row.code])).status_code == 302
    assert as_coach.get(reverse("lessons:picture", args=[row.code])).status_code == 404


def test_each_club_of_the_lesson_is_offered_once(as_coach, block):
    for club in ("Driver", "7 iron", "Driver"):
        newest = factories.make_block(lesson=block.lesson, club_name=club)
    page = as_coach.get(reverse("lessons:pictures", args=[block.lesson.code]))
    choices = page.context["form"].fields["block"].choices
    assert [name for _, name in choices] == ["Driver", "7 iron"] and choices[0][0] == str(newest.code)
