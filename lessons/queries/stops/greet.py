"""Greet: pain, warm-up, played, practised, and the conditions of the hour."""

import math
import uuid
from typing import Any

from django.utils import timezone

from academy.health import RED_FLAGS, Advice, advice_for
from academy.models import Academy, HealthFlag
from lessons.care import flags_seen, reads_health
from lessons.models import Lesson, LibraryEntry, PracticeEntry
from lessons.queries.lesson import house_of

PLAYED = ("not played", "9 holes", "18 holes", "more than once")


def context(lesson: Lesson) -> dict[str, Any]:
    """Return what was asked and answered, the duty-of-care words, and the conditions. Five queries at most."""
    flags = flags_seen(lesson)
    house = house_of(lesson)
    junior = lesson.student.is_junior(adult_age=house.adult_age if house else 18)
    return {
        "missing": _missing(lesson, junior), "flags": flags, "advice": _advice(lesson, flags, house),
        "red_flags": RED_FLAGS, "areas": HealthFlag.Area.choices, "severities": range(11), "pain_key": uuid.uuid4(),
        "questions": _questions(lesson, flags), "junior": junior, "wind": _wind(lesson), "lesson": lesson,
        "all_told": reads_health(lesson),
    }


def gist(lesson: Lesson) -> dict[str, Any]:
    """Return what the line needs. Two queries at most."""
    flags = flags_seen(lesson)
    house = house_of(lesson)
    junior = lesson.student.is_junior(adult_age=house.adult_age if house else 18)
    return {
        "missing": _missing(lesson, junior), "flags": flags, "lesson": lesson, "all_told": reads_health(lesson),
    }


def summary(data: dict[str, Any]) -> tuple[str, str]:
    missing, lesson = data["missing"], data["lesson"]
    if missing:
        begun = lesson.pain_asked or lesson.played or lesson.practised or lesson.warmed_up is not None
        return f"to ask: {', '.join(missing)}", "begun" if begun else ""
    pain = "no pain" if data["all_told"] else "pain asked"
    if data["flags"]:
        pain = f"pain {max(flag.severity for flag in data['flags'])} of 10"
    warm = "warmed up" if lesson.warmed_up else "not warmed up"
    practised = f"practised: {lesson.get_practised_display().lower()}"
    return f"{pain}, {warm}, {lesson.played}, {practised}", "done"


def _questions(lesson: Lesson, flags: list[HealthFlag]) -> list[dict[str, Any]]:
    """Return the four questions with their taps and what is known beforehand."""
    warm, played = lesson.warmed_up, lesson.played
    fine = lesson.pain_asked and not _told(lesson, flags)
    return [
        {"title": "Pain", "note": _pain_words(flags),
         "taps": [_tap("no_pain", "on", "Nothing new" if flags else "No pain", fine)]},
        {"title": "Warmed up", "taps": [
            _tap("warmed_up", "yes", "Yes", warm is True), _tap("warmed_up", "no", "No", warm is False)]},
        {"title": "Played", "taps": [_tap("played", word, word.capitalize(), played == word) for word in PLAYED]},
        {"title": "Practised", "note": _practice(lesson), "taps": [
            _tap("practised", value, word, lesson.practised == value) for value, word in Lesson.Practised.choices
            if value]},
    ]


def _tap(name: str, value: str, word: str, chosen: bool) -> dict[str, Any]:
    return {"name": name, "value": value, "word": word, "chosen": chosen}


def _told(lesson: Lesson, flags: list[HealthFlag]) -> bool:
    """Say whether something new was told in this lesson: then the tap that says otherwise is not the answer."""
    begun = lesson.started_at or lesson.starts_at
    return any(flag.reported_at >= begun for flag in flags)


def _pain_words(flags: list[HealthFlag]) -> str:
    return "; ".join(
        f"{flag.get_area_display()} {flag.severity} of 10, said {timezone.localdate(flag.reported_at):%-d %B}"
        for flag in flags
    )


def _wind(lesson: Lesson) -> str:
    """Say the wind; a number only where it was measured."""
    parts = [part for part in (lesson.wind_along_mps, lesson.wind_cross_mps) if part is not None]
    if parts:
        return f"wind {math.hypot(*parts):.0f} m/s, measured"
    return "windy, as felt" if lesson.is_windy else "no wind noted"


def _missing(lesson: Lesson, junior: bool) -> list[str]:
    asked = {
        "pain": lesson.pain_asked, "warm-up": lesson.warmed_up is not None, "played": bool(lesson.played),
        "practised": bool(lesson.practised), "second adult": not junior or bool(lesson.second_adult),
    }
    return [name for name, known in asked.items() if not known]


def _advice(lesson: Lesson, flags: list[HealthFlag], house: Academy | None) -> list[Advice]:
    """Return the cards that fit: health first, then warm-up where it is missing, then the hitting zone."""
    cards = advice_for(flags, academy=house)
    wanted = [*(["warm_up"] if lesson.warmed_up is False else []), "hitting_zone"]
    rows = LibraryEntry.objects.filter(kind=LibraryEntry.Kind.SAFETY, slug__in=wanted, retired_at__isnull=True)
    by_slug = {row.slug: row for row in rows}
    return cards + [
        Advice(title=by_slug[slug].title, text=by_slug[slug].data["text"]) for slug in wanted if slug in by_slug
    ]


def _practice(lesson: Lesson) -> str:
    """Say what the student ticked on the private page since the last visit. Two queries."""
    last = (
        Lesson.objects.filter(student=lesson.student, starts_at__lt=lesson.starts_at, status=Lesson.Status.FINISHED)
        .values_list("starts_at", flat=True).first()
    )
    if last is None:
        return ""
    entries = PracticeEntry.objects.filter(student=lesson.student, practised_at__gt=last)
    minutes = list(entries.values_list("minutes", flat=True))
    times = f"{len(minutes)} time{'' if len(minutes) == 1 else 's'}" if minutes else "nothing"
    total = f", {sum(m or 0 for m in minutes)} minutes" if any(minutes) else ""
    return f"Ticked on the private page since {timezone.localdate(last):%-d %B}: {times}{total}."
