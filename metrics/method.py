"""What every computed number owes its reader: a formula, a unit, a range and a source."""

from dataclasses import dataclass
from typing import Literal

Mark = Literal["source", "second-hand", "memory", "common practice", "computed"]
"""How well a value is supported.

source           the page or abstract of the source was read
second-hand      read in a text that names the source
memory           written down from memory, not checked
common practice  what teachers do, no source
computed         derived here, by geometry or simulation
"""


@dataclass(frozen=True, kw_only=True)
class Method:
    """One number the program computes, as the Method page shows it.

    ``function`` is the dotted path of the public function (``metrics.flight.air.density_kg_m3``);
    a test resolves it, so a renamed function cannot leave a dead row behind.
    """

    key: str
    label: str
    unit: str
    formula: str
    valid_range: str
    source: str
    mark: Mark
    function: str
