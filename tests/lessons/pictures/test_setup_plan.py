"""The plan view is true to scale, exact in the mirror, and honest about what was not measured."""

import math
import re
from dataclasses import replace

import pytest

from lessons.pictures.plan_geometry import HEEL_WIDTH_CM, direction, sole, trail_heel
from lessons.pictures.setup_plan import WIDTH, Plan, Setup, draw
from metrics.checkpoints import BALL_WIDTH_CM
from tests.lessons.pictures.reading import by_id, description, having_class, number_of, parse, words

SETUP = Setup(stance_width_cm=44, ball_cm=5, feet_deg=4, hips_deg=-2, shoulders_deg=0, face_aim_deg=3,
              ball_distance_cm=40)
WINDOWS = {"ball_position_cm": (-1, 3), "stance_width_ratio": (1.05, 1.25), "feet_deg": (-2, 2)}
PLAN = Plan(now=SETUP, windows=WINDOWS, sticks=("aim", "ball"))


def scale_of(root) -> float:
    return number_of(root, "data-scale")


def xs(element) -> list[float]:
    """Every x that an element mentions, in the order it mentions them."""
    if element.get("d"):
        return [float(x) for x, _ in re.findall(r"(-?[\d.]+),(-?[\d.]+)", element.get("d"))]
    if element.get("points"):
        return [float(pair.split(",")[0]) for pair in element.get("points").split()]
    return [number_of(element, name) for name in ("x1", "x2", "cx") if element.get(name)]


def test_the_ball_lies_its_centimetres_from_the_lead_heel() -> None:
    root = parse(draw(PLAN))
    offset = number_of(by_id(root, "plan-now-ball"), "cx") - number_of(root, "data-origin-x")
    assert offset / scale_of(root) == pytest.approx(5, abs=0.02)


def test_the_ball_is_drawn_as_wide_as_a_ball() -> None:
    root = parse(draw(PLAN))
    assert 2 * number_of(by_id(root, "plan-now-ball"), "r") / scale_of(root) == pytest.approx(
        BALL_WIDTH_CM, abs=0.02)


def test_the_windows_lie_where_their_numbers_say() -> None:
    root = parse(draw(PLAN))
    band, width = by_id(root, "plan-ball-window"), by_id(root, "plan-width-window")
    start = (number_of(band, "x") - number_of(root, "data-origin-x")) / scale_of(root)
    assert (start, number_of(band, "width") / scale_of(root)) == pytest.approx((-1, 4), abs=0.02)
    start = (number_of(width, "x") - number_of(root, "data-origin-x")) / scale_of(root)
    assert (start, number_of(width, "width") / scale_of(root)) == pytest.approx((1.05 * 39, 0.2 * 39), abs=0.02)


def test_before_and_after_share_one_scale() -> None:
    before = replace(SETUP, ball_cm=12, stance_width_cm=30)
    root = parse(draw(replace(PLAN, before=before)))
    now, then = (number_of(by_id(root, f"plan-{kind}-ball"), "cx") for kind in ("now", "before"))
    assert (then - now) / scale_of(root) == pytest.approx(7, abs=0.02)
    assert by_id(root, "plan-before-ball").get("r") == by_id(root, "plan-now-ball").get("r")


def test_a_left_hander_sees_the_exact_mirror_image() -> None:
    right = parse(draw(replace(PLAN, before=replace(SETUP, ball_cm=9), goal=replace(SETUP, feet_deg=0))))
    left = parse(draw(replace(PLAN, before=replace(SETUP, ball_cm=9), goal=replace(SETUP, feet_deg=0),
                              left_handed=True)))
    compared = 0
    for name in ("foot", "ball", "body-line", "window", "target-line"):
        for one, other in zip(having_class(right, name), having_class(left, name), strict=True):
            if one.tag.endswith("rect"):
                edges = [number_of(one, "x"), number_of(one, "x") + number_of(one, "width")]
                mirrored = number_of(other, "x") + number_of(other, "width")
                assert edges[0] == pytest.approx(WIDTH - mirrored, abs=0.02)
                compared += 1
                continue
            if "legend" in (one.get("class") or "") or number_of_y(one) > legend_y(right):
                continue
            assert [WIDTH - x for x in xs(one)] == pytest.approx(xs(other), abs=0.02)
            assert one.get("y1") == other.get("y1") and one.get("cy") == other.get("cy")
            compared += 1
    assert compared > 20


def number_of_y(element) -> float:
    return number_of(element, "y1") if element.get("y1") else 0.0


