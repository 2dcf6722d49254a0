"""The first visit and the test battery: asked, looked at, measured, due, and compared on one page."""

import re
import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from academy import health
from academy.models import HealthFlag
from lessons.models import Battery, Block, Lesson, SkillBall, SkillTest
from lessons.queries.batteries.due import due_of
from lessons.queries.batteries.report import report_of
from lessons.services.batteries import begin_battery, begin_measure, finish_battery
from metrics.plans.battery import BODY, LOOKS, MEASURES
from metrics.shortgame.designs import DESIGNS, target_at
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch
from tests.lessons.private import cast
from tests.lessons.test_progress_page import TEN

NO = {one.key: "no" for one in BODY if one.answer == "yes_no"}
EASY = {one.key: "easy" for one in LOOKS}
BY_KEY = {one.key: one for one in MEASURES}


def make(student, *, days_ago: int = 0, finished: bool = True, **values) -> Battery:
    day = timezone.localdate() - timedelta(days=days_ago)
    return Battery.objects.create(student=student, begun_on=day, finished_on=day if finished else None, **values)


def send(client, battery, part: str, **values):
    return client.post(f"/batteries/{battery.code}/parts/{part}/", {"pain_key": str(uuid.uuid4()), **values})


@pytest.fixture
def battery(student):
    return make(student, finished=False)


def test_one_battery_is_open_at_a_time(as_coach, student):
    for _ in range(2):
        as_coach.post(f"/students/{student.code}/batteries/new/")
    assert Battery.objects.count() == 1


def test_the_conversation_is_stored_with_what_was_said(as_coach, battery):
    send(as_coach, battery, "ask", goals="Break ninety with my brother", eye="left")
    battery.refresh_from_db()
    assert battery.asked == {"goals": "Break ninety with my brother", "eye": "left"}
    assert "Break ninety with my brother" in as_coach.get(f"/batteries/{battery.code}/").content.decode()


def test_one_yes_about_the_body_keeps_full_swings_off_until_a_clinician_has_spoken(as_coach, battery, student):
    send(as_coach, battery, "body", **NO | {"heart": "yes"})
    flag = HealthFlag.objects.get()
    assert flag.waits_for_a_word and flag.stops_long_game
    page = as_coach.get(f"/batteries/{battery.code}/?part=measure").content.decode()
    assert "A clinician’s word first" in page and "Call 112" not in page
    assert page.count("Off: health first") == 3
    as_coach.post(f"/students/{student.code}/health/{flag.code}/clear/", {"by_clinician": "no"})
    flag.refresh_from_db()
    assert flag.cleared_at is None
    send(as_coach, battery, "body", **NO | {"heart": "yes", "cleared": "yes"})
    flag.refresh_from_db()
    assert flag.cleared_by_clinician


def test_calm_days_do_not_stand_for_a_clinicians_word(as_coach, battery, student):
    send(as_coach, battery, "body", **NO | {"faint": "yes"})
    HealthFlag.objects.update(reported_at=timezone.now() - timedelta(days=9))
    for _ in range(2):
        as_coach.post(f"/students/{student.code}/health/day/", {"severity": "0"})
    assert HealthFlag.objects.get().cleared_at is None


def test_the_same_answers_sent_again_make_no_second_entry(as_coach, battery):
    for _ in range(2):
        send(as_coach, battery, "body", **NO | {"heart": "yes"})
    assert HealthFlag.objects.count() == 1


def test_all_no_shuts_nothing(as_coach, battery):
    send(as_coach, battery, "body", **NO)
    assert not HealthFlag.objects.exists()
    battery.refresh_from_db()
    assert battery.health == NO


def test_a_question_left_out_is_asked_for(as_coach, battery):
    response = send(as_coach, battery, "body", **{**NO, "chest": ""})
    assert response.status_code == 422 and "Not answered yet: yes or no." in response.content.decode()


def test_the_history_says_nothing_about_the_answers(as_coach, battery, student):
    send(as_coach, battery, "body", **NO | {"pregnancy": "yes"})
    sentences = " ".join(student.changes.values_list("sentence", flat=True))
    assert "body" in sentences and "pregnan" not in sentences.lower()


def test_a_look_that_hurts_ends_the_looks_and_asks_where(as_coach, battery):
    response = send(as_coach, battery, "look", one_leg="easy", turn="pain")
    assert response.status_code == 422 and "say where and how strong" in response.content.decode()
    send(as_coach, battery, "look", one_leg="easy", turn="pain", area="low_back", severity="5")
    flag = HealthFlag.objects.get()
    assert (flag.area, flag.severity, flag.stops_long_game) == ("low_back", 5, True)
    page = as_coach.get(f"/batteries/{battery.code}/").content.decode()
    assert "ended: a look hurt" in page and health.STOP.title in page


