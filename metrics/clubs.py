"""Club categories, and the names people and files use for clubs."""

import re

CATEGORIES: dict[str, str] = {
    "driver": "Driver",
    "fairway": "Fairway wood",
    "hybrid_long_iron": "Hybrid or long iron",
    "mid_iron": "Mid iron",
    "short_iron": "Short iron",
    "wedge_full": "Full wedge",
    "pitch": "Pitch",
    "chip": "Chip",
    "sand": "Greenside sand",
    "putter": "Putter",
}
"""Category slug -> what a person calls it, longest club first."""

_NAMES: tuple[tuple[str, str], ...] = (
    (r"d|dr|driver|1w|1wood|w1|drive", "driver"),
    (r"[2-9]w|[2-9]wood|w[2-9]|fw|fairway|fairwaywood|wood", "fairway"),
    (r"[1-9]h|[1-9]hybrid|[1-9]hy|h[1-9]|hy[1-9]|hybrid|[1-4]i|[1-4]iron|i[1-4]|iron[1-4]|longiron",
     "hybrid_long_iron"),
    (r"[5-7]i|[5-7]iron|i[5-7]|iron[5-7]|midiron|[5-7]", "mid_iron"),
    (r"[89]i|[89]iron|i[89]|iron[89]|shortiron|[89]", "short_iron"),
    (r"pw|aw|gw|sw|lw|uw|pitchingwedge|approachwedge|gapwedge|sandwedge|lobwedge|wedge|fullwedge|"
     r"(4[4-9]|5\d|6[0-4])(deg|w)?", "wedge_full"),
    (r"pitch", "pitch"),
    (r"chip", "chip"),
    (r"sand|bunker|greensidesand", "sand"),
    (r"putter|pt|p|putt", "putter"),
)


def category_of(name: str) -> str | None:
    """Return the category slug for a club name as people write it, or None where it is not known.

    Case, spaces, dots, hyphens, underscores and the degree sign do not matter: "7i", "7 Iron" and
    "iron-7" are one club. A category slug is itself a name.

    >>> category_of("7i"), category_of("Driver"), category_of("56°"), category_of("trowel")
    ('mid_iron', 'driver', 'wedge_full', None)
    """
    slug = name.strip().lower()
    if slug in CATEGORIES:
        return slug
    plain = re.sub(r"[\s._\-°]+", "", slug)
    for pattern, category in _NAMES:
        if re.fullmatch(pattern, plain):
            return category
    return None
