"""Goals with a verdict: on the coach's page with its numbers, on the student's in plain words."""

import random
from datetime import date, timedelta

import pytest
from django.utils import timezone

from academy.models import Club, Goal
from lessons.models import Round, SkillBall, SkillTest
from lessons.queries.goals.lines import goal_lines
from metrics.shortgame.designs import DESIGNS, target_at
from tests import factories
from tests.lessons.private import cast
from tests.lessons.test_progress_page import prescribe, visit

TODAY = date(2026, 6, 1)


def goal(student, *, days_ago: float = 30, **values) -> Goal:
    whole = {"text": "Path home", "kind": "performance", "created_at": timezone.now() - timedelta(days=days_ago)}
    return Goal.objects.create(student=student, **{**whole, **values})


def path_goal(student, **values) -> Goal:
    whole = {"quantity": "club_path_deg", "category": "driver", "test": "first_ten", "intent": "draw"}
    return goal(student, **{**whole, **values})


def said_of(student, system="yards"):
    return [line.said for line in goal_lines(student=student, system=system, today=TODAY)]


@pytest.fixture
def gained(student):
    """Path 5.7 before, 3.0 at two first tens after the goal was set; no change was written down."""
    student.handicap_index = 9.0
    student.save()
    visit(student, days_ago=40, mean=5.7)
    visit(student, days_ago=26, mean=3.0)
    visit(student, days_ago=12, mean=3.1)
    return student


def test_a_goal_is_judged_by_the_first_tens_before_and_after_it_was_set(gained):
    path_goal(gained)
    (said,) = said_of(gained)
    assert (said.code, said.word) == ("established", "Established")
    assert said.wanted == "+2.0° to +4.0°" and said.now.startswith("+3.1°, 10 balls on ")
    assert "+5.7° before, +3.0° after" in said.reason


def test_a_goal_set_after_all_visits_claims_nothing_yet(gained):
    path_goal(gained, days_ago=1)
    (said,) = said_of(gained)
    assert said.code is None and "nothing was hit in a first ten after the goal was set" in said.reason


def test_where_a_change_was_made_for_the_number_its_visit_is_the_turn(student):
    student.handicap_index = 9.0
    student.save()
    prescribe(visit(student, days_ago=40, mean=5.7, purpose="explore"))
    visit(student, days_ago=26, mean=3.0)
    visit(student, days_ago=12, mean=3.1)
    path_goal(student, days_ago=1)
    assert said_of(student)[0].code == "established"


def test_the_goals_own_window_counts_and_not_the_flights(gained):
    path_goal(gained, lower=5.0, upper=6.0)
    assert said_of(gained)[0].code == "slipped"


def test_one_end_is_enough_and_is_said_as_one(gained):
    path_goal(gained, upper=3.5)
    (said,) = said_of(gained)
    assert said.wanted == "at most +3.5°" and said.code == "established"
    Goal.objects.update(upper=None, lower=1.0)
    (said,) = said_of(gained)
    assert said.wanted == "at least +1.0°" and said.code == "in_window"


def test_a_goal_for_one_club_does_not_read_another_of_its_kind(gained):
    club = Club.objects.create(student=gained, name="Old driver", category="driver")
    path_goal(gained, club=club)
    assert "No ball with this number" in said_of(gained)[0].reason


def test_a_number_without_a_window_asks_for_one_end(gained):
    path_goal(gained, quantity="spin_axis_deg")
    gained.lessons.first().blocks.first().shots.update(spin_axis_deg=3.0)
    assert "which way is better" in said_of(gained)[0].reason


def run(student, design: str, hits: int, days_ago: float) -> None:
    test = SkillTest.objects.create(
        student=student, design=design, seed=3, begun_at=timezone.now() - timedelta(days=days_ago))
    for number in range(1, DESIGNS[design].balls + 1):
        target = target_at(design=DESIGNS[design], seed=3, number=number).metres
        SkillBall.objects.create(test=test, number=number, target_m=target, done=number <= hits)


