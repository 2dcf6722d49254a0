"""How much to practise today, from what the student said they really have. Pure; no query.

Sizes are common practice, no source: 30 minutes a week go into three goes of ten, an hour into four of fifteen,
more into four goes. Not more than 80 balls an hour; a week above 1.3 times the four-week mean is worth a word.
"""

from dataclasses import dataclass

BALLS_AN_HOUR = 80
STEEP = 1.3
YOUTH_HOURS_PER_YEAR = 1.0
"""Weekly hours above the age in years are a warning for juniors (published youth-sport guidance)."""


@dataclass(frozen=True, kw_only=True)
class Dose:
    """Today's share. ``minutes`` is None where the student has not said how much time there is."""

    minutes: int | None
    most_balls: int | None
    week_minutes: int | None
    done_minutes: int
    done_times: int

    @property
    def is_done(self) -> bool:
        return self.week_minutes is not None and self.done_minutes >= self.week_minutes


def todays_dose(
    *, week_minutes: int | None, done_minutes: int, done_times: int, most_minutes: int | None = None
) -> Dose:
    """Return today's share of the week (0..10080 minutes) after what was done in the last seven days.

    ``most_minutes`` caps it: children do not stay at one task for long.
    """
    if not week_minutes:
        return Dose(
            minutes=None, most_balls=None, week_minutes=None, done_minutes=done_minutes, done_times=done_times
        )
    minutes = 10 if week_minutes <= 30 else 15 if week_minutes <= 60 else min(60, round(week_minutes / 4 / 5) * 5)
    minutes = min(minutes, week_minutes, most_minutes or minutes)
    return Dose(
        minutes=minutes, most_balls=minutes * BALLS_AN_HOUR // 60, week_minutes=week_minutes,
        done_minutes=done_minutes, done_times=done_times,
    )


def is_steep(*, week_balls: int, earlier_weeks: list[int]) -> bool:
    """Say whether this week's balls jump beyond what four earlier weeks have prepared; needs two weeks with
    balls."""
    counted = [balls for balls in earlier_weeks if balls > 0]
    if len(counted) < 2:
        return False
    return week_balls > STEEP * sum(counted) / len(counted)


def too_many_hours(*, age: int | None, week_minutes: int) -> bool:
    """Say whether a junior's weekly hours, lessons included, exceed the age in years."""
    return age is not None and week_minutes / 60 > age * YOUTH_HOURS_PER_YEAR
