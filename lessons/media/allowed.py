"""Whether pictures of a student may be taken, kept and looked at today.

Keeping always needs a yes that was given: an adult's own, a junior's guardian's. Looking stops the moment keeping is
withdrawn or runs out, and while filming stands withdrawn.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from academy.consents import Permission, Rules, judge, rules
from academy.models import Consent, Student

_ITEMS = (Consent.Item.FILMING, Consent.Item.KEEPING)
GIVEN, WITHDRAWN = "given", "withdrawn"


@dataclass(frozen=True, kw_only=True)
class Allowed:
    """What is allowed on a day. ``ask_adult``: the student is of age and may say yes on the spot."""

    filming: Permission
    keeping: Permission
    consent: Consent | None
    ask_adult: bool

    @property
    def keep(self) -> bool:
        """A new picture may be kept."""
        return self.filming.allowed and self.keeping.word == GIVEN

    @property
    def show(self) -> bool:
        """What is kept may be looked at."""
        return self.keeping.word == GIVEN and self.filming.word != WITHDRAWN

    @property
    def may_ask(self) -> bool:
        """Nothing stands against keeping but that the adult has not been asked."""
        return self.ask_adult and self.filming.allowed and not self.keep and self.keeping.word != WITHDRAWN

    @property
    def reason(self) -> str:
        """Why not, in one sentence."""
        if self.filming.word == WITHDRAWN or not self.filming.allowed:
            return self.filming.reason
        if self.keeping.word == "not asked":
            return "Keeping pictures: kept only after a yes, and nobody has been asked yet."
        return self.keeping.reason


def allowed_for(*, student: Student, day: date) -> Allowed:
    """Judge a student's consents to pictures. Two queries."""
    return judge_rows(student=student, day=day, rows=list(student.consents.filter(item__in=_ITEMS)), by=rules())


def judge_rows(*, student: Student, day: date, rows: Iterable[Consent], by: Rules) -> Allowed:
    """Judge consents that were read already; no query."""
    rows = list(rows)
    filming, keeping = (judge(student=student, item=item, day=day, rows=rows, by=by) for item in _ITEMS)
    age = student.age_on(day)
    counted = [row for row in rows if row.item == Consent.Item.KEEPING and row.valid_on(day)]
    return Allowed(
        filming=filming, keeping=keeping, ask_adult=age is None or age >= by.adult_age,
        consent=max(counted, key=lambda row: row.expires_on, default=None) if keeping.word == GIVEN else None,
    )
