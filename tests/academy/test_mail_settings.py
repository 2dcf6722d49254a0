"""Mail goes to the academy's own server or, without one and in the demo, into a folder."""

from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from academy import environment

FOLDER = Path("/data")


def mail(monkeypatch, *, demo=False, **values):
    for name in ("HOST", "FROM", "SECURITY", "PORT", "USER", "PASSWORD"):
        monkeypatch.delenv(f"HOLDFAST_MAIL_{name}", raising=False)
    for name, value in values.items():
        monkeypatch.setenv(f"HOLDFAST_MAIL_{name}", value)
    return environment.mail(FOLDER, demo=demo)


def test_without_a_server_and_in_the_demo_mails_are_files(monkeypatch):
    for found in (mail(monkeypatch), mail(monkeypatch, demo=True, HOST="mail.example.org", FROM="a@example.org")):
        assert found["EMAIL_BACKEND"].endswith("filebased.EmailBackend")
        assert found["EMAIL_FILE_PATH"] == FOLDER / "outbox"


@pytest.mark.parametrize(("security", "port", "tls", "ssl"), [
    ("", 587, True, False), ("starttls", 587, True, False), ("tls", 465, False, True), ("none", 587, False, False),
])
def test_a_server_is_used_with_encryption_unless_told_otherwise(monkeypatch, security, port, tls, ssl):
    found = mail(monkeypatch, HOST="mail.example.org", FROM="a@example.org", SECURITY=security, USER="a", PASSWORD="b")
    assert (found["EMAIL_PORT"], found["EMAIL_USE_TLS"], found["EMAIL_USE_SSL"]) == (port, tls, ssl)
    assert (found["EMAIL_HOST"], found["EMAIL_HOST_USER"], found["EMAIL_HOST_PASSWORD"]) == (
        "mail.example.org", "a", "b")
    assert found["EMAIL_TIMEOUT"] > 0


@pytest.mark.parametrize(("values", "said"), [
    ({"FROM": ""}, "HOLDFAST_MAIL_FROM is needed"), ({"SECURITY": "ssl3"}, "expected starttls, tls or none"),
    ({"PORT": "many"}, "expected a number from 1 to 65535"), ({"PORT": "70000"}, "expected a number"),
])
def test_a_wrong_setting_stops_the_start_with_a_sentence(monkeypatch, values, said):
    with pytest.raises(ImproperlyConfigured, match=said):
        mail(monkeypatch, **{"HOST": "mail.example.org", "FROM": "a@example.org", **values})
