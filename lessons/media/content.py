"""Whatever a file is called: what it is, is told by its content; what is not known is refused."""

from .mp4 import clean_mp4, looks_like_mp4
from .picture import clean_picture
from .types import Cleaned, Refused
from .webm import clean_webm, looks_like_webm

MOST_CLIP_BYTES = 60 * 1024 * 1024
_HEIF = {b"heic", b"heix", b"mif1", b"msf1", b"heim", b"hevc", b"avif"}


def clean(data: bytes) -> Cleaned:
    """Return what may be stored of a file that was sent. Raises Refused with a sentence."""
    if not data:
        raise Refused("The file is empty; expected a picture or a short clip.")
    if looks_like_mp4(data) and data[8:12] in _HEIF:
        raise Refused("HEIC and AVIF pictures cannot be read here. In the phone’s camera settings choose “most "
                      "compatible”, or send the picture as JPEG.")
    if not (looks_like_mp4(data) or looks_like_webm(data)):
        return clean_picture(data)
    if len(data) > MOST_CLIP_BYTES:
        raise Refused(f"The clip has {len(data) / 1e6:.0f} MB; expected at most {MOST_CLIP_BYTES / 1e6:.0f} MB. "
                      "Cut it to the one swing.")
    return clean_mp4(data) if looks_like_mp4(data) else clean_webm(data)
