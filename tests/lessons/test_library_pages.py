"""The library pages: find, read, print, and set an own value beside the shipped one."""

import pytest
from django.urls import reverse

from lessons.library import current_library, load_shipped, stored_library
from lessons.models import Override
from metrics.clubs import CATEGORIES
from metrics.rules.setup_windows import window_of
from metrics.rules.types import BlockEvidence
from tests import factories


@pytest.fixture(autouse=True)
def loaded(db):
    load_shipped()


def page(client, name, *args, **query) -> str:
    return client.get(reverse(f"lessons:{name}", args=args), query).content.decode()


def own_window(client, club="driver", **values):
    whole = {"checkpoint": "feet_deg", "low": "−1", "high": "1", "flight": "others", "reason": "our mats lie so"}
    return client.post(reverse("lessons:window_own", args=[club]), {**whole, **values})


def feet(library, intent=""):
    return next((w.low, w.high) for w in library.windows
                if (w.club, w.checkpoint, w.intent) == ("driver", "feet_deg", intent))


def test_everything_is_listed(as_coach):
    text, library = page(as_coach, "library"), stored_library()
    assert all(reverse("lessons:library_pattern", args=[slug]) in text for slug in library.patterns)
    assert all(reverse("lessons:library_drill", args=[slug]) in text for slug in library.drills)


def test_search_holds_every_word_and_says_how_many(as_coach):
    answer = as_coach.get(reverse("lessons:library"), {"words": "towel ground"})
    assert [drill.slug for drill in answer.context["drills"]] == ["towel-behind"]
    assert answer.context["entries"] >= 1 and "“towel ground”" in answer.content.decode()
    assert "No pattern fits" in page(as_coach, "library", words="zeppelin")


def test_the_number_of_entries_stays_out_of_the_navigation(as_coach):
    assert "waiting" not in page(as_coach, "library").split("</header>")[0]


def test_a_search_by_script_gets_the_list_alone(as_coach):
    answer = as_coach.get(reverse("lessons:library"), {"words": "hook"}, headers={"HX-Request": "true"})
    assert "<html" not in answer.content.decode() and "HX-Request" in answer["Vary"]


def test_every_page_of_the_library_can_be_read_and_shows_no_bare_placeholder(as_coach):
    library = stored_library()
    pages = [page(as_coach, "library_pattern", slug) for slug in library.patterns]
    pages += [page(as_coach, "library_drill", slug) for slug in library.drills]
    pages += [page(as_coach, "library_windows", club) for club in CATEGORIES]
    assert not [text for text in pages if "_side}" in text or "None" in text]


def test_what_does_not_exist_is_a_missing_page(as_coach):
    for name, slug in (("library_pattern", "moon"), ("library_drill", "moon"), ("library_windows", "spoon")):
        assert as_coach.get(reverse(f"lessons:{name}", args=[slug])).status_code == 404


def test_an_own_window_counts_with_its_reason_and_the_shipped_one_stays_beside_it(as_coach):
    assert own_window(as_coach).status_code == 302
    assert feet(current_library()) == (-1, 1) and feet(stored_library()) == (-2, 2)
    text = page(as_coach, "library_windows", "driver")
    assert "The academy:" in text and "our mats lie so" in text and "−2 to 2°" in text


def test_an_own_window_for_every_flight_reaches_the_draw(as_coach):
    own_window(as_coach, flight="every")
    assert feet(current_library(), "draw") == (-1, 1)


def test_a_second_own_window_replaces_the_first(as_coach):
    own_window(as_coach)
    own_window(as_coach, high="3")
    assert feet(current_library()) == (-1, 3)
    assert Override.objects.filter(removed_at__isnull=True).count() == 1 and Override.objects.count() == 2


def test_taking_it_back_lets_the_shipped_one_count_again(as_coach):
    own_window(as_coach)
    url = reverse("lessons:override_back", args=[Override.objects.get().code])
    assert as_coach.post(url).status_code == 302 and as_coach.post(url).status_code == 302
    assert feet(current_library()) == (-2, 2)


