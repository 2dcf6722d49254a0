"""A source with a token, a running lesson, and a program that sends."""

import json
import uuid

import pytest
from django.test import Client

from lessons.models import DataSource
from lessons.services.sources import issue_token
from tests import factories

URL = "/api/v1/shots"


@pytest.fixture
def source(academy):
    return DataSource.objects.create(name="Bay 3", carry_provenance="measured")


@pytest.fixture
def send(source):
    """Return a function that posts a message as JSON with the source's token."""
    token = issue_token(source=source)

    def post(message, *, raw: bytes | None = None, bearer: str = token, kind: str = "application/json"):
        body = raw if raw is not None else json.dumps(message).encode()
        return Client().post(URL, data=body, content_type=kind, headers={"authorization": f"Bearer {bearer}"})

    return post


@pytest.fixture
def lesson(student, source):
    lesson = factories.make_lesson(student=student, device=source)
    factories.make_block(lesson=lesson)
    return lesson


def shot(**values) -> dict:
    return {"key": str(uuid.uuid4()), "numbers": {"club_path_deg": 4.5}, **values}
