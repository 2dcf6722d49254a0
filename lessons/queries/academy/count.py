"""What a figure is made of."""

from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, kw_only=True)
class Item:
    """A line of a list that is not of students: a coach, a class, an incident, and what is known of it."""

    name: str
    words: str


@dataclass(frozen=True, kw_only=True)
class Count:
    """``top`` of ``bottom``, with the students or other ``items`` behind it. ``per`` and ``unit`` say what a plain
    share is not."""

    top: float
    bottom: float
    students: list[int] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    unit: str = "%"
    per: float = 100
    of: str = ""
    """What ``bottom`` counts, where that is not what ``top`` counts."""
    money: bool = False
    words: str = ""

    @property
    def cents(self) -> int:
        """An amount in hundredths, for a page that knows the currency."""
        return round(100 * self.top)

    @property
    def share(self) -> float | None:
        """The ratio in its unit; None where there is nothing to divide by."""
        return self.per * self.top / self.bottom if self.bottom else None


def of_students(inside: Iterable[int], whole: Iterable[int]) -> Count:
    """Return a count of students, each once, those inside listed."""
    whole = set(whole)
    inside = [student for student in dict.fromkeys(inside) if student in whole]
    return Count(top=len(inside), bottom=len(whole), students=inside)
