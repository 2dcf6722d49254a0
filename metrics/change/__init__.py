"""Did it hold? What two visits, taken together, honestly say about a change.

``question_for`` fills in what is asked, ``Visit`` carries the balls, ``judge_change`` and ``judge_today`` answer.
"""

from metrics.change.question import Goal, Question, question_for
from metrics.change.verdict import Verdict, judge_change, judge_today
from metrics.change.visits import Conditions, Visit
from metrics.change.words import WORDS, Sentences

__all__ = ["WORDS", "Conditions", "Goal", "Question", "Sentences", "Verdict", "Visit", "judge_change",
           "judge_today", "question_for"]
