"""Taking a file into a lesson through the pages."""

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from lessons.imports.reader import MAX_BYTES
from lessons.models import Block, DataSource, ImportBatch, Shot
from lessons.services import history
from tests import factories

GOOD = b"Club,Club Path (deg),Carry (yd)\nDriver,5.1,210\nDriver,6.3,221\nDriver,4.8,205\n"


@pytest.fixture
def lesson(student):
    return factories.make_lesson(student=student)


def upload(client, lesson, data: bytes, name: str = "balls.csv", **extra):
    return client.post(
        reverse("lessons:import_new", args=[lesson.code]), {"file": SimpleUploadedFile(name, data), **extra}
    )


def look_and_store(client, lesson, data: bytes) -> ImportBatch:
    upload(client, lesson, data)
    batch = ImportBatch.objects.filter(stored_at__isnull=True).latest("pk")
    client.post(reverse("lessons:import_store", args=[batch.code]))
    batch.refresh_from_db()
    return batch


def test_looking_at_a_file_stores_no_ball_and_says_what_would_go_in(as_coach, lesson):
    response = upload(as_coach, lesson, GOOD)
    assert response.status_code == 302
    page = as_coach.get(response["Location"]).content.decode()
    assert "3 balls would go in" in page
    assert "3 balls of Driver" in page
    assert not Shot.objects.exists() and not Block.objects.exists()


def test_storing_keeps_values_in_si_with_the_row_as_it_came(as_coach, lesson):
    look_and_store(as_coach, lesson, GOOD)
    balls = list(Shot.objects.order_by("number"))
    assert [ball.club_path_deg for ball in balls] == [5.1, 6.3, 4.8]
    assert balls[0].carry_m == pytest.approx(210 * 0.9144)  # international yard, exact since 1959
    assert balls[0].raw == "Driver,5.1,210"
    assert balls[0].block.category == "driver"


def test_a_left_handers_directions_are_turned_round_once(as_coach, lesson, student):
    student.hand = "left"
    student.save()
    look_and_store(as_coach, lesson, GOOD)
    assert Shot.objects.first().club_path_deg == -5.1


def test_a_second_click_stores_nothing_twice(as_coach, lesson):
    batch = look_and_store(as_coach, lesson, GOOD)
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert Shot.objects.count() == 3


def test_the_same_file_again_is_recognised_ball_by_ball(as_coach, lesson):
    look_and_store(as_coach, lesson, GOOD)
    more = GOOD + b"Driver,2.2,230\n"
    response = upload(as_coach, lesson, more)
    assert "3 of 4 already here, 1 new" in as_coach.get(response["Location"]).content.decode()
    look_and_store(as_coach, lesson, more)
    assert Shot.objects.count() == 4


def test_a_whole_file_can_be_taken_back_and_put_in_again(as_coach, lesson, coach):
    look_and_store(as_coach, lesson, GOOD)
    history.undo_last(by=coach, lesson=lesson)
    assert not Shot.objects.present().exists()
    look_and_store(as_coach, lesson, GOOD)
    assert Shot.objects.present().count() == 3


def test_a_row_that_cannot_be_read_stays_listed_and_can_be_corrected_in_place(as_coach, lesson):
    response = upload(as_coach, lesson, GOOD + b"Driver,abc,200\n")
    page = as_coach.get(response["Location"]).content.decode()
    assert "Row 5, Club Path" in page and "abc" in page
    batch = ImportBatch.objects.get()
    as_coach.post(reverse("lessons:import_correct", args=[batch.code]), {"row_5": "Driver,7.5,200"})
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert Shot.objects.count() == 4
    assert Shot.objects.filter(club_path_deg=7.5).exists()


@pytest.mark.parametrize(("data", "sentence"), [
    (b"", "empty"),
    (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20, "Expected"),
    (b"hello", "Expected"),
])
def test_what_is_no_table_gets_a_sentence_and_leaves_nothing_behind(as_coach, lesson, data, sentence):
    response = upload(as_coach, lesson, data)
    assert response.status_code == 422
    assert sentence.lower() in response.content.decode().lower()
    assert not ImportBatch.objects.exists()


def test_pasted_rows_are_read_like_a_file(as_coach, lesson):
    rows = "Path;Carry m\n1,5;180,5\n2,5;190\n"
    response = as_coach.post(reverse("lessons:import_new", args=[lesson.code]), {"pasted": rows, "block": ""})
    assert response.status_code == 302


