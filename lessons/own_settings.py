"""The academy's own values of what the statistics assume, laid over the shipped ones while a request is answered."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, nullcontext

from metrics.change.settings import SETTINGS, has_own_settings
from metrics.change.settings import own_settings as laid_over

from .models import LibraryEntry, Override


class OwnValues(Mapping[str, float]):
    """Setting -> the academy's own value. Read from the database when the first one is asked for. One query."""

    def __init__(self) -> None:
        self._values: dict[str, float] | None = None

    @property
    def values_now(self) -> dict[str, float]:
        if self._values is None:
            self._values = {
                row.slug: float(row.value["value"]) for row in setting_overrides()
                if not value_problem(key=row.slug, value=row.value.get("value"))
            }
        return self._values

    def __getitem__(self, key: str) -> float:
        return self.values_now[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.values_now)

    def __len__(self) -> int:
        return len(self.values_now)


@contextmanager
def in_force() -> Iterator[None]:
    """Let the academy's own values count inside the block; nothing happens where they do already."""
    with nullcontext() if has_own_settings() else laid_over(OwnValues()):
        yield


def setting_overrides():
    """Return the own values in force, each with who set it and why."""
    rows = Override.objects.filter(kind=LibraryEntry.Kind.SETTING, removed_at__isnull=True)
    return rows.select_related("created_by")


def value_problem(*, key: str, value: object) -> str:
    """Return in a sentence why a value cannot stand for a setting; empty where it can."""
    shipped = SETTINGS.get(key)
    if shipped is None:
        return f"There is no setting “{key}”."
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return f"{shipped.label}: a number was expected."
    if not shipped.lowest <= value <= shipped.highest:
        return (f"{shipped.label}: {value:g} was found; expected {shipped.lowest:g} to {shipped.highest:g} "
                f"{shipped.unit}".rstrip() + ".")
    if shipped.whole and value != int(value):
        return f"{shipped.label}: {value:g} was found; expected a whole number."
    return ""