def legend_y(root) -> float:
    return float(root.get("viewBox").split()[3]) - 20


def test_words_are_never_mirrored() -> None:
    assert words(parse(draw(PLAN))).split() != []
    assert sorted(words(parse(draw(PLAN))).split()) == sorted(
        words(parse(draw(replace(PLAN, left_handed=True)))).split())


@pytest.mark.parametrize(("pull_back_in", "gap_in", "expected"), [(1, 16, 3.0), (1, 20, 2.5)])
def test_pulling_the_trail_foot_back_closes_the_foot_line_by_the_angle_of_the_triangle(
    pull_back_in: float, gap_in: float, expected: float
) -> None:
    # Right triangle: the pull-back over the gap plus one heel of three inches.
    angle = math.degrees(math.atan(pull_back_in / (gap_in + 3)))
    assert angle == pytest.approx(expected, abs=0.06)
    _, v = trail_heel(width_cm=gap_in * 2.54, feet_deg=angle)
    assert v == pytest.approx(-pull_back_in * 2.54, abs=1e-9)


def test_the_insides_of_the_heels_are_the_stance_width_apart() -> None:
    u, _ = trail_heel(width_cm=40, feet_deg=0)
    assert u - HEEL_WIDTH_CM / 2 == pytest.approx(40)


def test_toes_turn_out_from_the_middle_on_both_feet() -> None:
    lead = sole(heel=(0, 0), flare_deg=20, lead=True)
    trail = sole(heel=(0, 0), flare_deg=20, lead=False)
    toe = 9
    assert lead[toe][0] < -5 and trail[toe][0] > 5
    assert [(-u, v) for u, v in lead] == pytest.approx([pytest.approx(p) for p in trail])


def test_a_closed_line_points_to_the_ball_side_at_its_target_end() -> None:
    target_end, trail_end = direction(degrees=5, half_length=10, centre=(0, 0))
    assert target_end[0] < 0 < target_end[1]
    assert trail_end == pytest.approx((-target_end[0], -target_end[1]))


def test_an_open_face_turns_its_toe_away_from_the_target() -> None:
    face = by_id(parse(draw(PLAN)), "plan-now-face")
    heel_x, toe_x = number_of(face, "x1"), number_of(face, "x2")
    assert number_of(face, "y2") < number_of(face, "y1"), "the toe end is the one far from the player"
    assert toe_x > heel_x, "the target of a right-hander is to the left"
    slope = math.degrees(math.atan((toe_x - heel_x) / (number_of(face, "y1") - number_of(face, "y2"))))
    assert slope == pytest.approx(3, abs=0.1)


def test_what_was_not_measured_is_dashed_and_never_given_as_a_number() -> None:
    root = parse(draw(Plan(now=Setup(feet_deg=2))))
    assert by_id(root, "plan-now-ball").get("stroke-dasharray")
    assert " cm" not in words(root)
    assert "Not measured" in description(root) and "stance width" in description(root)
    assert words(root).count("not looked at") == 2


def test_the_description_tells_the_numbers_the_window_and_the_side_of_the_target() -> None:
    said = description(parse(draw(replace(PLAN, left_handed=True))))
    assert "the target is to the right" in said
    assert "Ball 5.0 cm behind the inside of the lead heel" in said and "window −1 to 3 cm" in said
    assert "Feet 4° closed" in said and "Hips 2° open" in said and "Shoulders 0° square" in said


@pytest.mark.parametrize("setup", [
    Setup(stance_width_cm=0, ball_cm=-30, feet_deg=45), Setup(stance_width_cm=100, ball_cm=60, feet_deg=-45),
    Setup(stance_width_cm=16, ball_cm=10, feet_deg=-20, ball_distance_cm=20),
])
def test_feet_and_ball_of_any_allowed_setup_stay_inside_the_picture(setup: Setup) -> None:
    for left_handed in (False, True):
        root = parse(draw(Plan(now=setup, left_handed=left_handed)))
        for name in ("foot", "ball"):
            for element in having_class(root, name):
                assert all(0 <= x <= WIDTH for x in xs(element))


def test_parts_carry_what_a_board_needs_to_move_them() -> None:
    root = parse(draw(PLAN))
    assert {e.get("data-part") for e in root.iter()} >= {
        "ball_position_cm", "lead_foot", "trail_foot", "feet_deg", "hips_deg", "shoulders_deg", "face_aim_deg"}
    assert root.get("data-hand") == "right"