@pytest.mark.parametrize(("values", "words"), [
    ({"reason": " "}, "Say why"), ({"low": "5"}, "1 lies below 5"), ({"low": "wide"}, "“wide” was found"),
    ({"checkpoint": "eyes_inside_cm"}, "the library has no such window"), ({"low": "-90"}, "expected -45 to 45"),
])
def test_a_window_that_cannot_stand_is_refused_with_a_sentence(as_coach, values, words):
    refused = own_window(as_coach, **values)
    assert refused.status_code == 422 and words in refused.content.decode()
    assert not Override.objects.exists()


def test_a_student_s_own_window_counts_for_that_student_alone(as_coach, student):
    own_window(as_coach, student=student.code, reason="a new left hip")
    assert feet(current_library(student)) == (-1, 1) and feet(current_library()) == (-2, 2)


def test_another_coach_sees_neither_the_student_s_value_nor_its_reason(as_coach, client, other_coach, student):
    own_window(as_coach, student=student.code, reason="a new left hip")
    client.force_login(other_coach)
    assert "a new left hip" not in page(client, "library_windows", "driver")
    assert client.post(reverse("lessons:override_back", args=[Override.objects.get().code])).status_code == 404
    refused = own_window(client, student=student.code)
    assert refused.status_code == 422 and "not one of yours" in refused.content.decode()


def test_a_threshold_can_be_the_academy_s_own(as_coach):
    url = reverse("lessons:threshold_own", args=["over_draw"])
    target = "threshold/over_draw/numbers-straight/club_path_deg"
    values = {"target": target, "watch": "5", "strong": "7", "reason": "juniors"}
    assert as_coach.post(url, values).status_code == 302
    condition = current_library().patterns["over_draw"].routes[0].conditions[0]
    assert (condition.watch, condition.strong) == (5, 7)
    assert "juniors" in page(as_coach, "library_pattern", "over_draw")
    refused = as_coach.post(url, {**values, "strong": "3"})
    assert refused.status_code == 422 and "expected it further out" in refused.content.decode()


def test_a_person_without_a_teaching_role_may_read_and_not_change(client, academy):
    client.force_login(factories.make_coach("welfare", is_coach=False, is_welfare_lead=True))
    assert "Library" in page(client, "library") and own_window(client).status_code == 404


def ball_window(lie: str) -> tuple[float, float]:
    evidence = BlockEvidence(club_category="fairway", on_tee=lie == "tee")
    return window_of("ball_position_cm", evidence=evidence, library=current_library())


@pytest.mark.parametrize(("lie", "tee", "turf"), [("tee", (1, 3), (4, 8)), ("turf", (2, 5), (1, 3)),
                                                  ("every", (1, 3), (1, 3))])
def test_an_own_window_counts_for_the_lie_it_was_set_for(as_coach, lie, tee, turf):
    own_window(as_coach, club="fairway", checkpoint="ball_position_cm", low="1", high="3", flight="every", lie=lie)
    assert (ball_window("tee"), ball_window("turf")) == (tee, turf)


def test_two_lies_keep_a_window_each_and_the_page_says_which(as_coach):
    for lie, low, high in (("tee", "1", "3"), ("turf", "5", "7")):
        own_window(as_coach, club="fairway", checkpoint="ball_position_cm", low=low, high=high, flight="every",
                   lie=lie)
    assert (ball_window("tee"), ball_window("turf")) == ((1, 3), (5, 7))
    text = page(as_coach, "library_windows", "fairway")
    assert "1.0 to 3.0, from a tee" in text and "5.0 to 7.0, off the turf" in text


def test_a_club_without_windows_by_lie_gets_one_for_the_lie_that_was_chosen(as_coach):
    own_window(as_coach, club="mid_iron", checkpoint="ball_position_cm", low="5", high="8", flight="every", lie="tee")
    tee, turf = (window_of("ball_position_cm", evidence=BlockEvidence(club_category="mid_iron", on_tee=on_tee),
                           library=current_library()) for on_tee in (True, False))
    assert (tee, turf) == ((5, 8), (9, 14))
