"""Dates and times of day in files. The order of day and month is decided once for the file, or asked."""

import re
from collections.abc import Iterable
from datetime import datetime
from functools import lru_cache

from .numbers import tidy
from .types import AmbiguousFile
from .words import plain_words

ORDERS = {"dmy": "day first", "mdy": "month first", "ymd": "year first"}

_MONTHS = {
    name: number
    for number, names in enumerate((
        "jan january januar janvier enero gennaio januari janeiro ene janv gen",
        "feb february februar fevrier febrero febbraio februari fevereiro fev fevr",
        "mar march marz mars marzo maart marco mrz maa mrt",
        "apr april avril abril aprile avr abr",
        "may mai mayo maggio maj mei maio mag",
        "jun june juni juin junio giugno junho giu",
        "jul july juli juillet julio luglio julho lug juil",
        "aug august aout agosto augusti augustus ago",
        "sep sept september septembre septiembre settembre setembro set",
        "oct october oktober octobre octubre ottobre outubro okt ott out",
        "nov november novembre noviembre novembro",
        "dec december dezember decembre diciembre dicembre dezembro dez dic des"), 1)
    for name in names.split()
}
_DATE = re.compile(r"(?P<a>\d{1,4})\s*[./\-年년 ]\s*(?P<b>\d{1,2})\s*[./\-月월 ]\s*(?P<c>\d{1,4})[日일.]?")
_NAMED = re.compile(r"(?:\w{2,10},?\s+)?(?:(?P<d1>\d{1,2})\.?[\s\-/]*(?P<m1>[^\W\d_]{3,})\.?|"
                    r"(?P<m2>[^\W\d_]{3,})\.?\s*(?P<d2>\d{1,2})(?:st|nd|rd|th)?),?[\s\-/]*(?P<y>\d{4}|\d{2})")
_TIME = re.compile(r"(?P<h>\d{1,2})[:.h](?P<m>\d{2})(?:[:.](?P<s>\d{2})(?:[.,](?P<f>\d{1,6})\d*)?)?"
                   r"\s*(?P<half>[ap]\.?m\.?)?", re.IGNORECASE)
_ZONE = re.compile(r"\s*(?:z|utc|gmt|[+-]\d{2}:?\d{2})$", re.IGNORECASE)


def decide_order(texts: Iterable[str]) -> str | None:
    """Return "dmy", "mdy" or "ymd" for the dates of one file, or None where nothing in it decides.

    One date such as 13/04/2026 decides for all; dates with dots have the day first. Dates with the year
    first or the month by name need no order ("ymd" is returned for a file that has only those). Raises
    ``AmbiguousFile`` where one date must have the day first and another the month.
    """
    seen: dict[str, str] = {}
    numeric = False
    for text in set(texts):
        found = _DATE.match(_date_part(text))
        if not found or len(found["a"]) == 4:
            continue
        numeric = True
        first, second = int(found["a"]), int(found["b"])
        if first > 12:
            seen.setdefault("dmy", text)
        elif second > 12:
            seen.setdefault("mdy", text)
        elif "." in found[0]:
            seen.setdefault("dmy by its dots", text)
    if "dmy" in seen and "mdy" in seen:
        raise AmbiguousFile(f"The dates do not agree: “{seen['dmy']}” has the day first, “{seen['mdy']}” the month.")
    if "dmy" in seen or "mdy" in seen:
        return "dmy" if "dmy" in seen else "mdy"
    if numeric:
        return "dmy" if "dmy by its dots" in seen else None
    return "ymd"


def parse_when(text: str, *, order: str) -> datetime | None:
    """Return the moment in a cell as the file's own clock shows it (no time zone), or None if it is none.

    A date alone is midnight. ``order`` comes from ``decide_order`` or from a person.
    """
    plain = tidy(text).replace("T", " ")
    if ":" in plain:  # Without a time, "-2026" at the end is a year, not a zone.
        plain = _ZONE.sub("", plain)
    date = _date_of(_date_part(plain), order)
    if date is None:
        return None
    rest = plain[len(_date_part(plain)):].strip(" ,")
    if not rest:
        return datetime(*date)
    clock = parse_time(rest)
    return datetime(*date, *clock) if clock else None


def parse_time(text: str) -> tuple[int, int, int, int] | None:
    """Return (hour, minute, second, microsecond) of a time of day, or None where it is none.

    >>> parse_time("2:05 pm"), parse_time("25:00")
    ((14, 5, 0, 0), None)
    """
    found = _TIME.fullmatch(tidy(text))
    if not found:
        return None
    hour, minute, second = int(found["h"]), int(found["m"]), int(found["s"] or 0)
    if found["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"][0].lower() == "p" else 0)
    if hour > 23 or minute > 59 or second > 59:
        return None
    return hour, minute, second, int((found["f"] or "0").ljust(6, "0"))


@lru_cache(maxsize=8192)
def _date_part(text: str) -> str:
    plain = tidy(text).replace("T", " ")
    found = _DATE.match(plain) or _NAMED.match(plain)
    return found[0] if found else ""


@lru_cache(maxsize=8192)
def _date_of(text: str, order: str) -> tuple[int, int, int] | None:
    found = _DATE.fullmatch(text)
    if found:
        parts = [int(found["a"]), int(found["b"]), int(found["c"])]
        if len(found["a"]) == 4:
            order = "ymd"
        by_name = dict(zip(order, parts, strict=True))
        return _checked(by_name["y"], by_name["m"], by_name["d"])
    named = _NAMED.fullmatch(text)
    if not named:
        return None
    month = _MONTHS.get(plain_words(named["m1"] or named["m2"]))
    return _checked(int(named["y"]), month, int(named["d1"] or named["d2"])) if month else None


def _checked(year: int, month: int, day: int) -> tuple[int, int, int] | None:
    year += 2000 if year < 70 else 1900 if year < 100 else 0
    try:
        datetime(year, month, day)
    except ValueError:
        return None
    return year, month, day