@pytest.mark.parametrize(("values", "said"), [
    ({"area": "hip"}, "Say how strong it is"), ({"severity": "3"}, "Say where it hurts"),
    ({"turn": "stiff"}, "not one of the available choices"),
])
def test_half_a_word_about_pain_is_asked_for(as_coach, battery, values, said):
    response = send(as_coach, battery, "look", **values)
    assert response.status_code == 422 and said in response.content.decode()
    assert not HealthFlag.objects.exists()


def test_ten_drivers_open_as_a_test_block_without_aids_or_numbers(as_coach, battery, student):
    lesson = factories.make_lesson(student=student)
    for _ in range(2):
        response = as_coach.post(f"/batteries/{battery.code}/measures/driver/")
    block = Block.objects.get()
    assert response.status_code == 302 and str(block.code) in response["Location"]
    assert (block.purpose, block.aids, block.feedback_shown, block.wanted_balls) == ("test", [], False, 10)
    battery.refresh_from_db()
    assert battery.lesson == lesson


def test_without_a_lesson_full_balls_are_refused_and_chips_are_not(as_coach, battery):
    response = as_coach.post(f"/batteries/{battery.code}/measures/driver/")
    assert response.status_code == 422 and "start the lesson first" in response.content.decode()
    as_coach.post(f"/batteries/{battery.code}/measures/chips/")
    assert SkillTest.objects.get().battery == battery


def test_health_shuts_the_balls_even_where_the_page_was_open_before(as_coach, battery, student):
    factories.make_lesson(student=student)
    HealthFlag.objects.create(student=student, area="hip", severity=6, reported_at=timezone.now())
    response = as_coach.post(f"/batteries/{battery.code}/measures/seven_iron/")
    assert response.status_code == 422 and "Health comes first" in response.content.decode()
    assert not Block.objects.exists()


def test_it_may_run_over_two_visits_and_not_over_three(coach, battery, student):
    for days_ago in (14, 7):
        lesson = factories.make_lesson(student=student, days_ago=days_ago)
        begin_measure(by=coach, battery=battery, measure=BY_KEY["driver"])
        Lesson.objects.filter(pk=lesson.pk).update(status="finished")
    assert None not in (battery.lesson_id, battery.second_lesson_id)
    factories.make_lesson(student=student)
    with pytest.raises(Exception, match="two visits at most"):
        begin_measure(by=coach, battery=battery, measure=BY_KEY["chips"])


@pytest.mark.parametrize(("days_ago", "state"), [(10, "early"), (55, "early"), (56, "due"), (84, "due"), (85, "late")])
def test_it_is_due_eight_to_twelve_weeks_after_the_last(student, days_ago, state):
    make(student, days_ago=days_ago)
    assert due_of(student=student, today=timezone.localdate()).state == state


def test_a_due_battery_is_shown_on_the_students_page(as_coach, student):
    make(student, days_ago=70)
    page = as_coach.get(f"/students/{student.code}/").content.decode()
    assert "Battery (due)" in page and "due now, until" in page


def test_a_battery_is_finished_opened_again_taken_out_and_put_back(as_coach, battery, student):
    address = f"/batteries/{battery.code}/"
    assert as_coach.post(f"{address}finish/")["Location"].endswith("/report/")
    as_coach.post(f"{address}finish/", {"again": "1"})
    battery.refresh_from_db()
    assert battery.finished_on is None
    assert "out of view" in as_coach.post(f"{address}out/").content.decode()
    as_coach.post(f"{address}out/", {"back": "1"})
    battery.refresh_from_db()
    assert battery.removed_at is None


def measured(student, *, days_ago: int, path: float, putts: int) -> Battery:
    """A finished battery: ten drivers with this mean path, ten short putts of which some were holed."""
    lesson = factories.make_lesson(student=student, days_ago=days_ago, status="finished")
    block = factories.make_block(lesson=lesson, purpose="test", feedback_shown=False)
    factories.add_balls(
        block=block, club_path_deg=[path + ball for ball in TEN], launch_direction_deg=[ball / 2 for ball in TEN],
        spin_axis_deg=list(TEN))
    battery = make(student, days_ago=days_ago, lesson=lesson, looked=EASY)
    test = SkillTest.objects.create(student=student, battery=battery, design="putt_five", seed=3)
    for number in range(1, 11):
        target = target_at(design=DESIGNS["putt_five"], seed=3, number=number).metres
        SkillBall.objects.create(test=test, number=number, target_m=target, done=number <= putts)
    return battery


@pytest.fixture
def two(student):
    student.handicap_index = 9.0
    student.save()
    return measured(student, days_ago=70, path=8.0, putts=2), measured(student, days_ago=2, path=0.5, putts=9)


