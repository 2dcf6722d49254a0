"""Who allowed what, until when; and the one answer to "may this be done today?".

Defaults, to be changed in the academy's house rules and by local law: a junior needs a guardian's consent for
every item; an adult is asked only for what goes beyond the lesson itself. Consents last twelve months. A
guardian's consent ends with the student's coming of age.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.utils.formats import date_format

from .journal import journal
from .models import Academy, Coach, Consent, Guardian, Student

ASKED_OF_ADULTS = (Consent.Item.SHARING, Consent.Item.STATISTICS)
EXPIRES_SOON_DAYS = 30


@dataclass(frozen=True, kw_only=True)
class Permission:
    """Whether something is allowed on a day, with the sentence that says why or why not."""

    item: str
    label: str
    allowed: bool
    reason: str
    word: str
    until: date | None = None
    giver: str = ""

    def ends_within(self, *, day: date, days: int = EXPIRES_SOON_DAYS) -> bool:
        return self.allowed and self.until is not None and (self.until - day).days <= days


@dataclass(frozen=True, kw_only=True)
class Rules:
    """What this academy asks of whom."""

    adult_age: int = 18
    asked_of_adults: tuple[str, ...] = ASKED_OF_ADULTS


def rules() -> Rules:
    """Return the academy's own rules. One query."""
    return rules_of(Academy.objects.only("adult_age", "house_rules").first())


def rules_of(house: Academy | None) -> Rules:
    """Return the rules of an academy that was read already; no query."""
    if house is None:
        return Rules()
    asked = house.house_rules.get("consents_asked_of_adults", ASKED_OF_ADULTS)
    return Rules(adult_age=house.adult_age, asked_of_adults=tuple(asked))


def consent_allows(*, student: Student, item: str, day: date, by: Rules | None = None) -> Permission:
    """Say whether ``item`` is allowed for this student on this day, and why. One query, two where ``by`` is not
    given."""
    return judge(student=student, item=item, day=day, rows=student.consents.filter(item=item), by=by or rules())


def consent_table(*, student: Student, day: date) -> list[Permission]:
    """Return the standing of every item for one student. Two queries."""
    rows, by = list(student.consents.all()), rules()
    return [judge(student=student, item=item, day=day, rows=rows, by=by) for item in Consent.Item.values]


def judge(*, student: Student, item: str, day: date, rows: Iterable[Consent], by: Rules) -> Permission:
    """Judge one item from rows already read; no query."""
    label, name = Consent.Item(item).label, student.first_name
    age = student.age_on(day)
    junior = age is not None and age < by.adult_age
    own = [row for row in rows if row.item == item]
    counted = [row for row in own if junior or age is None or row.given_by_guardian_id is None]
    valid = max((row for row in counted if row.valid_on(day)), key=lambda row: row.expires_on, default=None)
    if valid is not None:
        return Permission(
            item=item, label=label, allowed=True, until=valid.expires_on, giver=valid.given_by_name, word="given",
            reason=f"{label}: allowed by {valid.given_by_name} until {_day(valid.expires_on)}.",
        )
    if not own and not junior and item not in by.asked_of_adults:
        return Permission(
            item=item, label=label, allowed=True, word="not asked",
            reason=f"{label}: not asked of adults here, and off as soon as {name} says so.",
        )
    reason, word = _why_not(own=own, counted=counted, day=day, ask="a guardian" if junior else name, label=label)
    outgrown = bool(own) and not counted
    if outgrown and item not in by.asked_of_adults:
        return Permission(item=item, label=label, allowed=True, word="not asked", reason=reason)
    return Permission(item=item, label=label, allowed=False, word=word, reason=reason)


def _why_not(
    *, own: list[Consent], counted: list[Consent], day: date, ask: str, label: str
) -> tuple[str, str]:
    if own and not counted:
        return f"{label}: of age now, so a guardian’s consent no longer counts. Ask {ask} anew.", "ask anew"
    if not counted:
        return f"{label}: nobody has allowed this yet. Ask {ask}.", "not given"
    last = max(counted, key=lambda row: (row.given_on, row.pk))
    if last.withdrawn_on is not None and last.withdrawn_on <= day:
        since = _day(last.withdrawn_on)
        return f"{label}: withdrawn on {since}. It stays off until {ask} gives it again.", "withdrawn"
    if last.given_on > day:
        return f"{label}: given from {_day(last.given_on)} on.", "not yet"
    return f"{label}: the consent ran out on {_day(last.expires_on)}. Ask {ask} to renew it.", "ran out"


def give_consent(
    *, by: Coach | None, student: Student, item: str, given_on: date, guardian: Guardian | None = None,
    source: str = "typed",
) -> Consent:
    """Store that ``item`` is allowed for twelve months; for a junior, by a guardian who is noted as one."""
    junior = student.is_junior(adult_age=rules().adult_age)
    if junior and guardian is None:
        raise ValidationError(f"{student.first_name} is a junior: say which guardian gives the consent.")
    if guardian is not None and not guardian.students.filter(pk=student.pk).exists():
        raise ValidationError(f"{guardian.name} is not noted as a guardian of {student.first_name}.")
    consent = Consent(
        student=student, item=item, given_by_guardian=guardian, given_by_name=(guardian or student).name,
        given_on=given_on, expires_on=a_year_after(given_on), source=source,
    )
    with journal(by=by, student=student, sentence=f"Consent given: {consent.get_item_display()}") as entry:
        entry.create(consent)
    return consent


def withdraw_consent(*, by: Coach | None, student: Student, item: str, day: date) -> int:
    """End every running consent for one item, from this day on; return how many there were."""
    rows = [row for row in student.consents.filter(item=item, withdrawn_on__isnull=True) if row.expires_on >= day]
    with journal(by=by, student=student, sentence=f"Consent withdrawn: {Consent.Item(item).label}") as entry:
        for row in rows:
            entry.update(row, withdrawn_on=day)
    return len(rows)


def a_year_after(day: date) -> date:
    """Return the same day of the next year; 28 February after a leap day."""
    try:
        return day.replace(year=day.year + 1)
    except ValueError:
        return day.replace(year=day.year + 1, day=28)


def _day(day: date) -> str:
    return date_format(day, "j F Y")
