"""What must not move a verdict on the page: order, hand, units, a second import; what may only strengthen it."""

import csv
import io
import random

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from lessons.models import Block, ImportBatch
from lessons.queries.held import held_for
from lessons.queries.progress.page import progress_of
from metrics.change import Visit
from metrics.change.model import lag1
from tests import factories
from tests.lessons.progress.records import balls, block, prescribe, text_of, visit

STRENGTH = {"cannot_tell": 0, "likely": 1, "established": 2}
CASES = [((5.7, 12), (3.0, 12)), ((5.0, 10), (4.2, 9)), ((5.7, 8), (3.4, 20)), ((5.2, 12), (8.0, 12))]


@pytest.fixture
def player(student):
    student.handicap_index = 9.0
    student.save()
    return student


def story(player, *, before, after, order=None, sign=1, intent="draw"):
    """One visit before the change and one after it; ``order`` mixes the balls of each."""
    made = []
    for days_ago, (mean, n) in ((30, before), (5, after)):
        values = in_order([sign * ball for ball in balls(mean, 2.0, n)], seed=order or 0)
        made.append(block(visit(player, days_ago=days_ago), columns={"club_path_deg": values}, intent=intent))
    prescribe(made[0], pattern="over_draw")
    return made


def in_order(values, *, seed):
    """The balls in some order in which none follows the one before it: such balls would count as fewer."""
    mixed, rng = list(values), random.Random(seed)
    while True:
        rng.shuffle(mixed)
        if lag1(visits=[Visit(day=1, values=tuple(mixed))]) < 0.1:
            return mixed


def numbers_of(player, system="yards"):
    found = progress_of(student=player, wanted={}, system=system).verdict
    return found.code, found.numbers


@pytest.mark.parametrize(("before", "after"), CASES)
def test_the_order_of_the_balls_changes_nothing_of_the_verdict(player, before, after):
    story(player, before=before, after=after)
    first = progress_of(student=player, wanted={}, system="yards").verdict
    player.lessons.all().delete()
    story(player, before=before, after=after, order=3)
    assert progress_of(student=player, wanted={}, system="yards").verdict == first


@pytest.mark.parametrize(("before", "after"), CASES)
def test_a_fade_that_mirrors_a_draw_gets_the_same_verdict_with_the_signs_turned(player, before, after):
    story(player, before=before, after=after)
    code, numbers = numbers_of(player)
    player.lessons.all().delete()
    story(player, before=before, after=after, sign=-1, intent="fade")
    other, mirrored = numbers_of(player)
    assert other == code and mirrored.p_toward == pytest.approx(numbers.p_toward, abs=1e-12)
    assert mirrored.change == pytest.approx(-numbers.change)


def test_a_left_handers_file_with_every_side_turned_round_gives_the_same_page(as_coach, coach):
    """The file states path as + right of the target; for a left-hander that is the hook side."""
    said = {}
    for hand, sign in (("right", 1), ("left", -1)):
        player = factories.make_student(coach=coach, hand=hand, handicap_index=9.0)
        made = [load(as_coach, visit(player, days_ago=days_ago), [sign * value for value in balls(mean, 2.0, 12)])
                for days_ago, mean in ((30, 5.7), (5, 3.0))]
        prescribe(made[0])
        said[hand] = text_of(as_coach, player)
    assert "Likely kept" in said["right"] and said["left"] == said["right"]


@pytest.mark.parametrize(("before", "after"), CASES)
def test_yards_and_metres_say_the_same_of_speed(player, before, after):
    for days_ago, (mean, n) in ((30, before), (5, after)):
        block(visit(player, days_ago=days_ago), columns={"club_speed_mps": balls(40 + mean, 1.0, n)})
    found = {system: progress_of(student=player, wanted={"show": "driver:club_speed_mps"}, system=system).verdict
             for system in ("yards", "metres")}
    assert found["yards"].code == found["metres"].code
    assert found["yards"].numbers == found["metres"].numbers
    assert "mph" in found["yards"].coach.reason and "km/h" in found["metres"].coach.reason


def test_the_same_file_loaded_twice_changes_no_word_of_the_page(as_coach, player):
    first, second = visit(player, days_ago=30), visit(player, days_ago=5)
    prescribe(load(as_coach, first, balls(5.7, 2.0, 12)))
    load(as_coach, second, balls(3.0, 2.0, 12))
    once = text_of(as_coach, player)
    assert "12 balls in 1 visit against 12 balls in 1 visit" in once
    load(as_coach, second, balls(3.0, 2.0, 12))
    assert text_of(as_coach, player) == once


@pytest.mark.parametrize(("before", "after"), [case for case in CASES if case[0][0] > case[1][0]])
def test_balls_and_visits_that_confirm_never_weaken_the_word(player, before, after):
    made = story(player, before=before, after=after)
    seen = [STRENGTH[held_for(student=player).code]]
    for _ in range(3):
        factories.add_balls(block=made[1], club_path_deg=[after[0], after[0]])
        seen.append(STRENGTH[held_for(student=player).code])
    for days_ago in (4, 3, 2):
        block(visit(player, days_ago=days_ago), mean=after[0], sd=2.0, n=12)
        seen.append(STRENGTH[held_for(student=player).code])
    assert seen == sorted(seen)


def load(client, lesson, paths) -> Block:
    """Take a file into a lesson through its pages, as its first ten."""
    out = io.StringIO()
    csv.writer(out).writerows([["Club", "Club Path (deg)"], *(["Driver", f"{value:.4f}"] for value in paths)])
    client.post(reverse("lessons:import_new", args=[lesson.code]),
                {"file": SimpleUploadedFile("balls.csv", out.getvalue().encode())})
    batch = ImportBatch.objects.filter(stored_at__isnull=True).latest("pk")
    client.post(reverse("lessons:import_store", args=[batch.code]), follow=True)  # so that its message is read
    made = lesson.blocks.get()
    Block.objects.filter(pk=made.pk).update(purpose="first_ten", intent="draw")
    made.lesson = lesson
    return made
