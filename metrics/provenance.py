"""Where a number comes from. What was not measured is never shown or stored as if it had been."""

from typing import Literal

Provenance = Literal["measured", "computed", "normalised", "inferred", ""]
"""How a carry, or any other number of a ball, came to be.

measured    the device saw it
computed    the device worked it out from the launch by its own flight model, as all devices do indoors
normalised  the device has already restated it for some reference condition
inferred    this program worked it out from other numbers
(empty)     nobody knows
"""

MEASURED: Provenance = "measured"
COMPUTED: Provenance = "computed"
NORMALISED: Provenance = "normalised"
INFERRED: Provenance = "inferred"
