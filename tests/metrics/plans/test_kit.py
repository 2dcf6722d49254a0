"""What a drill needs, by cards of the library and by hand: the planner's own judge is not asked about itself."""

import pytest

from metrics.plans.kit import can_do
from tests.library.shipped import shipped_library

DRILLS = shipped_library().drills


@pytest.mark.parametrize(("drill", "places", "kit", "possible"), [
    ("two-stick-station", ("range",), ("sticks",), True),
    ("two-stick-station", ("range",), (), False),
    ("two-stick-station", ("green",), ("sticks",), False),
    ("mirror-setup", ("home",), ("mirror", "tape"), True),
    ("mirror-setup", ("home",), ("mirror",), False),
    ("line-brush", ("garden",), ("tape",), True),
    ("line-brush", ("garden",), ("spray",), True),
    ("line-brush", ("garden",), (), False),
    ("trail-foot-back", ("range",), (), True),
    ("sand-line", ("bunker",), (), True),
    ("sand-line", (), (), False),
])
def test_a_drill_needs_one_of_its_places_and_all_of_its_kit(drill, places, kit, possible):
    assert can_do(DRILLS[drill], places=places, kit=kit) is possible
