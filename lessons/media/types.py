"""What comes out of a file that was let in."""

from dataclasses import dataclass


class Refused(ValueError):
    """The file is not kept; the message says what was found and what was expected."""


@dataclass(frozen=True, kw_only=True)
class Cleaned:
    """A file that may be kept: ``data`` is what is stored, never what was sent.

    ``frame_rate`` is pictures a second of a clip, None for a picture and where the clip does not say.
    """

    data: bytes
    mime: str
    width_px: int
    height_px: int
    frame_rate: float | None = None

    @property
    def is_clip(self) -> bool:
        return self.mime.startswith("video/")


SUFFIXES = {"image/jpeg": ".jpg", "video/mp4": ".mp4", "video/webm": ".webm"}
"""Every type that is stored, with the end of its file's name."""