def test_another_club_in_the_file_gets_a_block_of_its_own(as_coach, lesson):
    desk = factories.make_block(lesson=lesson, aids=["sticks"], purpose="with_aid")
    data = GOOD + b"7i,-1.0,150\n7i,0.5,155\n"
    upload(as_coach, lesson, data, block=str(desk.code))
    as_coach.post(reverse("lessons:import_store", args=[ImportBatch.objects.get().code]))
    other = Block.objects.exclude(pk=desk.pk).get()
    assert desk.shots.count() == 3
    assert (other.category, other.aids, other.shots.count()) == ("mid_iron", ["sticks"], 2)


def test_a_named_source_is_known_by_its_headings_next_time(as_coach, lesson):
    upload(as_coach, lesson, b"A,B\n5.1,210\n6.2,220\n")
    batch = ImportBatch.objects.get()
    answer = as_coach.post(reverse("lessons:import_look", args=[batch.code]), {
        "field_0": "club_path_deg", "unit_0": "°", "field_1": "carry_m", "unit_1": "yd", "file_sign": "right",
        "source_name": "Bay nine", "club": "Driver",
    })
    assert answer.status_code == 302, answer.content.decode()
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert DataSource.objects.get().columns["carry_m"] == {"heading": "B", "unit": "yd"}
    factories.make_block(lesson=lesson, club_name="Driver", category="driver")
    upload(as_coach, lesson, b"A,B\n1.1,200\n2.2,201\n")
    fresh = ImportBatch.objects.latest("pk")
    assert fresh.reading["source_name"] == "Bay nine" and fresh.reading["confirmed"]
    as_coach.post(reverse("lessons:import_store", args=[fresh.code]))
    assert Shot.objects.get(club_path_deg=1.1).carry_m == pytest.approx(182.88)


def test_one_quantity_cannot_come_from_two_columns(as_coach, lesson):
    upload(as_coach, lesson, GOOD)
    batch = ImportBatch.objects.get()
    answer = as_coach.post(reverse("lessons:import_look", args=[batch.code]), {
        "field_1": "carry_m", "field_2": "carry_m", "file_sign": "right",
    })
    assert answer.status_code == 422
    assert "choose one of the two" in answer.content.decode()


def test_another_coachs_file_is_a_missing_page(client, other_coach, as_coach, lesson):
    upload(as_coach, lesson, GOOD)
    client.force_login(other_coach)
    assert client.get(reverse("lessons:import_look", args=[ImportBatch.objects.get().code])).status_code == 404


def test_a_club_with_a_name_of_its_own_is_asked_about_once_a_source(as_coach, lesson):
    data = b"Club,Path,Carry (yd)\nOld faithful,1.5,150\nOld faithful,2.5,152\n"
    upload(as_coach, lesson, data)
    batch = ImportBatch.objects.get()
    assert "“Old faithful” is a" in as_coach.get(reverse("lessons:import_look", args=[batch.code])).content.decode()
    as_coach.post(reverse("lessons:import_look", args=[batch.code]), {
        "field_0": "club", "field_1": "club_path_deg", "field_2": "carry_m", "file_sign": "right",
        "source_name": "Bay nine", "club_0": "mid_iron",
    })
    as_coach.post(reverse("lessons:import_store", args=[batch.code]))
    assert Block.objects.get().category == "mid_iron"
    upload(as_coach, lesson, data.replace(b"1.5", b"7.5").replace(b"2.5", b"9.5").replace(b"150", b"120"))
    fresh = ImportBatch.objects.latest("pk")
    as_coach.post(reverse("lessons:import_store", args=[fresh.code]))
    assert Shot.objects.filter(block__category="mid_iron").count() == 4


def test_columns_that_would_not_go_in_are_named_beside_the_button(as_coach, lesson):
    response = upload(as_coach, lesson, b"Club,Path,Whatnot\nDriver,1.5,7\nDriver,2.5,8\n")
    assert "Not used: “Whatnot”" in as_coach.get(response["Location"]).content.decode()


def test_an_encoding_that_does_not_exist_is_refused_with_an_example(as_coach, lesson):
    data = {"pasted": "A,B\n1,2", "encoding": "xx"}
    response = as_coach.post(reverse("lessons:import_new", args=[lesson.code]), data)
    assert "is no encoding" in response.content.decode()


@pytest.mark.parametrize("line", ["²", "9" * 5000, "-1", "x"])
def test_a_correction_of_no_line_leaves_the_file_readable(as_coach, lesson, line):
    address = upload(as_coach, lesson, GOOD)["Location"]
    batch = ImportBatch.objects.get()
    as_coach.post(reverse("lessons:import_correct", args=[batch.code]), {f"row_{line}": "Driver,1,2"})
    assert as_coach.get(address).status_code == 200


def test_the_server_lets_through_what_the_import_can_judge():
    # What the server cuts off reaches no page: the browser says “connection reset”, and nobody learns the limit.
    assert settings.MAX_REQUEST_BYTES >= 200_000_000 > MAX_BYTES
