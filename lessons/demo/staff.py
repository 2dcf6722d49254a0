"""The house of the demo: the academy, its staff with their papers and hours, places, devices."""

from dataclasses import dataclass
from datetime import date, timedelta

from academy.models import Academy, Coach, Venue
from lessons.models import CoachCheck, DataSource, WorkingHours

from .devices import DEVICES
from .names import invent_names
from .rows import Rows
from .timeline import WORKING, at
from .visits import Places

FROM_DEMO = {"source": "demo"}
COACHES = (("runa", "Runa Holm"), ("piet", "Piet Arden"), ("salla", "Salla Wick"), ("tarek", "Tarek Olin"))
WELFARE = ("ines", "Ines Quill")
STUDENTS_A_COACH = 40


@dataclass(frozen=True, kw_only=True)
class House:
    """The academy with what everybody shares. ``coaches`` teach; the welfare lead does not."""

    coaches: list[Coach]
    welfare: Coach
    places: Places


def found_house(*, rows: Rows, students: int, today: date, name: str) -> House:
    """Write academy, staff, places and devices."""
    Academy.objects.create(
        pk=1, name=name, timezone="Europe/Dublin", units="yards", is_demo=True,
        defibrillator_place="Clubhouse door, left of the pro shop",
    )
    more = max(0, -(-students // STUDENTS_A_COACH) - len(COACHES))
    extra = [(f"coach{i}", name) for i, name in enumerate(invent_names(rng=rows.random, count=more), len(COACHES) + 1)]
    coaches = [_coach(rows, *row, owner=i == 0) for i, row in enumerate((*COACHES, *extra))]
    for number, coach in enumerate(coaches):
        _papers_and_hours(rows, number, coach, today)
    return House(
        coaches=coaches, welfare=_coach(rows, *WELFARE, teaches=False),
        places=Places(
            range=_venue(rows, "Saltmarsh range", altitude_m=12, surface="mat"),
            grass=_venue(rows, "Heron grass tee", altitude_m=18, surface="turf"),
            studio=_venue(rows, "Winter studio", altitude_m=15, surface="mat", indoor=True),
            devices={key: DataSource.objects.create(
                code=rows.key(), name=device.name, carry_provenance=device.carry_provenance,
                is_indoor_model=device.is_indoor_model, **FROM_DEMO) for key, device in DEVICES.items()},
        ),
    )


def _coach(rows: Rows, username: str, full_name: str, *, owner: bool = False, teaches: bool = True) -> Coach:
    first, _, last = full_name.partition(" ")
    coach = Coach(
        code=rows.key(), username=username, first_name=first, last_name=last, is_owner=owner, is_coach=teaches,
        is_welfare_lead=not teaches,
    )
    coach.password = "!nobody signs in to the demo with a password"
    coach.save()
    return coach


def _papers_and_hours(rows: Rows, number: int, coach: Coach, today: date) -> None:
    week = dict(WORKING[number % len(WORKING)])
    week.setdefault(today.weekday(), (9, 18))  # the demo is looked at on any day
    WorkingHours.objects.bulk_create(
        WorkingHours(code=rows.key(), coach=coach, weekday=weekday, opens=at(today, opens).time(),
                     closes=at(today, closes).time(), **FROM_DEMO)
        for weekday, (opens, closes) in week.items())
    ages = {"background": 700, "safeguard": 400, "first_aid": {0: 715, 1: 740}.get(number, 340)}
    if number == 3:
        ages.pop("safeguard")
    CoachCheck.objects.bulk_create(
        CoachCheck(code=rows.key(), coach=coach, kind=kind, done_on=today - timedelta(days=age + 13 * number),
                   expires_on=today + timedelta(days=(1095 if kind != "first_aid" else 730) - age - 13 * number),
                   **FROM_DEMO)
        for kind, age in ages.items())


def _venue(rows: Rows, name: str, **values) -> Venue:
    return Venue.objects.create(code=rows.key(), name=name, **values, **FROM_DEMO)
