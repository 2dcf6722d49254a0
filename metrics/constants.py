"""Named physical constants, each with its source."""

GRAVITY_MPS2 = 9.80665
"""Standard gravity, exact by definition (CGPM 1901)."""

BALL_MASS_KG = 0.04593
"""The largest mass the Rules of Golf allow (Equipment Rules, Part 4)."""

BALL_RADIUS_M = 0.021335
"""Half of 42.67 mm, the smallest diameter the Rules of Golf allow (Equipment Rules, Part 4)."""

BALL_INERTIA_SHARE = 0.4
"""Moment of inertia over m r²: a uniform sphere. A measured ball has 0.4016 (Proceedings 49(1):47, 2020)."""

STANDARD_PRESSURE_HPA = 1013.25
"""Standard atmosphere at sea level, exact by definition (ISO 2533)."""

MODEL_VERSION = "flight-1"
"""Goes with every number of the flight model, so that a later model knows what to work out again."""
