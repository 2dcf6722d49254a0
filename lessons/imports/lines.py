"""The lines of a long file without a copy of each: where every line begins and ends in the file's bytes.

A million lines as Python texts take twice the memory of all their numbers; most of them nobody looks at.
"""

import io
from collections.abc import Iterator, Mapping, Sequence
from typing import overload

import numpy as np
from numpy.typing import NDArray

AT_ONCE = 1 << 22
"""Bytes that are looked at together."""
LINE_END = 10
Places = NDArray[np.int64]


class Lines(Sequence[str]):
    """Lines of a text in UTF-8, cut out and decoded when they are asked for.

    ``changed`` maps the place where a line begins to the text that stands for it.
    """

    def __init__(self, body: bytes, starts: Places, ends: Places, changed: Mapping[int, str]) -> None:
        self.body, self.starts, self.ends, self.changed = body, starts, ends, changed

    @classmethod
    def of(cls, body: bytes) -> "Lines":
        """Return all lines of a text; an empty one after the last line end is none."""
        view = np.frombuffer(body, dtype=np.uint8)
        found = [
            np.flatnonzero(view[place : place + AT_ONCE] == LINE_END) + place for place in range(0, len(view), AT_ONCE)
        ]
        ends = np.concatenate(found).astype(_smallest(len(body)))
        if not body.endswith(b"\n"):
            ends = np.append(ends, ends.dtype.type(len(body)))
        starts = np.empty_like(ends)
        starts[0] = 0
        starts[1:] = ends[:-1] + 1
        return cls(body, starts, ends, {})

    def __len__(self) -> int:
        return len(self.starts)

    @overload
    def __getitem__(self, index: int) -> str: ...
    @overload
    def __getitem__(self, index: slice) -> "Lines": ...
    def __getitem__(self, index: int | slice) -> "str | Lines":
        if isinstance(index, slice):
            return Lines(self.body, self.starts[index], self.ends[index], self.changed)
        start = int(self.starts[index])
        known = self.changed.get(start)
        return self.body[start : int(self.ends[index])].decode() if known is None else known

    def picked(self, which: NDArray[np.int64] | NDArray[np.bool_]) -> "Lines":
        """Return some of the lines, by their indexes or by a mask."""
        return Lines(self.body, self.starts[which], self.ends[which], self.changed)

    def with_changes(self, texts: Mapping[int, str]) -> "Lines":
        """Return the lines with other texts for some of them, by index."""
        changed = {int(self.starts[index]): text for index, text in texts.items()}
        return Lines(self.body, self.starts, self.ends, {**self.changed, **changed})

    def counts_of(self, mark: str) -> NDArray[np.int64]:
        """Return how often a character of one byte stands in each line. For the lines of a whole text only."""
        view, found = np.frombuffer(self.body, dtype=np.uint8), []
        step = max(1, AT_ONCE * len(self) // max(1, len(self.body)))
        for first in range(0, len(self), step):
            starts = self.starts[first : first + step]
            begin, end = int(starts[0]), int(self.ends[min(first + step, len(self)) - 1])
            # One more byte than the last line has, so that an empty line at the end has a place too.
            marks = np.append(view[begin:end] == ord(mark), False)
            found.append(np.add.reduceat(marks, starts - begin, dtype=np.int32))
        return np.concatenate(found)

    def as_file(self) -> io.BufferedReader:
        """Return the lines as a file to be read once."""
        return io.BufferedReader(_File(self._pieces()), buffer_size=1 << 18)

    def _pieces(self) -> Iterator[bytes | memoryview]:
        """Yield the bytes of all lines, neighbours together, each with a line end."""
        view = memoryview(self.body)
        apart = np.flatnonzero(self.starts[1:] != self.ends[:-1] + 1) + 1
        for begin, end in zip([0, *apart.tolist()], [*apart.tolist(), len(self)], strict=True):
            yield from self._run(view, begin, end)

    def _run(self, view: memoryview, begin: int, end: int) -> Iterator[bytes | memoryview]:
        places = [begin + int(np.searchsorted(self.starts[begin:end], start)) for start in sorted(self.changed)
                  if self.starts[begin] <= start <= self.starts[end - 1]] if self.changed else []
        for place in places:
            if self.starts[place] in self.changed:
                if place > begin:
                    yield view[int(self.starts[begin]) : int(self.starts[place])]
                yield self[place].encode() + b"\n"
                begin = place + 1
        if begin < end:
            yield view[int(self.starts[begin]) : int(self.ends[end - 1])]
            yield b"\n"


class _File(io.RawIOBase):
    """Pieces of bytes as a file."""

    def __init__(self, pieces: Iterator[bytes | memoryview]) -> None:
        self._pieces, self._left = pieces, memoryview(b"")

    def readable(self) -> bool:
        return True

    def readinto(self, buffer) -> int:  # type: ignore[no-untyped-def]
        while not self._left:
            piece = next(self._pieces, None)
            if piece is None:
                return 0
            self._left = memoryview(piece)
        taken = min(len(buffer), len(self._left))
        buffer[:taken] = self._left[:taken]
        self._left = self._left[taken:]
        return taken


def _smallest(size: int) -> type[np.int32] | type[np.int64]:
    """Return the smallest kind of number that holds every place of a text of this size."""
    return np.int32 if size < np.iinfo(np.int32).max else np.int64
