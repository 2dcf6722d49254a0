"""Which drill goes where: only what place, kit, health and age allow."""

from collections.abc import Iterable, Mapping

from metrics.plans.kit import can_do
from metrics.plans.types import YOUNG, Player
from metrics.rules.records import Drill

GROWING, GROWN_AT = "growing", 15
"""Below 15 what loads a growing body (speed work) is left out; ``growing`` is the word the library has for it."""


def allowed(drill: Drill, *, player: Player) -> bool:
    """Say whether a drill may be proposed: place and kit at hand, nothing sore or growing loaded, nothing but aim,
    setup and putting while the long game is off, nothing at all on an emergency sign or without consent, not against
    the player's pattern."""
    if player.red_flag or not player.may_be_taught or (player.long_game_off and not drill.gentle):
        return False
    sore = {*player.areas, *([GROWING] if player.age is not None and player.age < GROWN_AT else [])}
    if not can_do(drill, places=player.places, kit=player.kit) or set(drill.areas) & sore:
        return False
    return player.change is None or player.change.pattern not in drill.not_for


def pick(library: Mapping[str, Drill], *, player: Player, patterns: Iterable[str] = (), slugs: Iterable[str] = (),
         places: Iterable[str] = (), most_minutes: int = 10_000, without: Iterable[str] = ()) -> Drill | None:
    """Return the first drill that may be proposed: those named, then those meant for a pattern, shortest first.

    ``places`` narrows where it is done; ``without`` are slugs already taken. None where nothing fits.
    """
    named, wanted, taken = list(slugs), set(patterns), set(without)
    limit = min(most_minutes, 20) if player.age is not None and player.age < YOUNG else most_minutes
    fitting = [drill for drill in library.values()
               if drill.slug not in taken and drill.minutes <= limit and allowed(drill, player=player)
               and (not places or set(drill.places) & set(places) & set(player.places))
               and (drill.slug in named or wanted & set(drill.patterns))]
    order = {slug: place for place, slug in enumerate(named)}
    return min(fitting, key=lambda drill: (order.get(drill.slug, len(order)), drill.minutes, drill.slug), default=None)
