"""Drills and patterns of the academy's own: added in the browser, used like shipped ones, never overwritten."""

import pytest
from django.urls import reverse

from lessons.library import load_shipped, shipped_library, stored_library
from lessons.models import LibraryEntry

from .hour import data_of, draw_lesson

DRILL = {
    "name": "Gate of rope", "why": "Shows the exit.", "patterns": ["over_draw"], "places": ["range", "home"],
    "kit": "rope, 2 tees", "minutes": "10", "balls": "12", "dose": "2 times 6", "setup": "A rope beside the ball.",
    "steps": "Lay the rope.\n\nSwing to the {hook_side} of it.", "harder": "Shorter rope.", "easier": "No ball.",
    "cue": "Past the rope", "measure": "Rope hits", "pass_mark": "5 of 6 clear", "caution": "A soft rope only.",
    "areas": ["low_back"],
}


@pytest.fixture(autouse=True)
def loaded(db):
    load_shipped()


def add_drill(client, **values):
    return client.post(reverse("lessons:own_drill"), {**DRILL, **values})


def add_pattern(client, base="over_draw", **values):
    url = reverse("lessons:own_pattern", args=[base])
    start = client.get(url).context["form"]
    whole = {name: start.get_initial_for_field(field, name) for name, field in start.fields.items()}
    return client.post(url, {**whole, "title": "Our in-to-out", **values})


def test_an_own_drill_is_offered_for_its_pattern_and_kept_from_a_sore_back(as_coach, student):
    assert add_drill(as_coach).status_code == 302
    drill = stored_library().drills["own-gate-of-rope"]
    assert drill.steps == ("Lay the rope.", "Swing to the {hook_side} of it.") and drill.kit == ("rope", "2 tees")
    data = data_of(as_coach, draw_lesson(student=student), "agree")
    assert drill.slug in [offer.slug for offer in data["offers"] + data["more"]]
    assert "to the left of it" in as_coach.get(reverse("lessons:library_drill", args=[drill.slug])).content.decode()


def test_an_upgrade_keeps_the_own_drill(as_coach):
    add_drill(as_coach)
    load_shipped()
    assert "own-gate-of-rope" in stored_library().drills and LibraryEntry.objects.filter(is_own=True).count() == 1


@pytest.mark.parametrize(("values", "words"), [
    ({"steps": " "}, "This field is required"), ({"minutes": "soon"}, "Enter a whole number"),
    ({"patterns": ["moon"]}, "moon is not one of the available choices"),
])
def test_a_drill_without_what_its_card_needs_is_refused(as_coach, values, words):
    refused = add_drill(as_coach, **values)
    assert refused.status_code == 422 and words in refused.content.decode()
    assert not LibraryEntry.objects.filter(is_own=True).exists()


def test_the_same_name_twice_is_refused(as_coach):
    add_drill(as_coach)
    refused = add_drill(as_coach)
    assert refused.status_code == 422 and "in the library already" in refused.content.decode()


def test_an_own_pattern_speaks_at_its_own_numbers(as_coach, student):
    assert add_pattern(as_coach, watch_2="0.2").status_code == 302
    own = stored_library().patterns["own-our-in-to-out"]
    draw = next(route for route in own.routes if route.key == "numbers-draw")
    assert (draw.conditions[0].watch, draw.conditions[0].strong) == (0.2, 1.7)
    assert stored_library().patterns["over_draw"].routes[1].conditions[0].watch == 1
    lesson = draw_lesson(student=student, path=5.1)
    considered = data_of(as_coach, lesson, "reason")["assessment"].considered
    states = {found.pattern: found.state for found in considered}
    assert (states["own-our-in-to-out"], states["over_draw"]) == ("supported", "hint")


def test_an_own_drill_that_an_own_pattern_names_stays_until_the_pattern_is_out(as_coach):
    add_drill(as_coach)
    add_pattern(as_coach, drills=["own-gate-of-rope", "two-stick-station"])
    out = {kind: reverse("lessons:own_retire", args=[f"{kind}-{slug}"]) for kind, slug in
           (("drill", "own-gate-of-rope"), ("pattern", "own-our-in-to-out"))}
    refused = as_coach.post(out["drill"], follow=True)
    assert "It is still needed" in refused.content.decode() and "own-gate-of-rope" in stored_library().drills
    as_coach.post(out["pattern"])
    as_coach.post(out["drill"])
    assert "own-gate-of-rope" not in stored_library().drills


def test_a_shipped_entry_cannot_be_taken_out(as_coach):
    url = reverse("lessons:own_retire", args=["drill-two-stick-station"])
    assert as_coach.post(url).status_code == 404


def test_an_own_pattern_can_take_the_place_of_the_shipped_one(as_coach, student):
    answer = add_pattern(as_coach, place="instead", watch_2="0.2")
    assert answer["Location"] == reverse("lessons:library_pattern", args=["over_draw"])
    library = stored_library()
    assert library.patterns["over_draw"].title == "Our in-to-out" and len(library.patterns) == len(shipped_library(
        ).patterns)
    considered = data_of(as_coach, draw_lesson(student=student, path=5.1), "reason")["assessment"].considered
    assert {found.pattern: found.state for found in considered}["over_draw"] == "supported"


def test_the_page_of_a_replaced_pattern_shows_the_shipped_one_beside_it(as_coach):
    add_pattern(as_coach, place="instead")
    text = as_coach.get(reverse("lessons:library_pattern", args=["over_draw"])).content.decode()
    assert "Your own, in place of the shipped one" in text
    assert shipped_library().patterns["over_draw"].title in text and "mean above 4.0, strong 6.0°" in text


def test_an_upgrade_leaves_the_replacement_and_taking_it_out_brings_the_shipped_one_back(as_coach):
    before = stored_library()
    add_pattern(as_coach, place="instead")
    load_shipped()
    assert stored_library().patterns["over_draw"].title == "Our in-to-out"
    as_coach.post(reverse("lessons:own_retire", args=["pattern-over_draw"]))
    assert stored_library() == before
    assert not LibraryEntry.objects.filter(is_own=True).exists()
    load_shipped()
    assert stored_library() == before


def test_one_of_the_academy_s_own_is_not_offered_to_be_replaced(as_coach):
    add_pattern(as_coach)
    form = as_coach.get(reverse("lessons:own_pattern", args=["own-our-in-to-out"])).context["form"]
    assert "place" not in form.fields
