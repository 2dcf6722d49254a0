"""Files of the demo: one taken in for a left-hander, one that comes twice, one whose units nobody wrote down."""

from collections.abc import Callable
from dataclasses import asdict, replace
from datetime import timedelta

from django.utils import timezone

from lessons.models import ImportBatch, Lesson, Shot
from lessons.services.imports import choices_of, look_at
from lessons.summaries import refresh

from .rows import Rows
from .visits import Visit

_HEADINGS = ("Time", "Club", "Club speed [m/s]", "Club path [deg]", "Face angle [deg]", "Attack angle [deg]",
             "Carry [m]",
             "Side [m]")
_FIELDS = ("club_speed_mps", "club_path_deg", "face_angle_deg", "attack_angle_deg", "carry_m", "side_m")
_MIRRORED = {"club_path_deg", "face_angle_deg", "side_m"}
_SOURCE = "Bay unit, club and ball"


def add_files(*, rows: Rows, special: str, visits: list[Visit]) -> None:
    """Write the file of a scenario, where it has one; its lessons are stored already."""
    makers: dict[str, Callable[[Rows, list[Visit]], None]] = {
        "left_file": _left_handed, "twice": _twice, "odd_units": _odd_units,
    }
    if special in makers:
        makers[special](rows, visits)


def _left_handed(rows: Rows, visits: list[Visit]) -> None:
    """Her last visit came from a file: plus is right of the target there, and hers is the other side."""
    lesson = visits[-1].lesson
    shots = _shots(lesson)
    _taken_in(rows, lesson, shots, name="bay4_left.csv", mirrored=True)


def _twice(rows: Rows, visits: list[Visit]) -> None:
    """The file as it was taken in, and the longer one that came afterwards and waits."""
    lesson = visits[-1].lesson
    shots = _shots(lesson)
    first, late = shots[:23], shots[23:25]
    Shot.objects.filter(pk__in=[shot.pk for shot in late]).delete()
    for block in {shot.block for shot in late}:
        refresh(block)
    _taken_in(rows, lesson, first, name="bay2_session.csv", mirrored=False)
    _kept(rows, lesson, _lines([*first, *late], mirrored=False), name="bay2_session_again.csv")


def _odd_units(rows: Rows, visits: list[Visit]) -> None:
    """A friend's file for today: numbers without units, a speed of 41 beside a carry of 194."""
    today = Lesson.objects.filter(student=visits[-1].lesson.student, status=Lesson.Status.PLANNED).first()
    lines = ["Club;Club Speed;Ball Speed;Carry;Path"]
    for number in range(10):
        speed, path = 40.6 + 0.3 * (number % 4), 2.1 + 0.4 * (number % 5)
        lines.append(f"Driver;{speed:.1f};{speed * 1.44:.1f};{speed * 4.73 + number % 3:.0f};{path:.1f}")
    if today is not None:
        _kept(rows, today, lines, name="from_holiday.csv")


def _shots(lesson: Lesson) -> list[Shot]:
    found = Shot.objects.filter(block__lesson=lesson, carry_m__isnull=False).select_related("block")
    return list(found.order_by("block__position", "number"))


def _lines(shots: list[Shot], *, mirrored: bool) -> list[str]:
    lines = [",".join(_HEADINGS)]
    for shot in shots:
        cells = [f"{timezone.localtime(shot.hit_at):%Y-%m-%d %H:%M:%S}", shot.block.club_name]
        for name in _FIELDS:
            value = getattr(shot, name)
            cells.append("" if value is None else f"{-value if mirrored and name in _MIRRORED else value:.2f}")
        lines.append(",".join(cells))
    return lines


def _taken_in(rows: Rows, lesson: Lesson, shots: list[Shot], *, name: str, mirrored: bool) -> None:
    """Keep the file and say of each ball that it came from there."""
    lines = _lines(shots, mirrored=mirrored)
    batch = _kept(rows, lesson, lines, name=name)
    batch.reading = asdict(replace(choices_of(batch), confirmed=True, source_name=_SOURCE))
    batch.data_source, batch.balls = lesson.device, len(shots)
    batch.stored_at = lesson.finished_at - timedelta(minutes=12)
    batch.save()
    for shot, line in zip(shots, lines[1:], strict=True):
        shot.batch, shot.raw = batch, line
    Shot.objects.bulk_update(shots, ["batch", "raw"])


def _kept(rows: Rows, lesson: Lesson, lines: list[str], *, name: str) -> ImportBatch:
    batch = look_at(by=lesson.coach, lesson=lesson, data="\n".join([*lines, ""]).encode(), filename=name, block=None)
    batch.code, batch.created_at = rows.key(), lesson.finished_at or lesson.created_at
    batch.save(update_fields=["code", "created_at"])
    return batch
