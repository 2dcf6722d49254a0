"""What the statistics assume: every value with its mark, own ones with a reason, back with one tap."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils.html import escape

from lessons.models import Override
from lessons.queries.held import held_for
from lessons.services.standing import refresh_standing
from metrics.change.settings import SETTINGS, setting
from tests.lessons.progress.records import block, prescribe, text_of, visit

PAGE, OWN = reverse("lessons:library_settings"), reverse("lessons:setting_own")


def own(client, key="p_likely", value="0,99", reason="We want to be surer", **more):
    return client.post(OWN, {"setting": key, "value": value, "reason": reason, **more})


@pytest.fixture
def likely(student):
    student.handicap_index = 9.0
    student.save()
    prescribe(block(visit(student, days_ago=30), mean=5.7))
    block(visit(student, days_ago=10), mean=3.0)
    return student


def test_every_assumed_value_stands_there_with_its_mark(as_coach):
    page = as_coach.get(PAGE).content.decode()
    for one in SETTINGS.values():
        assert escape(one.label) in page
    assert "shipped: memory" in page and "shipped: source" in page


def test_an_own_value_changes_the_verdict_on_the_page_and_its_reason_stands_beside_the_shipped_one(as_coach, likely):
    assert "Likely kept" in text_of(as_coach, likely)
    assert own(as_coach).status_code == 302
    assert "Can’t tell yet" in text_of(as_coach, likely)[:300]
    page = as_coach.get(PAGE).content.decode()
    assert "0.99" in page and "We want to be surer" in page and "Runa Holm" in page
    assert setting("p_likely") == 0.90, "outside a request the shipped value counts"


def test_the_roster_and_the_students_sentence_follow_when_the_standing_is_refreshed(as_coach, likely):
    own(as_coach)
    assert refresh_standing(student=likely).verdict == "cannot_tell"
    assert held_for(student=likely).code == "likely"


def test_taken_back_the_shipped_value_counts_again(as_coach, likely):
    own(as_coach)
    row = Override.objects.get()
    answer = as_coach.post(reverse("lessons:override_back", args=[row.code]))
    assert answer["Location"] == PAGE
    assert "Likely kept" in text_of(as_coach, likely)


def test_a_second_own_value_replaces_the_first(as_coach):
    own(as_coach)
    own(as_coach, value="0.95")
    assert [row.value for row in Override.objects.filter(removed_at__isnull=True)] == [{"value": 0.95}]


@pytest.mark.parametrize(("key", "value", "words"), [
    ("p_likely", "1.5", "1.5 was found; expected 0.5 to 0.999"), ("p_likely", "likely", "number"),
    ("balls_to_judge", "7.5", "expected a whole number"), ("k", "-1", "expected 0 to 3"),
    ("balls_to_judge", "0", "expected 1 to 200 balls"),
])
def test_a_value_that_cannot_be_is_said_with_what_was_expected_and_nothing_is_stored(as_coach, key, value, words):
    answer = own(as_coach, key=key, value=value)
    assert answer.status_code == 422 and words in answer.content.decode()
    assert not Override.objects.exists()


def test_a_reason_is_asked_for(as_coach):
    answer = own(as_coach, reason="")
    assert answer.status_code == 422 and "Say why" in answer.content.decode()


def test_a_stored_value_that_fits_nothing_any_more_does_not_count_and_is_listed(as_coach, likely, coach):
    Override.objects.create(kind="setting", slug="old_name", path="setting/old_name", value={"value": 1}, reason="x")
    Override.objects.create(kind="setting", slug="k", path="setting/k", value={"value": "much"}, reason="x")
    assert "Likely kept" in text_of(as_coach, likely)
    assert "No longer a setting" in as_coach.get(PAGE).content.decode()


def test_a_page_that_asks_for_no_setting_asks_the_database_for_none(as_coach):
    with CaptureQueriesContext(connection) as queries:
        as_coach.get(reverse("lessons:library"))
    assert not [query for query in queries if "lessons_override" in query["sql"] and "setting" in query["sql"]]


def test_patterns_and_windows_are_judged_as_before_beside_an_own_setting(as_coach):
    own(as_coach)
    assert as_coach.get(reverse("lessons:library_windows", args=["driver"])).status_code == 200


def test_playable_widths_and_the_balls_for_drift_are_settings_too(as_coach):
    page = as_coach.get(PAGE).content.decode()
    assert "How far off line is still playable" in page and "before drift in a visit is judged" in page
    assert own(as_coach, key="playable_driver", value="0.12").status_code == 302
    assert own(as_coach, key="drift_balls", value="10").status_code == 422
