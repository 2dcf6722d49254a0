"""The page that erases a person: the name typed, the password given, and only for whom it is."""

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse
from django.utils import timezone

from academy.models import Student
from tests import factories

GOOD = {"typed_name": "edda  marlow", "password": "a-long-test-password"}


def ask(client, student, **values):
    return client.post(reverse("academy:erase", args=[student.code]), GOOD | values)


def test_the_page_says_what_goes_and_until_when_backups_hold_it(as_coach, student):
    page = as_coach.get(reverse("academy:erase", args=[student.code])).content.decode()
    assert "1 entry and 0 files" in page and "Automatic backups hold the record until" in page


@pytest.mark.parametrize(("values", "sentence"), [
    ({"typed_name": "Edda"}, "That is not the name. Expected Edda Marlow."), ({"password": "x"}, "not your password"),
])
def test_a_wrong_name_or_password_erases_nothing(as_coach, student, values, sentence):
    answer = ask(as_coach, student, **values)
    assert answer.status_code == 422 and sentence in answer.content.decode()
    assert Student.objects.filter(pk=student.pk).exists()


def test_the_coach_erases_an_own_student_and_is_told_where_the_name_still_stands(as_coach, coach, student):
    factories.make_student(coach=coach, name="Ola Fenn", notes="drives with Edda Marlow")
    answer = as_coach.post(reverse("academy:erase", args=[student.code]), GOOD, follow=True)
    assert "in 1 texts of other records" in answer.content.decode()
    assert not Student.objects.filter(pk=student.pk).exists()


def test_a_juniors_record_is_erased_by_the_owner_alone(client, as_coach, owner, student):
    student.born_on = timezone.localdate()
    student.save()
    assert "owner of the academy alone" in ask(as_coach, student).content.decode()
    client.force_login(owner)
    assert ask(client, student).status_code == 302
    assert not Student.objects.filter(pk=student.pk).exists()


def test_the_command_erases_by_code_only(student):
    with pytest.raises(CommandError, match="no student with the code"):
        call_command("erase", "edda", "--yes")
    call_command("erase", str(student.code), "--yes")
    assert not Student.objects.exists()
