"""The small pictures of a block's numbers: every ball a dot against the window."""

from django.utils.safestring import SafeString

from lessons.frames import BlockShots, shots_of
from lessons.models import Block
from lessons.pictures.window_dots import WindowDots, draw
from lessons.summaries import summary_of
from metrics.change.priors import setting
from metrics.fields import FIELDS, MIRRORED
from metrics.windows import find_window

DRAWN = ("club_path_deg", "face_to_path_deg")


def dots_of(blocks: list[Block], *, left_handed: bool) -> dict[int, list[tuple[str, SafeString]]]:
    """Return each block's pictures by its key, as pairs of quantity and picture. One query."""
    with_numbers = [block for block in blocks if set(DRAWN) & set(block.summary.get("numbers", {}))]
    if not with_numbers:
        return {}
    shots = shots_of(with_numbers)
    return {
        block.pk: [
            (key, _picture(block, shots[block.pk].judged(), key, left_handed))
            for key in DRAWN if key in summary_of(block)["numbers"]
        ]
        for block in with_numbers
    }


def _picture(block: Block, shots: BlockShots, key: str, left_handed: bool) -> SafeString:
    """Mishits are crosses and outside the mean, as the picture says; the words beside it show both means."""
    values, got = shots.numbers[key], summary_of(block)["numbers_struck"].get(key, {"n": 0})
    window = find_window(quantity=key, intent=block.intent, category=block.category)
    shown = got["n"] >= setting("balls_to_show")
    known = values == values  # NaN differs from itself
    minus, plus = _ends(key)
    return draw(WindowDots(
        label=FIELDS[key].label, unit=FIELDS[key].unit, digits=FIELDS[key].digits,
        values=tuple(float(v) for v in values[known & ~shots.mishit]),
        mishits=tuple(float(v) for v in values[known & shots.mishit]),
        window=(window.lo, window.hi) if window else None, mean=got["mean"] if shown else None,
        interval=(got["lo"], got["hi"]) if shown and got["lo"] is not None else None,
        minus_word=minus, plus_word=plus, mirrored=left_handed and key in MIRRORED,
        key=f"dots-{block.code.hex[:8]}-{key}",
    ))


def _ends(key: str) -> tuple[str, str]:
    return {"club_path_deg": ("out-to-in", "in-to-out"), "face_to_path_deg": ("closed", "open")}[key]
