"""The balls of the demo: struck block by block, flown all together, seen by each device, written at once."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import chain

import numpy as np

from lessons.frames import block_shots
from lessons.mishits import mishits_among
from lessons.models import Block
from lessons.reference_carry import air_of
from lessons.services.shots import insert_columns
from lessons.summaries import summarise_into
from metrics.fields import FIELDS
from metrics.flight.air import air_at
from metrics.flight.trajectory import fly
from metrics.flight.types import Air, Launch

from .devices import DEVICES, called, seen_by
from .players import launched
from .rows import Rows

_FLOWN = ("carry_m", "side_m", "apex_m", "landing_angle_deg", "flight_time_s")
_CALLS = ("called_start", "called_curve", "called_height")


@dataclass(kw_only=True)
class Struck:
    """One block with its balls, and the wind that blew whether or not anybody noted it."""

    block: Block
    device: str
    balls: dict[str, np.ndarray]
    keys: list
    wind: tuple[float, float]
    rng: np.random.Generator
    seconds: int
    heard: bool
    columns: dict[str, list] = field(default_factory=dict)

    @property
    def count(self) -> int:
        return len(self.keys)


class Balls:
    """Balls that are struck and not stored yet."""

    def __init__(self) -> None:
        self.struck: list[Struck] = []

    def fly(self) -> None:
        """Fly every ball, let its device see it, tag the mishits and work out the numbers of each block."""
        if not self.struck:
            return
        _launch(self.struck)
        _fly(self.struck)
        for one in self.struck:
            one.columns = _columns(one)
            shots = block_shots(other=_other(one.columns, one.count), table=_table(one.columns, one.count))
            tags = mishits_among(numbers=shots.numbers, contacts=shots.contacts, excluded=shots.excluded)
            one.columns["is_mishit"] = tags.tolist()
            summarise_into(block=one.block, shots=shots.tagged(tags))

    def store(self) -> None:
        """Write the balls; their blocks are stored. The memory is free afterwards."""
        groups: dict[tuple[str, ...], list[Struck]] = {}
        for one in self.struck:
            groups.setdefault(tuple(sorted(one.columns)), []).append(one)
        for names, group in groups.items():
            columns = {name: list(chain.from_iterable(one.columns[name] for one in group)) for name in names}
            columns["block"] = [one.block.pk for one in group for _ in range(one.count)]
            columns["created_by"] = [one.block.lesson.coach_id for one in group for _ in range(one.count)]
            insert_columns(block=None, columns=columns, batch=None, source="demo", by=None, first=1)
        self.struck = []


def _joined(struck: list[Struck], key: str) -> np.ndarray:
    return np.concatenate([one.balls[key] for one in struck])


def _handed_out(struck: list[Struck], found: dict[str, np.ndarray]) -> None:
    """Give each block its part of what was worked out for all of them together."""
    ends = np.cumsum([one.count for one in struck])[:-1]
    for key, values in found.items():
        for one, part in zip(struck, np.split(values, ends), strict=True):
            one.balls[key] = part


def _launch(struck: list[Struck]) -> None:
    for club in dict.fromkeys(one.block.category for one in struck):
        same = [one for one in struck if one.block.category == club]
        _handed_out(same, launched(club=club, balls={key: _joined(same, key) for key in same[0].balls}))


def _fly(struck: list[Struck]) -> None:
    """One long flight is far quicker than many short ones."""
    counts = [one.count for one in struck]
    airs = [air_of(one.block.lesson).air or air_at(temperature_c=15.0, altitude_m=15.0) for one in struck]
    landing = fly(
        launch=Launch(**{key: _joined(struck, key) for key in Launch.__dataclass_fields__}),
        air=Air(
            density_kg_m3=np.repeat([air.density_kg_m3 for air in airs], counts),
            kinematic_viscosity_m2_s=np.repeat([air.kinematic_viscosity_m2_s for air in airs], counts),
            wind_along_mps=np.repeat([one.wind[0] for one in struck], counts),
            wind_slice_mps=np.repeat([one.wind[1] for one in struck], counts),
        ),
    )
    _handed_out(struck, {key: np.asarray(getattr(landing, key)) for key in _FLOWN})


def _columns(one: Struck) -> dict[str, list]:
    balls, device = one.balls, DEVICES.get(one.device)
    balls["smash_factor"] = balls["ball_speed_mps"] / balls["club_speed_mps"]
    balls["face_to_path_deg"] = balls["face_angle_deg"] - balls["club_path_deg"]
    columns = called(balls, by_eye=device is None, contact=device is None or one.heard)
    if device is not None:
        columns |= seen_by(device, balls, one.rng)
        columns["carry_provenance"] = [device.carry_provenance] * one.count
    begin: datetime = one.block.lesson.starts_at + timedelta(minutes=8 + 13 * (one.block.position - 1))
    columns["hit_at"] = [begin + timedelta(seconds=one.seconds * i) for i in range(one.count)]
    columns["created_at"] = columns["hit_at"]
    columns["number"] = list(range(1, one.count + 1))
    columns["key"] = one.keys
    return columns


def _other(columns: dict[str, list], count: int) -> dict[str, list]:
    """Return what a stored ball carries besides its numbers."""
    none: list = [None] * count
    return {
        "pk": list(range(count)), "contact": columns.get("contact", [""] * count), "is_mishit": [False] * count,
        "excluded_reason": [""] * count, "carry_provenance": columns.get("carry_provenance", [""] * count),
        **{name: columns.get(name, none) for name in _CALLS},
    }


def _table(columns: dict[str, list], count: int) -> np.ndarray:
    table = np.full((count, len(FIELDS)), np.nan)
    for place, key in enumerate(FIELDS):
        if key in columns:
            table[:, place] = np.array(columns[key], dtype=float)
    return table


def strike_block(
    *, rows: Rows, block: Block, device: str, balls: dict[str, np.ndarray], wind: tuple[float, float],
    rng: np.random.Generator,
) -> Struck:
    """Return a block with its balls, the codes drawn."""
    count = len(balls["club_speed_mps"])
    return Struck(
        block=block, device=device, balls=balls, wind=wind, rng=rng, keys=[rows.key() for _ in range(count)],
        seconds=rows.random.randint(28, 50), heard=rows.random.random() < 0.25,
    )
