"""What a person decided about one file."""

from dataclasses import dataclass, field

from lessons.imports.fingerprint import columns_from_json
from lessons.imports.types import ColumnMatch


@dataclass(frozen=True, kw_only=True)
class Choices:
    """What a person decided about one file; kept with it as JSON."""

    columns: dict[str, dict[str, str | None]] = field(default_factory=dict)
    file_sign: str = "right"
    club: str = ""
    player: str = ""
    date_order: str = ""
    decimal: str = ""
    provenance: str = ""
    source_name: str = ""
    block: str = ""
    """Code of the block on the desk; balls of its club go into it."""
    sheet: str = ""
    encoding: str = ""
    club_names: dict[str, str] = field(default_factory=dict)
    """What a club is called in files -> its category; remembered with the source."""
    corrections: dict[str, str] = field(default_factory=dict)
    after_line: int = 0
    """Rows up to this line of a growing file were taken in before."""
    apart: bool = False
    """These are other balls than the stored ones, however alike: a person has said so."""
    second_pass: bool = False
    """Balls of the hour that comes twice when the clock is put back were hit when it came again."""
    replaces: bool = False
    """Files of the named source are read this way from now on, although its headings were others."""
    confirmed: bool = False
    """A person has looked at the columns, or the source was known by its headings."""

    @property
    def matches(self) -> dict[str, ColumnMatch]:
        return columns_from_json(self.columns)
