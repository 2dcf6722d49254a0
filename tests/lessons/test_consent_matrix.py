"""Each consent switches its own functions and no others, everywhere at once, and says why.

The table below is the promise: consent × what it is for. Medical care and travel switch nothing that the program
does; they are said to the coach. Sharing switches nothing either: no page and no file shows a picture to anybody
but the student, the guardians and the coach.
"""

import html
import uuid
from datetime import timedelta

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone

from academy.consents import give_consent, withdraw_consent
from academy.models import Consent
from lessons.models import Attachment, Lesson, StudentMessage
from lessons.queries import drill_records
from lessons.services.media import attach
from tests import factories
from tests.factories import clean, picture_bytes

from .private import cast

NEEDS = {
    "begin a lesson": {"lessons"},
    "measure from a photo": {"filming"},
    "keep a picture": {"filming", "keeping"},
    "see kept pictures on the private page": {"filming", "keeping"},
    "mail the lesson sheet": {"messaging"},
    "copy the lesson sheet": {"messaging"},
    "ask the coach from the page": {"messaging"},
    "answer a question": {"messaging"},
    "count in the academy’s own statistics": {"statistics"},
    "tell about pain": set(),
    "read the private page": set(),
    "print the sheet": set(),
}
ITEMS = list(Consent.Item.values)


class House:
    """A junior with a guardian, a lesson to come, one that was held, and a kept picture."""

    def __init__(self, coach, client) -> None:
        self.client, self.coach = client, coach
        born = timezone.localdate() - timedelta(days=12 * 366)
        self.junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=born)
        self.parent = cast.guardian_of(self.junior, "Tess Reed")
        for item in ITEMS:
            self.give(item)
        self.held, _ = cast.whole_story(self.junior)
        self.block = self.held.blocks.first()
        self._keep()
        self.phone = cast.holder_of(self.junior, guardian=self.parent)

    def give(self, item, on=None) -> None:
        give_consent(
            by=None, student=self.junior, item=item, given_on=on or timezone.localdate(), guardian=self.parent)

    def withdraw(self, item) -> None:
        withdraw_consent(by=None, student=self.junior, item=item, day=timezone.localdate())

    def _keep(self) -> Attachment:
        return attach(
            by=self.coach, lesson=self.held, cleaned=clean(picture_bytes()), block=self.block, angle="face_on",
            phase="before", aids=[], keep_days=90, key=uuid.uuid4())

    def works(self, function: str) -> bool:
        return getattr(self, function.replace(" ", "_").replace("’", ""))()

    def begin_a_lesson(self) -> bool:
        lesson = factories.make_lesson(student=self.junior, status=Lesson.Status.PLANNED)
        self.client.post(reverse("lessons:lesson_start", args=[lesson.code]))
        lesson.refresh_from_db()
        return lesson.status == Lesson.Status.RUNNING

    def measure_from_a_photo(self) -> bool:
        page = self.client.get(reverse("lessons:photo", args=[self.held.code])).content.decode()
        return 'type="file"' in page

    def keep_a_picture(self) -> bool:
        page = self.client.get(reverse("lessons:pictures", args=[self.held.code])).content.decode()
        return 'type="file"' in page

    def see_kept_pictures_on_the_private_page(self) -> bool:
        return "pair-half" in self.phone.get("/me/pictures/").content.decode()

    def mail_the_lesson_sheet(self) -> bool:
        mail.outbox.clear()
        self.client.post(reverse("lessons:sheet_send", args=[self.held.code]), {"key": str(uuid.uuid4())})
        return bool(mail.outbox)

    def copy_the_lesson_sheet(self) -> bool:
        return "Copy the text" in self.client.get(reverse("lessons:note", args=[self.held.code])).content.decode()

    def ask_the_coach_from_the_page(self) -> bool:
        sent = {"key": str(uuid.uuid4()), "kind": "question", "text": "May I?"}
        return self.phone.post("/me/message/", sent).status_code == 302

    def answer_a_question(self) -> bool:
        message = StudentMessage.objects.create(
            student=self.junior, key=uuid.uuid4(), text="?", sent_at=timezone.now())
        address = reverse("lessons:message_answer", args=[self.junior.code, message.code])
        return self.client.post(address, {"answer": "Yes."}).status_code == 302

    def count_in_the_academys_own_statistics(self) -> bool:
        return self.junior.pk in drill_records._consenting()

    def tell_about_pain(self) -> bool:
        return self.phone.post("/me/pain/", {"key": str(uuid.uuid4()), "pain": "1"}).status_code == 302

    def read_the_private_page(self) -> bool:
        return "toes on the railway line" in self.phone.get("/me/").content.decode()

    def print_the_sheet(self) -> bool:
        return "data-print" in self.client.get(reverse("lessons:note", args=[self.held.code])).content.decode()


@pytest.fixture
def house(coach, as_coach, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return House(coach, as_coach)


def off(house) -> set[str]:
    return {function for function in NEEDS if not house.works(function)}


def needing(item) -> set[str]:
    return {function for function, items in NEEDS.items() if item in items}


def test_with_every_consent_everything_works(house):
    assert off(house) == set()


@pytest.mark.parametrize("item", ITEMS)
def test_a_withdrawn_consent_switches_off_its_functions_and_no_others_and_says_why(house, item):
    house.withdraw(item)
    assert off(house) == needing(item)
    said = f"{Consent.Item(item).label}: withdrawn on"
    for answer in (
        house.client.get(reverse("academy:guardians", args=[house.junior.code])), house.phone.get("/me/consents/"),
    ):
        assert said in html.unescape(answer.content.decode())


@pytest.mark.parametrize("item", ["lessons", "messaging"])
def test_a_consent_that_ran_out_switches_off_as_a_withdrawn_one_does(house, item):
    year = timedelta(days=366)
    Consent.objects.filter(item=item).update(
        given_on=timezone.localdate() - year, expires_on=timezone.localdate() - timedelta(days=1))
    assert off(house) == needing(item)


@pytest.mark.parametrize("item", ["lessons", "messaging"])
def test_given_anew_everything_works_again(house, item):
    house.withdraw(item)
    house.give(item)
    assert off(house) == set()
