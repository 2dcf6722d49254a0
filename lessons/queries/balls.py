"""Reading balls for the desk: the list, the last one, the columns to type."""

from dataclasses import dataclass
from typing import Any

from lessons.models import Block, Lesson, Shot
from metrics import units
from metrics.fields import FIELDS, MIRRORED

from .keypad import flight_name, seen_words

USUAL_FIELDS = ["carry_m", "club_path_deg"]
MOST_FIELDS = 3
AT_HAND, ALL_AT_MOST = 20, 2000
"""Balls that the desk lists: the newest, which a coach looks back at; and all of them where they are asked for."""
SAYS_MOST = ("carry_m", "club_path_deg", "face_angle_deg", "face_to_path_deg", "attack_angle_deg")
IN_ORDER = (*SAYS_MOST, *(key for key in FIELDS if key not in SAYS_MOST))
"""Every quantity, the ones that say most about a swing first."""
_HEIGHTS = {-1: "low", 0: "", 1: "high"}


@dataclass(frozen=True, kw_only=True)
class BallRow:
    """A ball as the list shows it: its numbers in stored units, what says most first; its calls in words."""

    shot: Shot
    numbers: list[tuple[str, float]]
    called: str
    seen: str

    @property
    def counts(self) -> bool:
        return not self.shot.excluded_reason


def ball_row(shot: Shot, *, left_handed: bool) -> BallRow:
    """Return one ball for the list. No query."""
    numbers = [(key, value) for key in IN_ORDER if (value := getattr(shot, key)) is not None]
    flown = shot.called_start is not None or shot.called_curve is not None
    called = [flight_name(shot.called_start, shot.called_curve)] if flown else []
    called += [_HEIGHTS.get(shot.called_height, ""), shot.get_contact_display().lower() if shot.contact else ""]
    return BallRow(
        shot=shot, numbers=numbers, called=", ".join(word for word in called if word),
        seen=seen_words(shot.called_start, shot.called_curve, left_handed=left_handed) if flown else "",
    )


def ball_rows(*, block: Block, left_handed: bool, most: int = AT_HAND) -> list[BallRow]:
    """Return the newest balls of a block, newest first. One query."""
    shots = Shot.objects.present().filter(block=block).order_by("-number", "-pk")[:most]
    return [ball_row(shot, left_handed=left_handed) for shot in shots]


def last_ball(lesson: Lesson) -> BallRow | None:
    """Return the lesson's newest ball. One query."""
    shot = (
        Shot.objects.present().filter(block__lesson=lesson, block__removed_at__isnull=True)
        .select_related(None).order_by("-pk").first()
    )
    return ball_row(shot, left_handed=lesson.student.left_handed) if shot else None


def fields_to_type(*, block: Block, chosen: list[str] | None) -> list[str]:
    """Return the numbers to type for each ball: as chosen, else those of the block's balls, filled up with those of
    the student's last numbers, else of the device, else carry and path. A box that was offered stays although the
    first balls came without its number. One query where nothing was chosen and fewer boxes are known."""
    if chosen:
        return [key for key in FIELDS if key in chosen]
    own = _pick(_measured(block.summary))
    if len(own) == MOST_FIELDS:
        return own
    device = block.lesson.device
    earlier = next(filter(None, map(_measured, _earlier_summaries(block))), None)
    usual = _pick(earlier or set(device.columns if device else ())) or USUAL_FIELDS
    both = [*own, *(key for key in usual if key not in own)][:MOST_FIELDS]
    return [key for key in IN_ORDER if key in both]


def typed_value(*, key: str, value: float, system: str, mirrored: bool) -> str:
    """Return a stored number as the coach would type it: the window, with the mirror of the door."""
    shown, _ = units.display(field_key=key, value=value, system=system)
    digits = units.display_digits(field_key=key, system=system) + 1
    text = f"{-shown if mirrored and key in MIRRORED else shown:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _pick(known: set[str]) -> list[str]:
    return [key for key in IN_ORDER if key in known][:MOST_FIELDS]


def _measured(summary: dict[str, Any]) -> set[str]:
    return set(summary.get("numbers", {})) - set(summary.get("derived", []))


def _earlier_summaries(block: Block) -> list[dict[str, Any]]:
    return list(
        Block.objects.filter(lesson__student=block.lesson.student, removed_at__isnull=True)
        .exclude(pk=block.pk).order_by("-lesson__starts_at", "-position").values_list("summary", flat=True)[:6]
    )
