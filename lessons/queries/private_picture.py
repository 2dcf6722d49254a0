"""The setup picture of the private page, drawn for the student's hand."""

from typing import Any

from django.utils.safestring import SafeString

from academy.models import Student
from lessons.models import Lesson, SetupObservation
from lessons.pictures import setup_plan
from metrics.checkpoints import DEFAULT_SHOULDER_WIDTH_CM

from .shown import read

TAUGHT = (Lesson.Status.RUNNING, Lesson.Status.FINISHED)
LINES = ("feet_deg", "hips_deg", "shoulders_deg", "face_aim_deg", "lead_flare_deg", "trail_flare_deg")
DRAWN = {*LINES, "ball_position_cm", "stance_width_ratio"}
AS_IT_WAS = "Your setup from above, as it was in the lesson: look at it, do not copy it."


def setup_picture(
    *, student: Student, who: dict[str, Any], thing: dict[str, Any] | None, numbers: bool
) -> tuple[SafeString | None, str]:
    """Draw the setup to copy and say what it shows. One query.

    The newest lesson's values after the change; where there is no after, the one thing stands where it is to go:
    nobody is to copy the setup that was found wanting. Without ``numbers`` it shows shoes, ball and lines alone.
    """
    rows = read("setup", SetupObservation.objects.filter(
        lesson__student=student, lesson__status__in=TAUGHT, removed_at__isnull=True
    ).order_by("-lesson__starts_at", "-pk")[:80])
    if not rows:
        return None, ""
    same = [row for row in rows if (row["lesson__starts_at"], row["category"]) == (
        rows[0]["lesson__starts_at"], rows[0]["category"])]
    after: dict[str, float] = {}
    values: dict[str, float] = {}
    for row in same:
        (after if row["phase"] == "after" else values).setdefault(row["checkpoint"], row["value"])
    words = "Your setup from above, to copy." if after else AS_IT_WAS
    fresh = thing and thing["lesson__starts_at"] >= rows[0]["lesson__starts_at"] and thing["value_to"] is not None
    if fresh and thing["checkpoint"] in values and thing["checkpoint"] not in after:
        words = "Your setup from above, with the one thing as it should be. The rest is as it was in the lesson."
        values[thing["checkpoint"]] = thing["value_to"]
    elif fresh and thing["checkpoint"] not in DRAWN:
        words += " The one thing does not show from above."
    values |= after
    width = who["shoulder_width_cm"] or DEFAULT_SHOULDER_WIDTH_CM
    ratio = values.get("stance_width_ratio")
    drawn = {key: values.get(key) for key in LINES}
    drawn |= {"ball_cm": values.get("ball_position_cm"), "stance_width_cm": ratio * width if ratio else None}
    if all(value is None for value in drawn.values()):
        return None, ""
    picture = setup_plan.draw(setup_plan.Plan(
        now=setup_plan.Setup(**drawn), left_handed=who["hand"] == Student.Hand.LEFT, shoulder_width_cm=width,
        key="mine", title="Your setup from above", now_word="yours", numbers=numbers,
    ))
    return picture, words
