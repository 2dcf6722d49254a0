"""What must be known before a plan is read: health, consent, load, events. Sentences, most pressing first."""

from datetime import date

from metrics.plans.minutes import growth_limit
from metrics.plans.types import Player

HOURS_PER_YEAR = 1.0
"""Weekly hours of golf up to the age in years for juniors (published youth-sport guidance, second-hand)."""


def alerts_of(player: Player, *, day: date) -> tuple[str, ...]:
    """Return the alerts for a plan on this day; none is an empty tuple."""
    found = [*_health(player), *_consent(player)]
    event = player.event_near(day)
    if event is not None:
        found.append(f"{event.name} in {(event.day - day).days} days: no change before it.")
    limit = growth_limit(balls_weeks=player.balls_weeks)
    if limit is not None:
        found.append(f"Not more than {limit} full swings this week: a third above the mean of the last weeks.")
    if player.junior and player.minutes_week and player.age is not None:
        hours = player.minutes_week / 60
        if hours > player.age * HOURS_PER_YEAR:
            found.append(f"{hours:.0f} hours a week are more than fit the age of {player.age}; one day off at least.")
    return tuple(found)


def _health(player: Player) -> list[str]:
    if player.red_flag:
        return ["An emergency sign was ticked: no practice until a clinician has cleared it."]
    if player.long_game_off and not player.max_pain:
        return ["A clinician’s word is wanted before full swings."]
    if player.long_game_off:
        return [f"Pain of {player.max_pain} of 10{', new' if player.new_pain else ''}: no full swings."]
    sore = ", ".join(area.replace("_", " ") for area in player.areas if area != "growing")
    return [f"Sore: {sore}. Ask before the first ball."] if sore else []


def _consent(player: Player) -> list[str]:
    if not player.junior or not player.consents_missing:
        return []
    return [f"No valid consent to: {', '.join(player.consents_missing)}."]
