"""The one condition at which carry is stated, so that a cold Tuesday and a hot Saturday can be compared."""

from dataclasses import dataclass

from metrics.constants import MODEL_VERSION, STANDARD_PRESSURE_HPA
from metrics.flight.air import air_at
from metrics.flight.types import Air


@dataclass(frozen=True, kw_only=True)
class ReferenceCondition:
    """Still air of one temperature, station pressure and humidity; goes with every number stated for it."""

    temperature_c: float = 20.0
    pressure_hpa: float = STANDARD_PRESSURE_HPA
    humidity_percent: float = 50.0

    @property
    def air(self) -> Air:
        """The air itself; raises ``AirError`` for a condition that cannot be."""
        return air_at(
            temperature_c=self.temperature_c, pressure_hpa=self.pressure_hpa, humidity_percent=self.humidity_percent
        )

    @property
    def words(self) -> str:
        """The condition as a person reads it."""
        where = "at sea level" if self.pressure_hpa == STANDARD_PRESSURE_HPA else f"at {self.pressure_hpa:g} hPa"
        return f"{self.temperature_c:g} °C {where}, no wind"


REFERENCE = ReferenceCondition()
"""20 °C, 1013.25 hPa, 50 %: typical lesson weather; at the 15 °C of aviation every summer carry would look short."""

__all__ = ["MODEL_VERSION", "REFERENCE", "ReferenceCondition"]
