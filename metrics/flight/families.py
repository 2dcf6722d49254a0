"""What the flight numbers assume about each kind of club, in one table."""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, kw_only=True)
class ClubPhysics:
    """Assumptions for one club category.

    ``face_share``             share of the start direction that follows the face; the rest follows the path
    ``face_share_error``       standard error of that share
    ``density_error_share``    model error of a correction for density, as a share of the correction (1 sd)
    ``wind_error_share``       the same for wind
    ``carry_per_c``            carry gained per °C of air temperature [m]
    ``carry_per_hpa``          carry lost per hPa of pressure [m]
    ``carry_per_wind``         carry changed per m/s of wind along the line [m]
    ``head_mass_kg``           mass of the head
    ``usual_spin_rpm``         spin taken where none was measured
    ``usual_dynamic_loft_deg`` dynamic loft taken where none was measured
    ``wood``                   whether an off-centre strike turns the axis (gear effect)
    """

    face_share: float
    face_share_error: float
    density_error_share: float
    wind_error_share: float
    carry_per_c: float
    carry_per_hpa: float
    carry_per_wind: float
    head_mass_kg: float
    usual_spin_rpm: float
    usual_dynamic_loft_deg: float
    wood: bool = False


_WOOD: dict[str, Any] = {"carry_per_c": 0.192, "carry_per_hpa": 0.049, "carry_per_wind": 2.25}
_IRON: dict[str, Any] = {"carry_per_c": 0.265, "carry_per_hpa": 0.070, "carry_per_wind": 3.07}
_WEDGE: dict[str, Any] = {"carry_per_c": 0.174, "carry_per_hpa": 0.046, "carry_per_wind": 2.66}

CLUBS: dict[str, ClubPhysics] = {
    "driver": ClubPhysics(
        face_share=0.76, face_share_error=0.04, density_error_share=0.40, wind_error_share=0.25,
        head_mass_kg=0.200, usual_spin_rpm=2700, usual_dynamic_loft_deg=13, wood=True, **_WOOD),
    "fairway": ClubPhysics(
        face_share=0.74, face_share_error=0.04, density_error_share=0.40, wind_error_share=0.25,
        head_mass_kg=0.215, usual_spin_rpm=3700, usual_dynamic_loft_deg=16, wood=True, **_WOOD),
    "hybrid_long_iron": ClubPhysics(
        face_share=0.73, face_share_error=0.03, density_error_share=0.30, wind_error_share=0.25,
        head_mass_kg=0.240, usual_spin_rpm=4500, usual_dynamic_loft_deg=19, **_IRON),
    "mid_iron": ClubPhysics(
        face_share=0.69, face_share_error=0.015, density_error_share=0.20, wind_error_share=0.20,
        head_mass_kg=0.262, usual_spin_rpm=6000, usual_dynamic_loft_deg=25, **_IRON),
    "short_iron": ClubPhysics(
        face_share=0.65, face_share_error=0.025, density_error_share=0.20, wind_error_share=0.20,
        head_mass_kg=0.275, usual_spin_rpm=7500, usual_dynamic_loft_deg=33, **_IRON),
    "wedge_full": ClubPhysics(
        face_share=0.61, face_share_error=0.035, density_error_share=0.15, wind_error_share=0.15,
        head_mass_kg=0.290, usual_spin_rpm=8500, usual_dynamic_loft_deg=42, **_WEDGE),
    "pitch": ClubPhysics(
        face_share=0.61, face_share_error=0.035, density_error_share=0.15, wind_error_share=0.15,
        head_mass_kg=0.290, usual_spin_rpm=6500, usual_dynamic_loft_deg=46, **_WEDGE),
}
"""Category slug -> assumptions. Chips, greenside sand and putts are not full flights and have none.

Face shares of driver, 7-iron and wedge: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249 (the range 61 to
83 % read in the abstract, the values for each club second-hand); the others lie between them and are ours.
Model errors: spread of six published ball models, computed; a 113 mph driver would need 0.32 and 0.22.
Hybrids and long irons lie between and are ours. Changes of carry per °C, hPa and m/s: computed with the flight
model for a 140 mph drive, a 116 mph 6-iron and an 88 mph wedge. Masses, spins, lofts: common practice, no source.
"""
