"""The scenarios that a visitor of the demo looks up: one student each, with a line that says what to look at."""

from dataclasses import dataclass

from . import faults
from .faults import Fault


@dataclass(frozen=True, kw_only=True)
class Scene:
    """What a scenario fixes; the rest of the person is drawn.

    ``visits`` belong to the fault of the scenario, ``earlier`` ones before to others. ``special`` names what only
    this student has, see specials.py. ``coach`` counts from 0. ``booked`` is in how many days the next lesson is.
    """

    name: str
    hint: str
    fault: Fault
    answer: str
    level: str
    index: float | None
    visits: int = 3
    earlier: int = 0
    gap: int = 12
    last: int = 14
    device: str = "bay"
    hand: str = "right"
    age: int = 41
    slight: bool = False
    booked: int | None = 0
    practises: float = 0.6
    coach: int = 0
    special: str = ""
    status: str = "active"
    pause_reason: str = ""
    package: str = ""


SCENES = (
    Scene(name="Mara Averill", fault=faults.OVER_DRAW, answer="holds", level="mid", index=11.4, hand="left",
          slight=True,
          age=36, visits=4, earlier=5, special="left_file",
          hint="Left-handed: the file of her last visit says path −, the lesson says out to the slice side; pictures "
               "and words are for her hand."),
    Scene(name="Jory Sandwick", fault=faults.PUSH, answer="slow", level="high", index=17.2, age=58,
          special="odd_units",
          earlier=3,
          hint="A file without units waits for today’s lesson: speed 41, carry 194. What is asked, what is proposed, "
               "and nothing guessed silently."),
    Scene(name="Freya Holmqvist-Orr", fault=faults.OVER_DRAW, answer="holds", level="mid", index=12.8, device="eyes",
          slight=True, visits=2, age=47,
          hint="No device: ten balls called by eye and two setup numbers; a hint, and no degrees nobody measured."),
    Scene(name="Bea Dunmoor", fault=faults.TOPPED, answer="holds", level="beginner", index=None, device="eyes",
          visits=3, slight=True, age=52, hint="Beginner who tops it: contact first, “brush the tee”, no statistics."),
    Scene(name="Tomasz Brekkan", fault=faults.ONE_DEGREE, answer="flat", level="scratch", index=0.6, visits=3,
          earlier=14, age=27, practises=0.9, special="one_degree",
          hint="Scratch, wants one degree: see how many visits it takes to notice that, on his progress page."),
    Scene(name="Ilya Eskilby", fault=faults.AIMS_SLICE_SIDE, answer="holds", level="high", index=24.0, age=11,
          visits=4,
          earlier=2, special="junior", practises=1.0,
          hint="Eleven: consent to filming ran out, second adult in bay 4, more hours a week than years."),
    Scene(name="Oskar Grindlay", fault=faults.SLICE, answer="holds", level="high", index=18.2, earlier=4,
          special="wind",
          age=63, booked=1, hint="Wind of 20 mph last visit: path and face are judged, carry and curve are not."),
    Scene(name="Henrik Solbakken", fault=faults.SLICE, answer="slow", level="mid", index=9.1, earlier=6, visits=4,
          special="new_club", age=33,
          booked=1,
          hint="New driver in the middle of the last visit but one: not the same club, no claim across; ten balls "
               "in turn are proposed."),
    Scene(name="Livia Jessamy", fault=faults.PULL, answer="slow", level="high", index=16.0, device="small", earlier=3,
          slight=True, age=44, booked=2,
          hint="Ball numbers only, no face, no path: a push cannot be told from a fade’s cause."),
    Scene(name="Petra Lindenrow", fault=faults.AIMS_SLICE_SIDE, answer="holds", level="mid", index=8.4, earlier=4,
          slight=True, special="twice", age=29,
          booked=2,
          hint="The file of her last visit came twice: “23 of 25 already stored, 2 new”; see that lesson."),
    Scene(name="Nadia Farrowgate", fault=faults.STEEP_DRIVER, answer="flat", level="high", index=22.0, special="pain",
          earlier=3, slight=True, age=49,
          hint="Back pain 5 of 10 after the last visit: no long game; aim and putting instead, graded steps back."),
    Scene(name="Ravi Castellow", fault=faults.OVER_DRAW, answer="needs_aids", level="mid", index=9.8, visits=5,
          earlier=4, age=38, hint="Good with the sticks, gone a week later: needs the aids; the aim is not his yet."),
    Scene(name="Kofi Iversholm", fault=faults.SHOULDERS, answer="flat", level="mid", index=7.5, practises=0.12,
          visits=5,
          earlier=5, age=45, booked=1, special="little_practice",
          hint="A flat month told kindly: can’t tell, practised 6 of 30 minutes; what would settle it."),
    Scene(name="Teun Kettleby", fault=faults.SLICE, answer="flat", level="very_high", index=28.5, last=52, booked=None,
          visits=4, earlier=4, age=55, practises=0.3, package="left",
          hint="Overdue without a reason: one for the call list on Monday, with what was last said."),
    Scene(name="Signe Halloran", fault=faults.PUSH, answer="slips", level="mid", index=12.1, visits=5, earlier=4,
          last=9,
          slight=True, booked=2, age=31, hint="It had come, then it went: slipped, said so, with the next step."),
    Scene(name="Yrsa Tindberg", fault=faults.AIMS_SLICE_SIDE, answer="overshoots", level="low", index=4.2, visits=4,
          earlier=4, slight=True, last=8, booked=3, age=24, practises=0.9,
          hint="Out at the far side: overshot is not progress; the change went too far."),
    Scene(name="Callan Whitmoor", fault=faults.STEEP_DRIVER, answer="holds", level="mid", index=10.4, visits=6,
          earlier=6,
          last=7, booked=4, age=50, practises=0.8,
          hint="Established: three first tens in a row, days apart, no aids."),
    Scene(name="Noor Bellandi", fault=faults.PULL, answer="holds", level="high", index=15.3, visits=1, last=4,
          booked=5,
          slight=True, age=34,
          hint="First lesson this week: better today (see Change there), which is not called an improvement."),
    Scene(name="Amara Lindqvale", fault=faults.SKY, answer="holds", level="mid", index=10.2, last=60, booked=None,
          slight=True, status="paused", pause_reason="injury", earlier=4, age=43, special="wrist",
          hint="Paused with an injury: overdue by the calendar, not counted as lapsed."),
    Scene(name="Bertil Askholm", fault=faults.FAT, answer="slow", level="high", index=19.9, last=74, booked=None,
          age=66,
          status="paused", pause_reason="injury", earlier=3, special="shoulder",
          hint="The second of three injured: the owner’s Monday hides him from the risk."),
    Scene(name="Lucinda Ferrowby", fault=faults.WEAK, answer="holds", level="high", index=20.7, last=81, booked=None,
          slight=True, status="paused", pause_reason="injury", earlier=2, age=57, coach=1, special="hip",
          hint="The third of three injured: the owner’s Monday hides her from the risk."),
    Scene(name="Hugo Pellingham", fault=faults.SLICED_HYBRID, answer="holds", level="high", index=14.4, last=47,
          booked=None, visits=2, earlier=4, age=61, package="used",
          hint="Overdue since the package ended. One later first ten: likely kept, one more would settle it."),
    Scene(name="Imke Strandvik", fault=faults.PULL, answer="slow", level="very_high", index=26.1, last=44, booked=None,
          slight=True, visits=3, earlier=2, age=39, package="used", coach=1,
          hint="Overdue since the package ended: offer the next one."),
    Scene(name="Rasheed Okafor-Lunn", fault=faults.PUSH, answer="holds", level="mid", index=6.9, last=50, booked=None,
          visits=4, earlier=3, age=30, practises=0.0, package="used", coach=2,
          hint="Overdue since the package ended, and no practice ticked: three signs of leaving."),
    Scene(name="Dorte Vingaard", fault=faults.TOE, answer="flat", level="high", index=18.8, last=55, booked=None,
          slight=True, visits=3, earlier=2, age=68, package="used", coach=3,
          hint="Overdue since the package ended: offer the next one."),
    Scene(name="Elric Samphire", fault=faults.HOOKING_WOOD, answer="slow", level="mid", index=8.8, last=49,
          booked=None,
          visits=3, earlier=4, age=42, package="left", coach=1,
          hint="Overdue without a reason: the second name on the owner’s call list."),
)
