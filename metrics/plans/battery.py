"""The first visit, repeated every 8 to 12 weeks: what is asked, looked at and measured, and when it is due again.

The questions about readiness are in our own words, after what is commonly asked before exercise; they diagnose
nothing: one yes defers to a clinician. The looks are a non-clinician's: easy, limited or pain, no degrees.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

WEEKS = (8, 12)
"""A battery is repeated after so many weeks. Common practice, no source."""
Answer = Literal["text", "yes_no", "choice"]
LOOK_WORDS: dict[str, str] = {"easy": "Easy", "limited": "Limited", "pain": "Pain: stop here"}


@dataclass(frozen=True, kw_only=True)
class Question:
    """One question: its key in the record, its words, and how it is answered."""

    key: str
    words: str
    answer: Answer = "text"
    choices: tuple[tuple[str, str], ...] = ()
    hint: str = ""


@dataclass(frozen=True, kw_only=True)
class Look:
    """One thing to look at: what the student does, and what is watched."""

    key: str
    title: str
    how: str


@dataclass(frozen=True, kw_only=True)
class Measure:
    """One measure: ten balls of a block (``category``, ``club``) or the short test named by ``design``.

    ``visit``: 1 or 2, where the battery is split. ``full_swing``: shut while health keeps full swings off.
    """

    key: str
    title: str
    how: str
    visit: Literal[1, 2]
    full_swing: bool = False
    category: str = ""
    club: str = ""
    design: str = ""
    balls: int = 10


ASKED: tuple[Question, ...] = (
    Question(key="goals", words="What do you want from golf, and why?"),
    Question(key="belief", words="What do you think causes your usual miss?",
             hint="Before any number is shown."),
    Question(key="hours", words="Hours of play and of practice in a usual week"),
    Question(key="places", words="Where can you practise?", hint="Range, green, sand, garden, indoors."),
    Question(key="lessons", words="Lessons so far, and what stayed of them"),
    Question(key="eye", words="Which eye leads?", answer="choice",
             choices=(("", "not looked at"), ("left", "Left"), ("right", "Right")),
             hint="Arms out, a small gap between the hands, both eyes on a far mark: which eye still sees it alone?"),
    Question(key="story", words="The last nine holes as a story",
             hint="Where shots were lost. Or type the last three cards under Rounds."),
)
BODY: tuple[Question, ...] = (
    Question(key="injuries", words="Injuries and operations, and when"),
    Question(key="dizziness", words="Dizzy, or unsure on your feet, in the last year?", answer="yes_no"),
    Question(key="pregnancy", words="Expecting a child?", answer="yes_no"),
    Question(key="balance_medicine", words="Any medicine that can touch your balance?", answer="yes_no"),
    Question(key="heart", words="Has anybody treating you spoken of your heart, or of high blood pressure?",
             answer="yes_no"),
    Question(key="chest", words="Pressure or pain in the chest, at rest or on a hill?", answer="yes_no"),
    Question(key="faint", words="Fainted, or lost your footing from a dizzy spell, in the last year?",
             answer="yes_no"),
    Question(key="lasting", words="Another lasting illness that you are treated for?", answer="yes_no"),
    Question(key="medicine", words="A medicine taken for a lasting illness?", answer="yes_no"),
    Question(key="joints", words="A bone, joint or muscle that moving might make worse?", answer="yes_no"),
    Question(key="supervised", words="Told to exercise only with somebody medical watching?", answer="yes_no"),
)
CLEARED = Question(key="cleared", answer="yes_no",
                   words="Has somebody medical who knows of it said yes to full swings?")
"""Asked beside the questions about the body: a yes here answers all of them."""
LOOKS: tuple[Look, ...] = (
    Look(key="one_leg", title="One-leg stand, ten seconds each", how="Beside a rail or a wall. Steady on both?"),
    Look(key="turn", title="Seated turn, left and right", how="Arms crossed on a bench. About the same both ways?"),
    Look(key="overhead", title="Hands overhead", how="Slowly, both together. All the way without arching?"),
    Look(key="chair", title="Up from a chair, five times", how="Arms crossed. Even, without a push?"),
    Look(key="grip", title="Hands on a club", how="The usual grip for ten seconds. Comfortable?"),
)
MEASURES: tuple[Measure, ...] = (
    Measure(key="driver", title="Ten drivers", how="From the tee, no aids, no advice, no numbers shown.", visit=1,
            full_swing=True, category="driver", club="Driver"),
    Measure(key="seven_iron", title="Ten seven-irons", how="No aids, no advice, no numbers shown.", visit=1,
            full_swing=True, category="mid_iron", club="7 iron"),
    Measure(key="wedge", title="Ten wedges to 50 yd", how="The carry of each.", visit=1, full_swing=True,
            design="wedge_fifty"),
    Measure(key="chips", title="Ten chips", how="What is left to the hole.", visit=2, design="chip_ten"),
    Measure(key="short_putts", title="Ten putts of 5 ft", how="Holed or not.", visit=2, design="putt_five"),
    Measure(key="long_putts", title="Ten putts of 30 ft", how="How far past, or short.", visit=2,
            design="putt_thirty"),
)


def concerns(answers: Mapping[str, str]) -> tuple[str, ...]:
    """Return the keys of the questions about the body that were answered with yes, in order.

    Any of them means: a clinician's word before full swings. None where ``CLEARED`` was answered with yes, for a
    clinician's word is there then. Unknown keys and other answers count for nothing.
    """
    if answers.get(CLEARED.key) == "yes":
        return ()
    return tuple(one.key for one in BODY if one.answer == "yes_no" and answers.get(one.key) == "yes")


def due_between(*, finished_on: date) -> tuple[date, date]:
    """Return the first and the last day on which the battery should be repeated: 8 to 12 weeks later.

    >>> due_between(finished_on=date(2026, 1, 1))
    (datetime.date(2026, 2, 26), datetime.date(2026, 3, 26))
    """
    first, last = WEEKS
    return finished_on + timedelta(weeks=first), finished_on + timedelta(weeks=last)
