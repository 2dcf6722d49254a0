"""The description of the door says what the door does: compared with the registry, and tried with random messages."""

import json

import jsonschema_rs
import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from lessons.api.fields import CALLS
from lessons.models import DataSource, LiveBall, Shot
from lessons.services.live import STORED, THERE, WAITING
from lessons.services.sources import issue_token
from lessons.views.api import DOCUMENT
from metrics.fields import FIELDS
from metrics.units import UNITS

from .conftest import URL, shot

DESCRIBED = json.loads(DOCUMENT.read_text())
SCHEMAS = DESCRIBED["components"]["schemas"]
RANDOM = settings(
    max_examples=30, deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@pytest.fixture
def one_connection():
    """Keep the test's connection open through whole requests of the real application, as Django's own test client
    does: on PostgreSQL the end of a request would close it, and everything in the test's transaction with it."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def token(source) -> str:
    return issue_token(source=source)


def test_the_document_is_served_to_anybody_as_it_stands_in_the_program(academy):
    response = Client().get("/api/v1/openapi.json")
    assert response.json() == DESCRIBED
    assert DESCRIBED["openapi"].startswith("3.1")


def test_the_document_names_every_quantity_with_its_bounds_and_units():
    said = SCHEMAS["numbers"]["properties"]
    assert list(said) == list(FIELDS)
    for key, spec in FIELDS.items():
        plain, stated = said[key]["oneOf"]
        assert (plain["minimum"], plain["maximum"]) == (spec.lower, spec.upper)
        units = SCHEMAS[stated["$ref"].rsplit("/", 1)[1]]["properties"]["unit"]["enum"]
        assert tuple(units) == UNITS[spec.dimension]


def test_the_document_names_every_call_and_every_answer():
    said = {name: tuple(spec["enum"]) for name, spec in SCHEMAS["calls"]["properties"].items()}
    assert said == {name: call.values for name, call in CALLS.items()}
    states = SCHEMAS["taken"]["properties"]["shots"]["items"]["properties"]["state"]["enum"]
    assert set(states) == {STORED, THERE, WAITING}


def test_the_examples_in_the_document_are_taken(send, lesson):
    content = DESCRIBED["paths"]["/api/v1/shots"]["post"]["requestBody"]["content"]["application/json"]
    for example in content["examples"].values():
        response = send(example["value"])
        assert response.status_code == 200, response.content


@pytest.mark.parametrize("mode", schemathesis.GenerationMode)
@RANDOM
@given(data=st.data())
def test_every_answer_is_one_that_the_document_promises(one_connection, academy, token, mode, data):
    """schemathesis makes the messages from the document, right ones and wrong ones."""
    schema = schemathesis.openapi.from_wsgi("/api/v1/openapi.json", get_wsgi_application())
    case = data.draw(schema["/api/v1/shots"]["POST"].as_strategy(generation_mode=mode))
    DataSource.objects.update(minute_calls=0)
    case.call_and_validate(
        headers={"Authorization": f"Bearer {token}"},
        checks=[
            not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance,
            response_headers_conformance,
        ],
    )


ANY_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=12), inner, max_size=3),
    max_leaves=8,
)
NUMBERS = st.dictionaries(st.sampled_from([*FIELDS, "weight"]), st.floats() | ANY_JSON, max_size=3)
SHOTS = st.fixed_dictionaries(
    {"key": st.uuids().map(str)},
    optional={
        "numbers": NUMBERS | ANY_JSON, "calls": st.dictionaries(st.sampled_from([*CALLS, "x"]), ANY_JSON, max_size=2),
        "club": st.sampled_from(["7i", "Driver", "?"]) | ANY_JSON, "hit_at": st.datetimes().map(str) | ANY_JSON,
    },
)


@RANDOM
@given(message=st.lists(SHOTS, max_size=3) | SHOTS | ANY_JSON)
def test_whatever_is_sent_is_stored_whole_or_refused_whole(source, token, message):
    DataSource.objects.update(minute_calls=0)
    before = LiveBall.objects.count() + Shot.objects.count()
    response = Client().post(
        URL, data=json.dumps(message).encode(), content_type="application/json",
        headers={"authorization": f"Bearer {token}"},
    )
    grown = LiveBall.objects.count() + Shot.objects.count() - before
    if response.status_code == 200:
        sent = message if isinstance(message, list) else [message]
        assert [one["key"] for one in response.json()["shots"]] == [one["key"] for one in sent]
        assert grown == sum(one["state"] != THERE for one in response.json()["shots"])
    else:
        assert response.status_code in {400, 422}
        assert grown == 0
        assert all(error["problem"] for error in response.json()["errors"])


@RANDOM
@given(data=st.binary(max_size=300))
def test_bytes_that_mean_nothing_get_a_sentence(source, token, data):
    DataSource.objects.update(minute_calls=0)
    response = Client().post(
        URL, data=b"\x00" + data, content_type="application/json", headers={"authorization": f"Bearer {token}"}
    )
    assert response.status_code == 400
    assert response.json()["errors"][0]["problem"]


@RANDOM
@given(values=st.fixed_dictionaries({}, optional={
    key: st.floats(min_value=spec.lower, max_value=spec.upper) for key, spec in FIELDS.items()
}).filter(bool))
def test_every_number_within_its_bounds_is_kept_to_the_last_digit(source, token, values):
    """The document itself, read by an independent validator, agrees that these are right."""
    DataSource.objects.update(minute_calls=0)
    message = shot(numbers=values)
    described = {**SCHEMAS["shot"], "components": DESCRIBED["components"]}
    assert jsonschema_rs.validator_for(described).is_valid(message)
    response = Client().post(
        URL, data=json.dumps(message).encode(), content_type="application/json",
        headers={"authorization": f"Bearer {token}"},
    )
    assert response.status_code == 200
    assert LiveBall.objects.get(key=message["key"]).numbers == values
