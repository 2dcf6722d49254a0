"""Clinics that ship with the program: stations for a class, each with its marked zone. Common practice, no source."""

from dataclasses import dataclass

from metrics.plans.minutes import split_minutes

MOST_STATIONS = 6
"""More stations than this cannot be watched by one coach in an hour."""


@dataclass(frozen=True, kw_only=True)
class Station:
    """One station: what is done, in which marked zone, how, and its share of the time."""

    title: str
    zone: str
    how: str
    weight: int


@dataclass(frozen=True, kw_only=True)
class Clinic:
    """A class as it is laid out: title and stations in order."""

    slug: str
    title: str
    stations: tuple[Station, ...]


_ALL = (
    Clinic(slug="first_swings", title="First swings", stations=(
        Station(title="Zones and signals", zone="Behind the line", weight=1,
                how="Where one swings, where one waits, what “stop” means. Everybody shows it."),
        Station(title="Hands and aim", zone="One bay each", weight=2,
                how="Grip, face to a mark, feet last. No ball."),
        Station(title="Tall tee, short swing", zone="One bay each, every second one empty", weight=4,
                how="Ball on a tall tee, waist to waist. Eight clean ones, then lower the tee."),
        Station(title="One target together", zone="All bays, one direction", weight=2,
                how="Each picks a club and calls the target. Stop while it is fun."),
    )),
    Clinic(slug="around_the_green", title="Around the green", stations=(
        Station(title="Landing towel", zone="Left apron, swings away from the green’s other half", weight=3,
                how="Towel 3 to 8 m out; land on it, change the club, not the swing."),
        Station(title="Putting gate", zone="Far side of the green", weight=2,
                how="Two tees, a ball and a centimetre wide, 40 cm ahead; ten putts from 5 ft."),
        Station(title="Pace ladder", zone="Near side of the green", weight=2,
                how="20, 30 and 40 ft in any order; stop past the hole, not by more than a step."),
        Station(title="Up and down", zone="Right apron, one player at a time", weight=3,
                how="One ball, chip and putt out; two strokes or fewer count."),
    )),
    Clinic(slug="aim_and_routine", title="Aim and routine", stations=(
        Station(title="Aim audit", zone="One bay for two, one swings none", weight=2,
                how="Set up to a target, the partner lays the stick; say the error before looking."),
        Station(title="Spot and step in", zone="One bay each", weight=3,
                how="Mark a metre ahead, face first, feet second; a new target each ball."),
        Station(title="One ball, one job", zone="One bay each", weight=3,
                how="Club and target from a card; full routine, one ball, next card."),
    )),
)
CLINICS: dict[str, Clinic] = {clinic.slug: clinic for clinic in _ALL}
"""Every shipped clinic by its slug, in the order in which they are offered."""


def stations_for(*, clinic: Clinic, minutes: int) -> list[dict[str, str | int]]:
    """Return the stations of a clinic as plain values, their minutes adding up to ``minutes`` exactly.

    Raises ValueError below one minute a station.
    """
    if minutes < len(clinic.stations):
        raise ValueError(f"{minutes} minutes are too few for {len(clinic.stations)} stations")
    shares = split_minutes(total=minutes, weights=[station.weight for station in clinic.stations])
    return [{"title": one.title, "zone": one.zone, "how": one.how, "minutes": share}
            for one, share in zip(clinic.stations, shares, strict=True)]
