"""Reading plain data (as JSON gives it) field by field, with a sentence for whatever is wrong."""

from collections.abc import Iterable, Mapping
from typing import Any, cast, get_args

from metrics.method import Mark


class LibraryError(ValueError):
    """The library's data cannot be used; the message says where, what was found and what was expected."""


class Reader:
    """One JSON object being read. Every key must be asked for: what is left over is reported by ``done``."""

    def __init__(self, data: object, where: str) -> None:
        self.where = where
        if not isinstance(data, Mapping):
            raise LibraryError(f"{where}: found {_short(data)}; expected an object with named values.")
        self._data = dict(data)
        self._asked: set[str] = set()

    def has(self, key: str) -> bool:
        """True where the key is present and not null."""
        return self._data.get(key) is not None

    def raw(self, key: str, default: object = None) -> object:
        self._asked.add(key)
        value = self._data.get(key)
        return default if value is None else value

    def fail(self, key: str, expected: str) -> LibraryError:
        found = _short(self._data[key]) if key in self._data else "nothing"
        return LibraryError(f"{self.where}: '{key}' is {found}; expected {expected}.")

    def text(self, key: str, default: str | None = None) -> str:
        """A non-empty text, or ``default`` where one is given and the key is absent."""
        value = self.raw(key, default)
        if not isinstance(value, str) or (default is None and not value.strip()):
            raise self.fail(key, "a text")
        return value

    def number(self, key: str) -> float:
        """A finite number."""
        value = self.optional_number(key)
        if value is None:
            raise self.fail(key, "a number")
        return value

    def optional_number(self, key: str) -> float | None:
        """A finite number, or None where the key is absent."""
        value = self.raw(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, (int, float)) or abs(value) > 1e9:
            raise self.fail(key, "a number")
        return float(value)

    def whole(self, key: str, default: int | None = None) -> int:
        """A whole number, zero or more."""
        value = self.raw(key, default)
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.fail(key, "a whole number, zero or more")
        return value

    def flag(self, key: str) -> bool:
        """True or false, false where absent."""
        value = self.raw(key, False)
        if not isinstance(value, bool):
            raise self.fail(key, "true or false")
        return value

    def pair(self, key: str) -> tuple[float, float] | None:
        """Two numbers, low first, or None where the key is absent."""
        value = self.raw(key)
        if value is None:
            return None
        good = isinstance(value, list) and len(value) == 2 and all(_is_number(v) for v in value)
        if not good or cast(list[float], value)[0] > cast(list[float], value)[1]:
            raise self.fail(key, "two numbers, the lower one first")
        low, high = cast(list[float], value)
        return float(low), float(high)

    def texts(self, key: str, *, allowed: Any = None, required: bool = False) -> tuple[str, ...]:
        """A list of texts, each among ``allowed`` where that is given."""
        value = self.raw(key, [])
        if not isinstance(value, list) or not all(isinstance(v, str) and v.strip() for v in value):
            raise self.fail(key, "a list of texts")
        if required and not value:
            raise self.fail(key, "a list with at least one text")
        unknown = [v for v in value if allowed is not None and v not in allowed]
        if unknown:
            raise LibraryError(f"{self.where}: '{key}' names {unknown[0]!r}; expected one of "
                               f"{', '.join(sorted(allowed))}.")
        return tuple(value)

    def choice(self, key: str, options: Any, default: str | None = None) -> Any:
        """One of a few words."""
        value = self.raw(key, default)
        if value not in options:
            raise self.fail(key, "one of " + ", ".join(repr(o) for o in options))
        return value

    def mark(self) -> Mark:
        """The evidence mark every number owes its reader."""
        return cast(Mark, self.choice("mark", get_args(Mark)))

    def items(self, key: str, *, required: bool = False) -> list["Reader"]:
        """A list of objects, each ready to be read."""
        value = self.raw(key, [])
        if not isinstance(value, list) or (required and not value):
            raise self.fail(key, "a list of objects" + (", at least one" if required else ""))
        return [Reader(item, f"{self.where}, {key}[{i}]") for i, item in enumerate(value)]

    def item(self, key: str) -> "Reader":
        """One nested object."""
        return Reader(self.raw(key), f"{self.where}, {key}")

    def done(self, known: Iterable[str] = ()) -> None:
        """Refuse keys nobody asked for (and that are not ``known``): a misspelt key must not be lost silently."""
        fine = self._asked | set(known)
        if left := sorted(set(self._data) - fine):
            raise LibraryError(f"{self.where}: {left[0]!r} is not a known key; expected only "
                               f"{', '.join(sorted(fine))}.")


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _short(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
