"""What a student or guardian does beside practising, each walked once on a phone."""

import json
from datetime import timedelta

import pytest
from django.utils import timezone

from academy.models import Concern, Consent, Goal, HealthFlag, PainReading
from lessons.models import StudentMessage
from tests import factories
from tests.browser import PHONE, watch

from . import cast

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def phone(browser):
    context = browser.new_context(viewport=PHONE, has_touch=True, service_workers="block")
    yield context
    context.close()


def opened(phone, live_server, student, **values):
    page = phone.new_page()
    page.goto(f"{live_server.url}/p/{cast.token_for(student, **values)}/")
    page.get_by_role("button", name="Open my page").tap()
    page.get_by_text("toes on the railway line").wait_for()
    return page, watch(page, live_server)


def test_the_first_view_holds_cue_dose_progress_and_most_of_the_picture(phone, live_server, student):
    student.practice_minutes_week = 60
    student.save()
    cast.whole_story(student)
    Goal.objects.create(student=student, text="Path home", quantity="club_path_deg", category="driver")
    page, seen = opened(phone, live_server, student)
    for part in (page.get_by_text("toes on the railway line"), page.get_by_role("link", name="Practise now"),
                 page.get_by_text("15 minutes, at most 12 balls"), page.locator(".leaf-first .verdict")):
        box = part.bounding_box()
        assert box["y"] >= 0 and box["y"] + box["height"] <= PHONE["height"]
    picture = page.locator(".leaf-first svg.pic-plan").bounding_box()
    assert PHONE["height"] - picture["y"] >= 0.6 * picture["height"]
    assert page.locator(".leaf-first svg.pic-plan").get_attribute("data-hand") == "right"
    seen.assert_clean()


def test_the_second_calm_day_opens_full_swings(phone, live_server, student):
    cast.whole_story(student)
    HealthFlag.objects.create(
        student=student, area="hip", severity=5, reported_at=timezone.now() - timedelta(days=3))
    PainReading.objects.create(student=student, severity=1, said_on=timezone.localdate() - timedelta(days=1))
    page, seen = opened(phone, live_server, student)
    assert not page.get_by_role("link", name="Practise now").is_visible()
    page.get_by_text("How is it today?", exact=True).tap()
    page.locator("form[action='/me/pain/today/'] label.choice", has_text="2").tap()
    page.get_by_role("button", name="Say how it is today").tap()
    page.locator(".undo-line", has_text="Full swings are open again").wait_for()
    assert page.get_by_role("link", name="Practise now").is_visible()
    seen.assert_clean()


def test_a_guardian_allows_messages_and_withdraws_them(phone, live_server, coach):
    born = timezone.localdate() - timedelta(days=12 * 366)
    junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=born)
    parent = cast.guardian_of(junior, "Tess Reed")
    cast.whole_story(junior)
    page, seen = opened(phone, live_server, junior, guardian=parent)
    page.get_by_role("link", name="What I have allowed").tap()
    page.get_by_role("button", name="Allow Messages").tap()
    page.get_by_text("Messages: allowed by Tess Reed").wait_for()
    page.get_by_role("button", name="Withdraw Messages").tap()
    page.get_by_text("Messages: withdrawn on").wait_for()
    assert Consent.objects.get().withdrawn_on == timezone.localdate()
    seen.assert_clean()


def test_a_worry_reaches_the_welfare_lead(phone, live_server, student):
    factories.make_coach("welfare", first_name="Ines", last_name="Quill", is_coach=False, is_welfare_lead=True)
    cast.whole_story(student)
    page, seen = opened(phone, live_server, student)
    page.get_by_role("link", name="A worry, for the welfare lead").tap()
    page.get_by_label("What worries you").fill("The bay door is locked from inside.")
    page.get_by_role("button", name="Send it").tap()
    page.get_by_text("The welfare lead has it.").wait_for()
    assert Concern.objects.get().student == student
    seen.assert_clean()


def test_the_record_is_taken_along_and_its_deletion_asked_for(phone, live_server, student):
    cast.whole_story(student)
    page, seen = opened(phone, live_server, student)
    page.get_by_role("link", name="What is kept about me").tap()
    with page.expect_download() as taken:
        page.get_by_role("link", name="A file for programs (json)").tap()
    assert json.loads(taken.value.path().read_text())["student"]["name"] == student.name
    page.get_by_role("button", name="Ask to delete").tap()
    page.get_by_text("Nothing is deleted until you two have spoken").wait_for()
    assert StudentMessage.objects.get().kind == "deletion"
    seen.assert_clean()


def test_a_tick_from_the_page_with_fun_and_a_word_about_pain(phone, live_server, coach):
    born = timezone.localdate() - timedelta(days=12 * 366)
    junior = factories.make_student(coach=coach, name="Ilya Reed", born_on=born)
    cast.whole_story(junior)
    page, seen = opened(phone, live_server, junior, guardian=cast.guardian_of(junior))
    page.get_by_text("I have practised", exact=True).tap()
    page.locator("#tick_minutes").fill("15")
    page.locator("#tick label.choice, [aria-labelledby=tick] label.choice", has_text="A lot").tap()
    page.get_by_role("button", name="Store this practice").tap()
    page.get_by_text("Practice stored").wait_for()
    assert junior.practice.get().fun == 3
    seen.assert_clean()
