"""Incidents: noted, closed, and who reads what was hurt."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from lessons.models import CoachCheck, Incident
from tests import factories


def note(client, coach, student=None, **values):
    whole = {"happened_on": timezone.localdate().isoformat(), "kind": "injury", "venue": "", "what": "A fall at bay 4",
             "student": str(student.code) if student else "", "health_text": "left wrist", "keeper": str(coach.code),
             **values}
    return client.post(reverse("lessons:incidents"), whole)


def read(client, person) -> str:
    client.force_login(person)
    return client.get(reverse("lessons:incidents")).content.decode()


def test_what_was_hurt_is_read_by_coach_and_welfare_lead_and_never_by_the_owner(client, coach, owner, student):
    client.force_login(coach)
    note(client, coach, student)
    welfare = factories.make_coach("welfare", is_coach=False, is_welfare_lead=True)
    assert "left wrist" in read(client, coach) and "left wrist" in read(client, welfare)
    seen = read(client, owner)
    assert "A fall at bay 4" in seen and "left wrist" not in seen and student.name not in seen.split("Note one")[0]


def test_another_coach_does_not_read_it_at_all(client, coach, other_coach, student):
    client.force_login(coach)
    note(client, coach, student)
    assert "A fall at bay 4" not in read(client, other_coach)


def test_an_incident_is_closed_with_how_it_ended_and_opened_again(as_coach, coach):
    note(as_coach, coach)
    row = Incident.objects.get()
    address = reverse("lessons:incident_close", args=[row.code])
    as_coach.post(address, {"outcome": ""})
    row.refresh_from_db()
    assert row.closed_on is None
    as_coach.post(address, {"outcome": "Mat edge mended"})
    row.refresh_from_db()
    assert (row.closed_on, row.outcome) == (timezone.localdate(), "Mat edge mended")
    as_coach.post(address, {"again": "yes"})
    row.refresh_from_db()
    assert row.closed_on is None


def test_an_incident_of_tomorrow_is_asked_back(as_coach, coach):
    answer = note(as_coach, coach, happened_on=(timezone.localdate() + timedelta(days=1)).isoformat())
    assert answer.status_code == 422 and "is still to come" in answer.content.decode()


@pytest.mark.parametrize(("who", "stored"), [("owner", True), ("coach", False)])
def test_papers_are_kept_by_the_owner(client, coach, owner, who, stored):
    client.force_login({"owner": owner, "coach": coach}[who])
    client.post(reverse("lessons:coach_check"), {
        "coach": str(coach.code), "kind": "first_aid", "done_on": "2026-01-05", "expires_on": "2028-01-05"})
    assert CoachCheck.objects.exists() is stored
