"""The progress page: verdict first, like with like, and every visit in picture and table."""

import plotly.graph_objects
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from lessons.charts.progress import progress_figure
from lessons.models import Block, Finding, Lesson, Prescription
from lessons.queries.held import held_for
from lessons.queries.progress.page import progress_of
from tests import factories
from tests.browser import PHONE, WIDE, sign_in, watch

# Ten balls with mean 0 and SD 2.0, in no order: balls that follow a trend would count as fewer.
TEN = (0.2, -3.2, 2.0, -1.4, 1.0, -0.2, 3.2, -2.0, 1.4, -1.0)


def visit(student, *, days_ago: int, mean: float, purpose: str = "first_ten", aids=(), balls=TEN, **lesson) -> Block:
    made = factories.make_lesson(student=student, days_ago=days_ago, status=Lesson.Status.FINISHED, **lesson)
    block = factories.make_block(
        lesson=made, purpose=purpose, aids=list(aids), intent="draw", feedback_shown=False
    )
    factories.add_balls(block=block, club_path_deg=[mean + ball for ball in balls])
    return block


def prescribe(block: Block, pattern: str = "over_draw") -> None:
    finding = Finding.objects.create(lesson=block.lesson, block=block, pattern=pattern, title="Out", state="hint")
    Prescription.objects.create(lesson=block.lesson, finding=finding, change="Feet to 3° closed")


@pytest.fixture
def kept(student):
    """Path 5.7, the change, then 3.0 at two later first tens: the worked example of a gain that held."""
    student.handicap_index = 9.0
    student.save()
    prescribe(visit(student, days_ago=40, mean=5.7, purpose="explore"))
    visit(student, days_ago=26, mean=3.0)
    visit(student, days_ago=12, mean=3.1)
    return student


def test_two_later_first_tens_in_the_window_make_it_established(kept):
    assert held_for(student=kept).code == "established"


def test_one_later_first_ten_makes_it_likely_at_most(student):
    prescribe(visit(student, days_ago=30, mean=5.7, purpose="explore"))
    visit(student, days_ago=12, mean=3.0)
    assert held_for(student=student).code == "likely"


def test_a_later_visit_that_began_with_coaching_shows_nothing_about_what_held(student):
    prescribe(visit(student, days_ago=30, mean=5.7, purpose="explore"))
    visit(student, days_ago=12, mean=3.0, purpose="no_aid")
    held = held_for(student=student)
    assert held.code == "" and held.verdict is None


def test_balls_hit_with_aids_never_count_as_held(student):
    prescribe(visit(student, days_ago=30, mean=5.7, purpose="explore"))
    visit(student, days_ago=12, mean=3.0, purpose="with_aid", aids=["sticks"])
    assert held_for(student=student).verdict is None


def test_another_device_is_named_instead_of_compared(student):
    from lessons.models import DataSource

    first, second = (DataSource.objects.create(name=name) for name in ("Unit one", "Unit two"))
    prescribe(visit(student, days_ago=30, mean=5.7, purpose="explore", device=first))
    visit(student, days_ago=12, mean=3.0, device=second)
    held = held_for(student=student)
    assert held.code == "cannot_tell"
    assert "device" in held.sentence


def test_a_start_line_to_the_slice_side_is_asked_to_come_back_not_to_go_further(student):
    block = visit(student, days_ago=30, mean=0.0, purpose="explore")
    block.shots.update(club_path_deg=None)
    factories.add_balls(block=block, launch_direction_deg=[4.0 + ball for ball in TEN])
    prescribe(block, pattern="push_block")
    later = visit(student, days_ago=12, mean=0.0)
    factories.add_balls(block=later, launch_direction_deg=[7.0 + ball for ball in TEN])
    assert held_for(student=student).code == "slipped"


def test_the_page_says_the_verdict_before_any_picture(as_coach, kept):
    page = as_coach.get(reverse("lessons:progress", args=[kept.code])).content.decode()
    assert "Established" in page[page.index("Did it hold?"):page.index("pic-progress")]
    assert "n 10" in page


def test_below_five_balls_there_is_no_mean(as_coach, student):
    visit(student, days_ago=5, mean=5.0, balls=TEN[:4])
    page = as_coach.get(reverse("lessons:progress", args=[student.code])).content.decode()
    assert "not enough balls yet" in page


def test_number_club_and_period_stay_in_the_address(as_coach, kept):
    address = reverse("lessons:progress", args=[kept.code])
    page = as_coach.get(address, {"show": "driver:club_path_deg", "from": "2000-01-01", "to": "2000-12-31"})
    assert "Nothing to compare yet" in page.content.decode()


def test_the_page_takes_the_same_queries_for_many_visits_as_for_few(student, kept):
    with CaptureQueriesContext(connection) as few:
        progress_of(student=kept, wanted={}, system="yards")
    for days_ago in range(41, 61):
        visit(student, days_ago=days_ago, mean=5.0)
    with CaptureQueriesContext(connection) as many:
        progress_of(student=kept, wanted={}, system="yards")
    assert len(many) == len(few) <= 10


def test_the_figure_is_one_the_chart_library_accepts(kept):
    for panel in progress_of(student=kept, wanted={}, system="yards").panels:
        figure = progress_figure(panel)
        known = plotly.graph_objects.Figure(data=[{**trace, "marker": {}, "error_y": {
            **trace["error_y"], "color": "black"}} for trace in figure["data"]])
        assert len(known.data) == 2


def test_another_coach_gets_a_missing_page(client, other_coach, student):
    client.force_login(other_coach)
    assert client.get(reverse("lessons:progress", args=[student.code])).status_code == 404


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("size", [WIDE, PHONE], ids=["wide", "phone"])
def test_in_a_browser_the_chart_is_drawn_when_opened_and_offers_no_upload(page, live_server, kept, coach, size):
    page.set_viewport_size(size)
    sign_in(page, live_server, coach)
    seen = watch(page, live_server)
    page.goto(f"{live_server.url}{reverse('lessons:progress', args=[kept.code])}")
    assert page.locator(".js-plotly-plot").count() == 0
    page.locator("figure details summary").first.click()
    page.locator(".js-plotly-plot .point").first.wait_for()
    assert page.locator('[data-title*="Share"]').count() == 0
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    seen.assert_clean()