def report(battery, against):
    return report_of(battery=battery, against=against, earlier=[], system="yards")


def rows_of(page):
    return {(group.title, row.label): row for group in page["groups"] for row in group.rows}


def test_each_number_stands_with_its_interval_its_balls_and_the_word_of_did_it_hold(two):
    before, now = two
    rows = rows_of(report(now, before))
    path = rows["Ten drivers", "Club path"]
    assert path.before == "+8.0° (95 % +6.6 to +9.4), n 10" and path.now == "+0.5° (95 % −0.9 to +1.9), n 10"
    assert path.change.startswith("−7.5° (95 % −") and path.word == "Likely kept"
    putts = rows["Ten putts of 5 ft", "Holed"]
    assert putts.now.startswith("90 % (9 of 10)") and putts.word == "better than last time"
    assert rows["Ten drivers", "Spread of the start direction (SD)"].word == "Needs 20 balls a side"


def test_the_headline_counts_what_moved_and_what_cannot_be_told(two):
    before, now = two
    assert report(now, before)["words"] == "Of 3 numbers in both: 2 better, 0 less good, 1 not to be told from luck."


def test_the_same_numbers_twice_claim_nothing(student):
    before, now = (measured(student, days_ago=days, path=3.0, putts=5) for days in (70, 2))
    page = report(now, before)
    assert page["words"].startswith("Of 3 numbers in both: 0 better, 0 less good")


def test_what_was_not_measured_says_so_and_a_first_battery_compares_nothing(two):
    before, _ = two
    page = report(before, None)
    assert {group.title for group in page["groups"] if group.missing} == {
        "Ten seven-irons", "Ten wedges to 50 yd", "Ten chips", "Ten putts of 30 ft"}
    assert all(row.before == "" and row.word == "" for group in page["groups"] for row in group.rows)


def test_the_report_costs_no_more_queries_for_ten_visits_more(two, student, django_assert_max_num_queries):
    before, now = two
    with django_assert_max_num_queries(18):
        report(now, before)
    for days_ago in range(10, 60, 5):
        lesson = factories.make_lesson(student=student, days_ago=days_ago, status="finished")
        factories.add_balls(block=factories.make_block(lesson=lesson), club_path_deg=[2.0] * 10)
    with django_assert_max_num_queries(18):
        report(now, before)


def test_what_is_kept_about_the_student_holds_the_battery_the_rounds_and_the_tests(two, client, student):
    record = cast.holder_of(student, client).get("/me/kept/my-golf-record.json").json()
    assert len(record["batteries"]) == 2 and record["batteries"][0]["looked"]["turn"] == "easy"
    assert len(record["short_game"]) == 20 and record["short_game"][0]["design"] == "putt_five"
    assert record["rounds"] == [] and record["plans"] == []


@pytest.mark.django_db(transaction=True)
def test_a_first_visit_is_walked_through_and_its_report_prints_on_one_page(page, live_server, two, coach, student):
    before, now = two
    seen = watch(sign_in(page, live_server, coach), live_server)
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}/students/{student.code}/batteries/")
    page.get_by_role("button", name="Begin a battery").click()
    page.get_by_label("What do you want from golf").fill("Play with my son")
    page.get_by_role("button", name="Store the answers").first.click()
    page.locator("#part-body[open]").wait_for()
    for key in NO:
        page.locator(f"label[for=body_{key}_1]").click()
    page.locator("#part-body").get_by_role("button", name="Store the answers").click()
    page.locator("#part-look[open]").wait_for()
    for key in EASY:
        page.locator(f"label[for=look_{key}_0]").click()
    page.get_by_role("button", name="Store the looks").click()
    page.locator("#part-measure[open]").get_by_role("button", name="Begin ten putts of 5 ft").click()
    page.get_by_role("button", name="Holed").click()
    page.get_by_text("Ball 2 of 10").wait_for()
    finish_battery(by=coach, battery=begin_battery(by=coach, student=student, day=now.begun_on), day=now.begun_on)
    page.set_viewport_size(WIDE)
    page.goto(f"{live_server.url}/batteries/{now.code}/report/")
    assert page.get_by_text("Likely kept").is_visible()
    assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4"))) == 1
    seen.assert_clean()


def test_a_pain_is_not_lost_where_the_forms_key_is_somebody_elses(as_coach, battery, coach):
    other = factories.make_student(coach=coach, name="Somebody Else")
    taken = HealthFlag.objects.create(student=other, area="hip", severity=2, reported_at=timezone.now())
    send(as_coach, battery, "look", pain_key=str(taken.code), turn="pain", area="knee", severity="4")
    assert HealthFlag.objects.get(student=battery.student).area == "knee"
