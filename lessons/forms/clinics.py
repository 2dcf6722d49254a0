"""Stations of a class as a person types them, and the name of a template."""

from collections.abc import Mapping
from typing import Any

from django import forms

from metrics.plans.clinics import MOST_STATIONS


class TemplateForm(forms.Form):
    """The name under which a lay-out is kept."""

    title = forms.CharField(max_length=120, label="Keep it as a template called")


def read_stations(data: Mapping[str, str], *, minutes: int) -> tuple[list[dict[str, Any]], list[str]]:
    """Return the stations that were typed and the sentences of what is wrong with them; a row without a title is
    left out."""
    stations, problems = [], []
    for place in range(1, MOST_STATIONS + 1):
        row = {name: _text(data.get(f"{name}-{place}", "")) for name in ("title", "zone", "how", "minutes")}
        if not row["title"]:
            continue
        if not row["minutes"].isdecimal() or not 1 <= int(row["minutes"][:4]) <= 240:
            problems.append(f"Station {place}: “{row['minutes']}” minutes; expected a whole number from 1 to 240.")
            continue
        stations.append({"title": row["title"][:80], "zone": row["zone"][:120], "how": row["how"][:300],
                         "minutes": int(row["minutes"])})
    total = sum(station["minutes"] for station in stations)
    if total > minutes:
        problems.append(f"The stations add up to {total} minutes; the class has {minutes}.")
    return stations, problems


def read_observations(data: Mapping[str, str]) -> dict[str, str]:
    """Return what was said about each person, by the lesson's code; at most 300 signs each."""
    return {key.removeprefix("said-"): _text(words)[:300] for key, words in data.items() if key.startswith("said-")}


def _text(typed: str) -> str:
    """Return what was typed without the null signs that no database keeps."""
    return typed.replace("\0", "").strip()
