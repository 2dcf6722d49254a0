"""Setup numbers from clicks on a photo: the picture never arrives, the numbers carry their own error."""

import json
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from lessons.models import SetupObservation
from tests import factories
from tests.metrics.photo.camera import Camera, corners, player

from .hour import draw_lesson

NEAR = Camera(height_cm=200, away_cm=130, focal=1.2)
HTMX = {"HX-Request": "true"}


@pytest.fixture
def lesson(student):
    return draw_lesson(student=student)


def address(lesson) -> str:
    return reverse("lessons:photo", args=[lesson.code])


def clicks(camera=NEAR, *, mirrored=False, mat=None, aim=(), **values) -> dict:
    seen = [camera.see(corners()) if mat is None else mat, camera.see(player())]
    if mirrored:
        seen = [[camera.width_px, 0] + points * [-1, 1] for points in seen]
    points = {"corners": seen[0].tolist(), "feet": seen[1].tolist(), "aim": list(aim)}
    return {"width": 3000, "height": 2250, "kind": "rectangle", "along": "150 cm", "across": "1.2 m",
            "phase": "before", "points": json.dumps(points), **values}


def ask(client, lesson, **values):
    return client.post(address(lesson), clicks(**values), headers=HTMX)


def test_clicks_give_numbers_with_their_error_and_store_nothing(as_coach, lesson):
    answer = ask(as_coach, lesson)
    text = answer.content.decode()
    assert answer.status_code == 200 and "3° closed" in text and "±0.9°" in text and "3.1 in, 1.9 ball widths" in text
    assert "data-grid=" in text and "not on the board" in text
    assert not SetupObservation.objects.exists()


def test_stored_numbers_carry_method_photo_and_their_own_error(as_coach, lesson):
    answer = as_coach.post(address(lesson), clicks(store="yes", phase="after"))
    assert answer.status_code == 302 and "/board/?" in answer["Location"] and "phase=after" in answer["Location"]
    rows = {row.checkpoint: row for row in SetupObservation.objects.all()}
    assert set(rows) == {
        "stance_width_ratio", "ball_position_cm", "feet_deg", "lead_flare_deg", "trail_flare_deg", "toe_ball_cm"}
    assert rows["toe_ball_cm"].value == pytest.approx(40, abs=0.01)
    assert {row.method for row in rows.values()} == {"photo"} and {row.phase for row in rows.values()} == {"after"}
    assert rows["stance_width_ratio"].value == pytest.approx(46 / 39, abs=1e-3)
    assert 0.5 < rows["feet_deg"].uncertainty < 1.0 < 3


def test_a_left_hander_s_mirror_image_stores_the_same_numbers(as_coach, student, lesson):
    as_coach.post(address(lesson), clicks(store="yes"))
    right = {row.checkpoint: row.value for row in SetupObservation.objects.all()}
    SetupObservation.objects.all().delete()
    student.hand = "left"
    student.save()
    as_coach.post(address(lesson), clicks(store="yes", mirrored=True))
    assert {row.checkpoint: row.value for row in SetupObservation.objects.all()} == pytest.approx(right)


def test_a_mirrored_picture_is_refused_in_a_sentence(as_coach, lesson):
    answer = ask(as_coach, lesson, mirrored=True)
    assert answer.status_code == 422 and "the camera mirrored the picture" in answer.content.decode()


def test_a_flat_view_is_warned_of_with_what_to_do(as_coach, lesson):
    text = ask(as_coach, lesson, camera=Camera(height_cm=60, away_cm=200)).content.decode()
    assert "The view is too flat" in text and "Store on the board" in text


@pytest.mark.parametrize(("values", "words"), [
    ({"along": "wide"}, "Side along the target line: “wide” was found"),
    ({"across": "5000"}, "expected 10 to 1000 cm"), ({"points": "{"}, "did not arrive whole"),
    ({"points": '{"corners": [[1, 2]], "feet": [], "aim": []}'}, "expected 4"),
    ({"kind": "sticks"}, "needs the focal length"), ({"aim": [[5, 5]]}, "both ends or none"),
    ({"points": '{"corners": [[1, 2], [3]], "feet": 7, "aim": null}'}, "did not arrive whole"),
    ({"points": '{"corners": [[NaN, 2]], "feet": [], "aim": []}'}, "expected 4"),
])
def test_what_cannot_be_read_is_named(as_coach, lesson, values, words):
    answer = ask(as_coach, lesson, **values)
    assert answer.status_code == 422 and words in answer.content.decode()


def test_a_click_on_a_small_screen_is_counted_as_less_exact(as_coach, lesson):
    text = ask(as_coach, lesson, reach="8.2").content.decode()
    assert "8.2 pixels of 3000" in text and "foot line is known to ±" in text


def test_an_l_of_sticks_with_the_focal_length_is_read(as_coach, lesson):
    focal_mm = 1.2 * 3000 / (3000**2 + 2250**2) ** 0.5 * (36**2 + 24**2) ** 0.5
    answer = ask(as_coach, lesson, mat=NEAR.see(corners()[[0, 1, 3]]), kind="sticks", focal=f"{focal_mm:.3f}")
    assert answer.status_code == 200 and "3° closed" in answer.content.decode()


def test_the_page_has_no_way_to_send_the_picture(as_coach, lesson):
    text = as_coach.get(address(lesson)).content.decode()
    file_box = text[text.index('<input id="photo-file"'):].split(">")[0]
    assert "name=" not in file_box and "multipart" not in text


def test_a_junior_without_a_guardian_s_consent_is_not_photographed(as_coach, student, lesson):
    student.born_on = timezone.localdate() - timedelta(days=11 * 365)
    student.save()
    text = as_coach.get(address(lesson)).content.decode()
    assert "nobody has allowed this yet" in text and "photo-file" not in text
    answer = as_coach.post(address(lesson), clicks(store="yes"))
    assert answer.status_code == 422 and not SetupObservation.objects.exists()


def test_without_a_block_the_page_asks_for_one(as_coach, student):
    lesson = factories.make_lesson(student=student)
    assert "open a block first" in as_coach.get(address(lesson)).content.decode()
    assert as_coach.post(address(lesson), clicks()).status_code == 422


def test_another_coach_sees_nothing(client, other_coach, lesson):
    client.force_login(other_coach)
    assert client.get(address(lesson)).status_code == 404
    assert client.post(address(lesson), clicks(store="yes")).status_code == 404
