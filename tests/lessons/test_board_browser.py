"""The board in a real browser: parts dragged and moved by keys, both hands; what is not stored is said to be so."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.urls import reverse

from lessons.models import SetupObservation
from lessons.services.setup import note_setup
from tests import factories
from tests.browser import WIDE, sign_in, watch

from .hour import strike

pytestmark = pytest.mark.django_db(transaction=True)
START = {"stance_width_ratio": 1.0, "ball_position_cm": 8.0, "feet_deg": 2.0, "hips_deg": 0.0, "shoulders_deg": 3.0,
         "handle_ahead_cm": 2.0, "shoulder_tilt_deg": 6.0, "lead_flare_deg": 20.0, "toe_ball_cm": 40.0,
         "trunk_tilt_deg": 5.0, "lead_weight_pct": 50.0, "tee_height_mm": 40.0}


class Seen:
    def __init__(self, value):
        self.value, self.entered = value, ""


@pytest.fixture(params=["right", "left"])
def hand(request):
    return request.param


@pytest.fixture
def board(page, live_server, hand):
    factories.make_academy()
    coach = factories.make_coach("coach", is_coach=True)
    lesson = factories.make_lesson(student=factories.make_student(coach=coach, hand=hand))
    strike(lesson=lesson, path=4.0)
    note_setup(by=coach, lesson=lesson, category="driver", numbers={(k, "before"): Seen(v) for k, v in START.items()})
    page.set_viewport_size(WIDE)
    address = live_server.url + reverse("lessons:board", args=[lesson.code])
    sign_in(page, live_server, coach).goto(f"{address}?units=cm")
    page.wait_for_selector("[data-ring]")
    return page


def ring(board, name):
    return board.locator(f'[data-ring="{name}"]')


def value(board, part) -> float:
    return float(board.locator(f"#box-{part}").get_attribute("data-value"))


def drag(board, name, dx, dy):
    ring(board, name).scroll_into_view_if_needed()
    box = ring(board, name).bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    board.mouse.move(x, y)
    board.mouse.down()
    board.mouse.move(x + dx / 2, y + dy / 2)
    board.mouse.move(x + dx, y + dy)
    board.mouse.up()


def cm_per_px(board) -> float:
    sheet = board.locator("#board-plan").bounding_box()
    return 360 / sheet["width"] / float(board.locator("#board-plan").get_attribute("data-scale"))


def settled(board, part, digits=2):
    """Wait until the picture was drawn from the number in the box."""
    board.wait_for_function(
        "([part, digits]) => Math.abs(Number(document.querySelector(`#board-plan [data-part=${part}]`).dataset.value)"
        " - Number(document.getElementById(`box-${part}`).dataset.value)) < 0.5 * 10 ** -digits", arg=[part, digits])


def test_the_ball_is_dragged_and_number_picture_and_words_move_with_it(board, live_server, hand):
    seen = watch(board, live_server)
    away, per_px = 1 if hand == "right" else -1, cm_per_px(board)
    drag(board, "Ball", away * 30, 40)
    settled(board, "ball_position_cm", 1)
    assert value(board, "ball_position_cm") == pytest.approx(8 + 30 * per_px, abs=0.1)
    assert "not stored yet" in board.locator("#note-ball_position_cm").inner_text()
    assert SetupObservation.objects.get(checkpoint="ball_position_cm").value == 8
    board.get_by_role("button", name="Store").click()
    board.wait_for_selector(".messages")
    assert SetupObservation.objects.get(checkpoint="ball_position_cm").value > 9
    seen.assert_clean()


def test_the_trail_foot_widens_the_stance_and_pulled_back_it_closes_the_feet(board, hand):
    away, per_px = 1 if hand == "right" else -1, cm_per_px(board)
    drag(board, "Trail foot", away * 25, 10)
    settled(board, "feet_deg", 1)
    assert value(board, "stance_width_ratio") == pytest.approx((39 + 25 * per_px) / 39, abs=0.01)
    assert value(board, "feet_deg") > 2.5


def test_the_lead_foot_moves_and_the_ball_stays_where_it_is(board, hand):
    target, moved = -1 if hand == "right" else 1, 20 * cm_per_px(board)
    drag(board, "Lead foot", target * 20, 0)
    assert value(board, "ball_position_cm") == pytest.approx(8 + moved, abs=0.1)
    assert value(board, "stance_width_ratio") == pytest.approx((39 + moved) / 39, abs=0.01)


def test_arrow_keys_move_the_part_that_tab_has_chosen_by_its_step(board, hand):
    ring(board, "Ball").focus()
    board.keyboard.press("ArrowRight")
    board.keyboard.press("ArrowRight")
    assert value(board, "ball_position_cm") == (9 if hand == "right" else 7)
    board.keyboard.press("Tab")
    assert board.evaluate("document.activeElement.dataset.ring") == "Trail foot"
    board.keyboard.press("ArrowDown")
    assert value(board, "feet_deg") == 3
    ring(board, "hips_deg").focus()
    board.keyboard.press("ArrowDown")
    assert value(board, "hips_deg") == -1 and board.locator("#box-hips_deg").input_value() == "−1"
    settled(board, "hips_deg")
    assert "1° open" in ring(board, "hips_deg").get_attribute("aria-valuetext")


@pytest.mark.parametrize(("part", "dy"), [("feet_deg", -15), ("shoulders_deg", -15), ("hips_deg", 15)])
def test_a_line_turned_toward_closed_reads_more_closed(board, part, dy):
    # Feet and shoulders are held at the target end, hips at the other: closed is the target end nearer the ball.
    drag(board, part, 0, dy)
    assert value(board, part) > START[part] + 2


def test_handle_and_shoulders_move_in_the_picture_from_the_front(board, hand):
    target = 1 if hand == "right" else -1
    drag(board, "handle_ahead_cm", target * 12, 0)
    assert value(board, "handle_ahead_cm") > 3
    drag(board, "shoulder_tilt_deg", 0, 12)
    assert value(board, "shoulder_tilt_deg") > 7


def test_a_flare_turned_outward_grows(board, hand):
    outward = -1 if hand == "right" else 1
    drag(board, "lead_flare_deg", outward * 20, 0)
    assert value(board, "lead_flare_deg") > 24


def test_a_number_that_is_typed_moves_the_picture(board):
    board.locator("#box-ball_position_cm").fill("2 in")
    board.keyboard.press("Tab")
    board.wait_for_selector('#board-plan [data-part="ball_position_cm"][data-value="5.08"]')


def test_the_board_is_accessible(board, hand):
    if hand == "right":
        found = Axe().run(board)
        assert found.violations_count == 0, found.generate_report()


def test_the_ball_is_moved_away_from_the_toes_by_its_ring_and_by_keys(board):
    per_px = cm_per_px(board)
    drag(board, "Ball", 0, -40)
    assert value(board, "toe_ball_cm") == pytest.approx(40 + 40 * per_px, abs=0.3)
    assert value(board, "ball_position_cm") == pytest.approx(8, abs=0.1)
    ring(board, "Ball").focus()
    board.keyboard.press("ArrowDown")
    assert value(board, "toe_ball_cm") == round(40 + 40 * per_px) - 1


@pytest.mark.parametrize(("name", "more", "start"), [
    ("trunk_tilt_deg", (-30, 0), 5), ("lead_weight_pct", (25, 0), 50), ("tee_height_mm", (0, -20), 40),
])
def test_trunk_weight_and_tee_are_moved_on_the_picture_from_the_front(board, hand, name, more, start):
    away = 1 if hand == "right" else -1
    drag(board, name, away * more[0], more[1])
    assert value(board, name) > start + 2
    board.locator(f"#note-{name}", has_text="not stored yet").wait_for(state="attached")
    ring(board, name).focus()
    before = value(board, name)
    board.keyboard.press("ArrowUp")
    board.keyboard.press("ArrowUp")
    assert value(board, name) > before


def test_the_other_phase_lies_under_the_figure_from_the_front_at_the_same_scale(board):
    board.get_by_role("link", name="after", exact=True).click()
    board.get_by_role("link", name="Lay the target over it").click()
    board.wait_for_selector("[data-ring]")
    assert board.locator("#board-front-before").count() == 1 and board.locator("#board-front-goal").count() == 1
    boxes = [board.locator(f"#board-front-{kind}").bounding_box() for kind in ("before", "figure")]
    bottoms = [box["y"] + box["height"] for box in boxes]
    assert bottoms[0] == pytest.approx(bottoms[1], abs=8)


def test_sticks_are_laid_down_and_taken_up(board):
    assert board.locator("[data-stick]").count() == 1
    board.get_by_role("link", name="at the ball").click()
    board.wait_for_selector("[data-stick=ball]")
    board.get_by_role("link", name="along the toes").click()
    board.wait_for_function("() => !document.querySelector('[data-stick=toes]')")
    assert board.locator("[data-stick=ball]").count() == 1


def test_on_paper_the_board_is_the_pictures_and_the_numbers_that_were_noted(board, hand):
    board.emulate_media(media="print")
    assert not board.locator(".board-rings").first.is_visible() and not board.locator(".board-choices").is_visible()
    assert board.locator("#board-plan-box svg").is_visible()
    noted = board.locator(".board-line", has=board.locator(".setup-seen:not(:empty)"))
    assert board.locator(".board-line:visible").count() == noted.count() > 0