def test_a_goal_of_putts_needs_two_better_runs_to_be_likely(student):
    goal(student, test="putt_make", lower=60)
    assert "not done yet" in said_of(student)[0].reason
    run(student, "putt_make", 6, days_ago=40)
    assert said_of(student)[0].code is None
    run(student, "putt_make", 20, days_ago=20)
    (said,) = said_of(student)
    assert said.code == "cannot_tell" and "a second run like this would make it likely" in said.next_step
    assert said.wanted == "at least 60 %" and said.now.startswith("71 % (20 of 28)")
    run(student, "putt_make", 21, days_ago=5)
    assert said_of(student)[0].code == "likely"


def test_runs_of_another_test_do_not_count(student):
    goal(student, test="putt_make", lower=60)
    run(student, "putt_five", 10, days_ago=5)
    assert "not done yet" in said_of(student)[0].reason


def play(student, days_ago: int, differential: float) -> None:
    Round.objects.create(
        student=student, played_on=timezone.localdate() - timedelta(days=days_ago), adjusted_gross=90,
        official_differential=differential)


def test_a_mean_of_rounds_within_luck_is_not_called_a_gain(student):
    rng = random.Random(3)
    goal(student, kind="outcome", test="rounds", upper=12)
    for n in range(10):
        play(student, 100 - n, 18 + rng.choice([-4, 0, 4]))
        play(student, 20 - n, 17 + rng.choice([-4, 0, 4]))
    (said,) = said_of(student)
    assert said.code == "cannot_tell" and "by luck alone two such means differ by up to" in said.reason


def test_a_mean_of_rounds_far_beyond_luck_is_likely_and_the_other_way_slipped(student):
    goal(student, kind="outcome", test="rounds", upper=12)
    for n in range(10):
        play(student, 100 - n, 18 + n % 3)
        play(student, 20 - n, 11 + n % 3)
    assert said_of(student)[0].code == "likely"
    Round.objects.filter(played_on__gte=timezone.localdate() - timedelta(days=30)).update(official_differential=26.0)
    assert said_of(student)[0].code == "slipped"


def test_no_round_since_the_goal_claims_nothing(student):
    goal(student, kind="outcome", test="rounds", upper=12)
    play(student, 60, 18)
    assert "No round from after the goal was set" in said_of(student)[0].reason


def test_the_coach_reads_the_verdict_and_process_goals_come_first(as_coach, gained):
    goal(gained, kind="outcome", text="Break ninety")
    path_goal(gained)
    goal(gained, kind="process", text="Face before feet")
    page = as_coach.get(f"/students/{gained.code}/").content.decode()
    assert page.index("Face before feet") < page.index("Path home") < page.index("Break ninety")
    assert "Established" in page and "+5.7° before" in page


def test_a_goal_whose_day_has_passed_asks_to_be_read_together(student):
    goal(student, by_date=TODAY - timedelta(days=3))
    (line,) = goal_lines(student=student, system="yards", today=TODAY)
    assert "that day has passed" in line.when


def test_the_student_reads_the_goal_in_plain_words_without_signs_or_chances(client, gained):
    path_goal(gained)
    goal(gained, kind="process", text="Face before feet")
    page = cast.holder_of(gained, client).get("/me/").content.decode()
    section = page[page.index("Working toward"):page.index('aria-labelledby="next"')]
    assert section.index("Face before feet") < section.index("Path home")
    assert "has stayed nearer to your target over several visits" in section
    assert "in 100" not in section and "+5.7" not in section


def test_a_child_reads_no_measure_in_a_goal(client, coach):
    child = factories.make_student(coach=coach, born_on=date(timezone.localdate().year - 8, 1, 1))
    goal(child, text="Path within 2°")
    goal(child, text="Hold the finish")
    page = cast.holder_of(child, client, guardian=cast.guardian_of(child)).get("/me/").content.decode()
    assert "Hold the finish" in page and "within 2°" not in page


def test_what_is_kept_about_the_student_names_the_goals_number(client, gained):
    path_goal(gained, upper=3.5)
    record = cast.holder_of(gained, client).get("/me/kept/my-golf-record.json").json()
    assert record["goals"][0]["quantity"] == "club_path_deg" and record["goals"][0]["upper"] == 3.5


def test_goals_cost_the_same_queries_for_three_visits_and_for_nine(gained, django_assert_num_queries):
    path_goal(gained)
    with django_assert_num_queries(8):
        said_of(gained)
    for days_ago in (50, 60, 70, 80, 90, 100):
        visit(gained, days_ago=days_ago, mean=5.7)
    with django_assert_num_queries(8):
        said_of(gained)
