"""Windows and levels: mirrored for a fade, wider for a middling player, refused where none is kept."""

import pytest

from metrics.clubs import CATEGORIES
from metrics.fields import FIELDS
from metrics.levels import LEVELS, level_of
from metrics.spread import playable_share
from metrics.windows import (
    INTENTS,
    Window,
    find_window,
    tolerance,
    window,
    window_for_level,
)

SHAPED = ("club_path_deg", "face_angle_deg", "face_to_path_deg")
FULL_SWING = ("driver", "fairway", "hybrid_long_iron", "mid_iron", "short_iron", "wedge_full")


@pytest.mark.parametrize("category", FULL_SWING)
@pytest.mark.parametrize("quantity", SHAPED)
def test_a_fade_is_a_draw_in_the_mirror(quantity, category):
    draw, fade = (window(quantity=quantity, intent=intent, category=category) for intent in ("draw", "fade"))
    assert (fade.lo, fade.hi) == (-draw.hi, -draw.lo)


@pytest.mark.parametrize("category", FULL_SWING)
@pytest.mark.parametrize("intent", INTENTS)
def test_path_and_face_windows_agree_with_the_face_to_path_window(intent, category):
    path, face, gap = (window(quantity=quantity, intent=intent, category=category) for quantity in SHAPED)
    assert abs((face.centre - path.centre) - gap.centre) <= 0.35, "middle face minus middle path"


def test_a_draw_swings_further_out_with_a_driver_than_with_an_iron():
    driver, iron = (window(quantity="club_path_deg", intent="draw", category=c) for c in ("driver", "mid_iron"))
    assert (driver.lo, driver.hi, iron.lo, iron.hi) == (2, 4, 1, 3)


def test_the_middling_player_gets_more_room_with_the_driver_and_never_less_than_the_window():
    plain = window(quantity="club_path_deg", intent="draw", category="driver")
    good, middling = (window_for_level(quantity="club_path_deg", intent="draw", category="driver", level=level)
                      for level in ("scratch", "index_13_20"))
    assert (middling.lo, middling.hi) == (0.5, 5.5)
    assert middling.lo < good.lo <= plain.lo and plain.hi <= good.hi < middling.hi
    assert window_for_level(quantity="attack_angle_deg", intent="draw", category="driver", level="scratch") == window(
        quantity="attack_angle_deg", intent="draw", category="driver")
    assert tolerance(quantity="face_to_path_deg", category="driver", level="scratch") == 1.2


def test_distance_to_a_window_counts_from_its_nearer_end():
    draw = Window(lo=2, hi=4)
    assert [draw.distance(x) for x in (1.5, 2, 3, 4, 5.7)] == pytest.approx([0.5, 0, 0, 0, 1.7])
    assert draw.contains(4) and not draw.contains(4.01)


def test_every_window_belongs_to_a_known_field_and_lies_inside_its_bounds():
    found = 0
    for quantity, field in FIELDS.items():
        for intent in INTENTS:
            for category in CATEGORIES:
                wanted = find_window(quantity=quantity, intent=intent, category=category)
                if wanted is not None:
                    found += 1
                    assert field.lower <= wanted.lo < wanted.hi <= field.upper
    assert found > 100


def test_what_has_no_window_is_refused_with_a_sentence():
    with pytest.raises(ValueError, match="no window is kept for carry_m with the driver"):
        window(quantity="carry_m", intent="straight", category="driver")
    with pytest.raises(ValueError, match="must be one of straight, draw, fade, got 'hook'"):
        window(quantity="club_path_deg", intent="hook", category="driver")
    with pytest.raises(ValueError, match="no club category"):
        window(quantity="club_path_deg", intent="draw", category="spade")
    with pytest.raises(ValueError, match="no tolerance"):
        tolerance(quantity="carry_m", category="driver", level="scratch")
    with pytest.raises(ValueError, match="no playable width"):
        playable_share("putter")
    with pytest.raises(ValueError, match="from low to high"):
        Window(lo=4, hi=2)


@pytest.mark.parametrize(("index", "level"), [
    (-2.3, "scratch"), (0.9, "scratch"), (1.0, "index_1_5"), (5.9, "index_1_5"), (6, "index_6_12"),
    (12.9, "index_6_12"), (13, "index_13_20"), (20.9, "index_13_20"), (21, "index_21_36"),
    (36.9, "index_21_36"), (37, "beginner"), (54, "beginner"), (None, "index_21_36")])
def test_an_index_falls_into_its_band(index, level):
    assert level_of(index) == level
    assert level in LEVELS


def test_a_beginner_is_a_beginner_whatever_the_index_and_an_impossible_index_is_refused():
    assert level_of(8, beginner=True) == "beginner"
    with pytest.raises(ValueError, match="between -10"):
        level_of(60)
