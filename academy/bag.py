"""What a student works toward and plays with: goals and clubs, each with its dates."""

from datetime import date
from typing import Any

from .journal import journal
from .models import Club, Coach, Goal, Student


def add_goal(*, by: Coach, student: Student, **values: Any) -> Goal:
    """Store a goal in the student's words."""
    goal = Goal(student=student, **values)
    with journal(by=by, student=student, sentence=f"Goal: {goal.text}"[:300]) as entry:
        entry.create(goal)
    return goal


def end_goal(*, by: Coach, goal: Goal, day: date) -> Goal:
    """Close a goal; it stays in the record."""
    with journal(by=by, student=goal.student, sentence=f"Goal closed: {goal.text}"[:300]) as entry:
        entry.update(goal, ended_on=day)
    return goal


def add_club(*, by: Coach, student: Student, **values: Any) -> Club:
    """Store a club from today on, or from the day that is given. A new shaft or loft is a new club."""
    club = Club(student=student, **values)
    with journal(by=by, student=student, sentence=f"Club added: {club.name}") as entry:
        entry.create(club)
    return club


def end_club(*, by: Coach, club: Club, day: date) -> Club:
    """Take a club out of the bag; balls hit with it keep it."""
    with journal(by=by, student=club.student, sentence=f"Club out of the bag: {club.name}") as entry:
        entry.update(club, to_date=max(day, club.from_date or day))
    return club
