"""A picture is never stored as it came: it is opened, turned upright, made small enough and written anew.

What is written holds pixels only: no place, no time, no name of a phone, no thumbnail, nothing behind the end.
"""

import io

from PIL import Image, ImageOps, UnidentifiedImageError

from .types import Cleaned, Refused

MOST_PICTURE_BYTES = 30 * 1024 * 1024
MOST_PIXELS = 50_000_000
"""More than any phone's main camera in its usual setting; a small file can claim far more."""
LONGEST_SIDE_PX = 2400
LEAST_SIDE_PX = 100
QUALITY = 85
FORMATS = ("JPEG", "PNG", "WEBP")
"""Pillow tries only these, so a drawing or a page that calls itself a photo is not even looked into."""


def clean_picture(data: bytes) -> Cleaned:
    """Return a picture as a fresh JPEG of at most 2400 px. Raises Refused with a sentence."""
    if len(data) > MOST_PICTURE_BYTES:
        raise Refused(f"The picture has {len(data) / 1e6:.0f} MB; expected at most {MOST_PICTURE_BYTES / 1e6:.0f} MB.")
    try:
        picture = Image.open(io.BytesIO(data), formats=FORMATS)
        _refuse_size(*picture.size)
        picture.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX))
        upright = ImageOps.exif_transpose(picture).convert("RGBA")
    except Refused:
        raise
    except UnidentifiedImageError as error:
        raise Refused("This file is not a picture; expected a JPEG, PNG or WebP.") from error
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise Refused("The picture claims to be far larger than any photo; it was not opened.") from error
    except (OSError, SyntaxError, ValueError, IndexError, KeyError, EOFError) as error:
        raise Refused("The picture is damaged and could not be opened; send it again or take another one.") from error
    fresh = Image.new("RGB", upright.size, "white")
    fresh.paste(upright, mask=upright.getchannel("A"))
    written = io.BytesIO()
    fresh.save(written, "JPEG", quality=QUALITY, optimize=True)
    return Cleaned(data=written.getvalue(), mime="image/jpeg", width_px=fresh.width, height_px=fresh.height)


def _refuse_size(width: int, height: int) -> None:
    """Judge by what the head of the file says, before a single pixel is unpacked."""
    if width * height > MOST_PIXELS:
        raise Refused(f"The picture has {width} × {height} pixels; expected at most {MOST_PIXELS / 1e6:.0f} million.")
    if min(width, height) < LEAST_SIDE_PX:
        raise Refused(f"The picture has {width} × {height} pixels; expected at least {LEAST_SIDE_PX} on each side.")
