"""What the planner may know of a player. Plain values; what is not known is left out and never guessed."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from metrics.rules.health import PAIN_STOP

Outcome = Literal["kept", "partly", "lost", "worse", "unknown"]
"""What the next first ten said of a change: kept, partly, lost, worse than before it; unknown is "can't tell"."""
Mood = Literal["", "bored", "frightened"]
NO_CHANGE_DAYS = 28
"""No change within three to four weeks of an important event: the longer of the two. Common practice, no source."""
YOUNG, CHILD = 11, 7
"""Below 11: no task above 20 minutes; below 7: games only. Common practice."""


@dataclass(frozen=True, kw_only=True)
class Event:
    """A day the player wants to be ready for."""

    name: str
    day: date


@dataclass(frozen=True, kw_only=True)
class VisitResult:
    """One return visit: what the first ten said, whether the number lay in its window, and what was told."""

    day: date
    outcome: Outcome
    in_window: bool = False
    practised: Literal["", "no", "some", "yes"] = ""
    mood: Mood = ""
    pain: int = 0


@dataclass(frozen=True, kw_only=True)
class ChangeInWork:
    """The one change: the pattern it answers, its words, the student's cue, and the drills of the pattern."""

    pattern: str
    title: str
    change: str
    cue: str = ""
    retest: str = ""
    drills: tuple[str, ...] = ()
    with_aids: bool = False


@dataclass(frozen=True, kw_only=True)
class ShortGameNeed:
    """A part of the short game that a test pointed at: "putting", "wedges", "chipping" or "sand", and why."""

    part: str
    pattern: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Player:
    """Everything a plan may look at.

    ``minutes_week``: what the student will really do, None where not asked. ``places`` and ``kit``: what they have
    (see ``metrics.plans.kit``). ``consents_missing``: items of the academy's list without a valid consent.
    ``success``: drill slug -> shares of passes, oldest first. ``balls_weeks``: balls of earlier weeks, newest first.
    """

    goal: str = ""
    age: int | None = None
    adult_age: int = 18
    beginner: bool = False
    handicap_index: float | None = None
    minutes_week: int | None = None
    places: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    max_pain: int = 0
    new_pain: bool = False
    red_flag: bool = False
    areas: tuple[str, ...] = ()
    consents_missing: tuple[str, ...] = ()
    events: tuple[Event, ...] = ()
    change: ChangeInWork | None = None
    results: tuple[VisitResult, ...] = ()
    needs: tuple[ShortGameNeed, ...] = ()
    success: Mapping[str, tuple[float, ...]] | None = None
    balls_weeks: tuple[int, ...] = ()

    @property
    def junior(self) -> bool:
        """True below the age at which a person speaks for themselves; an unknown age counts as adult."""
        return self.age is not None and self.age < self.adult_age

    @property
    def long_game_off(self) -> bool:
        """True where pain of 4 or more, new pain or an emergency sign keeps full swings off."""
        return self.red_flag or self.new_pain or self.max_pain >= PAIN_STOP

    @property
    def may_be_taught(self) -> bool:
        """False for a junior without the consent to lessons."""
        return not (self.junior and "lessons" in self.consents_missing)

    def event_near(self, day: date) -> Event | None:
        """Return the next event if it lies within the weeks without change."""
        coming = [event for event in self.events if 0 <= (event.day - day).days <= NO_CHANGE_DAYS]
        return min(coming, key=lambda event: event.day, default=None)
