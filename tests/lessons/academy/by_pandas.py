"""The academy's figures a second time, by pandas, straight from the tables: no model, no query of the program.

Each figure comes back as (counted, out of, who is on the list). Written from the definitions in words.
"""

import json
from collections import namedtuple

import numpy as np
import pandas as pd
from django.db import connection

Told = namedtuple("Told", "top bottom names", defaults=(frozenset(),))
ZONE = "Europe/Dublin"
TABLES = {
    "student": "academy_student", "consent": "academy_consent", "link": "academy_sharelink", "club": "academy_club",
    "lesson": "lessons_lesson", "booking": "lessons_booking", "block": "lessons_block", "sheet": "lessons_followup",
    "group": "lessons_groupclass", "package": "lessons_package", "entry": "lessons_packageentry",
    "practice": "lessons_practiceentry", "standing": "lessons_standing", "working": "lessons_workinghours",
    "paper": "lessons_coachcheck", "incident": "lessons_incident", "round": "lessons_round",
}


def table(name: str) -> pd.DataFrame:
    with connection.cursor() as cursor:
        cursor.execute(f'SELECT * FROM "{name}"')
        frame = pd.DataFrame(cursor.fetchall(), columns=[column[0] for column in cursor.description])
    for column in frame:
        if column.endswith("_at"):
            frame[column] = pd.to_datetime(frame[column], utc=True, format="ISO8601")
        elif column.endswith(("_on", "_date")):
            frame[column] = pd.to_datetime(frame[column])
    return frame


def local_day(moments: pd.Series) -> pd.Series:
    return moments.dt.tz_convert(ZONE).dt.tz_localize(None).dt.normalize()


class Academy:
    """The tables, joined once; ``figures`` counts them."""

    def __init__(self, now, days: int):
        for name, of in TABLES.items():
            setattr(self, name, table(of))
        self.now = pd.Timestamp(now).tz_convert("UTC")
        self.today = pd.Timestamp(now.date())
        self.begin = self.today - pd.Timedelta(days=days - 1)
        self.student = self.student.set_index("id")
        self.present = self.student[self.student.status != "left"]
        lesson = self.lesson[self.lesson.student_id.isin(self.student.index)]
        self.booked = lesson
        notes = self.booking[["lesson_id", "cancel_reason", "cancelled_at"]].rename(columns={"lesson_id": "id"})
        self.visit = lesson[lesson.kind != "practice"].merge(notes, on="id", how="left")
        self.visit["day"] = local_day(self.visit.starts_at)
        self.came = self.visit[self.visit.status == "finished"]
        self.due = self.visit[self.inside(self.visit.day) & (self.visit.status != "planned")]

    def inside(self, days: pd.Series) -> pd.Series:
        return days.between(self.begin, self.today)

    def names(self, keys) -> frozenset:
        return frozenset(self.student.loc[sorted(set(keys)), "name"])

    def share(self, inside, whole) -> Told:
        inside, whole = set(inside) & set(whole), set(whole)
        return Told(len(inside), len(whole), self.names(inside))

    # --- students
    def here(self):
        return self.student.index[self.student.status == "active"]

    def active_between(self, first, last):
        return set(self.came[self.came.day.between(first, last)].student_id)

    def active(self) -> Told:
        soon = self.visit[(self.visit.kind == "group") & (self.visit.status == "planned")
                          & (self.visit.starts_at >= self.now)]
        lately = self.active_between(self.today - pd.Timedelta(days=60), self.today)
        return self.share(lately | set(soon.student_id), self.present.index)

    def retention(self) -> Told:
        eve = self.begin - pd.Timedelta(days=1)
        start = self.active_between(eve - pd.Timedelta(days=60), eve)
        end = self.active_between(self.today - pd.Timedelta(days=60), self.today)
        debut = self.came.groupby("student_id").day.min()
        stayed = {one for one in end if debut[one] < self.begin}
        return Told(len(stayed), len(start), self.names(start - stayed))

    def next_hour(self):
        ahead = self.booked[self.booked.status.isin(["planned", "running"])
                            & (self.booked.starts_at >= self.now - pd.Timedelta(hours=12))]
        return set(ahead.student_id)

    def single(self) -> pd.DataFrame:
        rows = self.came[self.came.kind == "lesson"].sort_values("starts_at")
        return rows.assign(gap=rows.groupby("student_id").starts_at.diff().dt.days)

    def overdue_ids(self) -> set:
        per = self.single().groupby("student_id").agg(
            n=("id", "size"), last=("day", "last"), gap=("gap", "median"))
        per["agreed"] = self.single().groupby("student_id").tail(1).set_index("student_id").next_date
        away = (self.today - per["last"]).dt.days
        late = per.agreed + pd.Timedelta(days=7) < self.today
        late |= (per.n >= 3) & (per.gap > 0) & (away > 1.5 * per.gap)
        return set(per.index[late]) & set(self.here()) - self.next_hour()

    def overdue(self) -> Told:
        return self.share(self.overdue_ids(), self.here())

    def unbooked(self) -> Told:
        return self.share(set(self.here()) - self.next_hour(), self.here())

    def paused(self) -> Told:
        return self.share(self.student.index[self.student.status == "paused"], self.present.index)

    def lapse(self) -> Told:
        ticked = self.practice.assign(day=local_day(self.practice.practised_at))
        fresh = set(ticked[ticked.day > self.today - pd.Timedelta(days=21)].student_id)
        rich = set(self.left()[self.left().usable > 1].index)
        return self.share(self.overdue_ids() - fresh - rich, self.here())

    def conversion(self) -> Told:
        new = self.student.index[self.inside(local_day(self.student.created_at))]
        return self.share(self.came.student_id, new)

    # --- teaching
    def given_minutes(self) -> pd.Series:
        rows = self.due[self.due.status == "finished"]
        classes = rows[rows.kind == "group"].drop_duplicates(["coach_id", "starts_at"])
        return pd.concat([rows[rows.kind != "group"], classes]).groupby("coach_id").minutes.sum()

    def hours_given(self) -> float:
        return round(self.given_minutes().sum() / 60, 1)

    def hours(self) -> Told:
        weekdays = pd.Series(pd.date_range(self.begin, self.today).day_of_week).value_counts()
        rows = self.working[self.working.coach_id.isin(self.student.coach_id)]
        open_, close = (pd.to_timedelta(rows[column].astype(str)) for column in ("opens", "closes"))
        minutes = (close - open_).dt.total_seconds() / 60 * rows.weekday.map(weekdays)
        return Told(self.hours_given(), round(minutes.sum() / 60, 1))

    def no_show(self) -> Told:
        missed = self.due[self.due.status == "no_show"]
        return Told(len(missed), len(missed) + (self.due.status == "finished").sum(), self.names(missed.student_id))

    def late_cancel(self) -> Told:
        rows = self.due[self.due.status != "running"]
        notice = rows.starts_at - rows.cancelled_at
        late = rows[(rows.status == "cancelled") & rows.cancel_reason.isin(["student", "ill"])
                    & (notice < pd.Timedelta(hours=24))]
        return Told(len(late), len(rows), self.names(late.student_id))

    def group_fill(self) -> Told:
        held = self.group[(self.group.status == "held") & self.inside(local_day(self.group.starts_at))
                          & self.group.coach_id.isin(self.student.coach_id)]
        taken = self.booking.merge(self.lesson[["id", "status"]], left_on="lesson_id", right_on="id")
        taken = taken[taken.group_id.isin(held.id) & (taken.status != "cancelled")]
        return Told(len(taken), held.capacity.sum())

    def sheets(self) -> pd.DataFrame:
        rows = self.due[(self.due.status == "finished") & (self.due.kind != "group")].set_index("id")
        rows = rows.assign(end=rows.finished_at.fillna(rows.starts_at + pd.to_timedelta(rows.minutes, unit="min")))
        sheet = self.sheet[self.sheet.lesson_id.isin(rows.index)]
        handed = sheet[sheet.channel != "link"].groupby("lesson_id").sent_at.min()
        kept = sheet[sheet.channel == "link"].groupby("lesson_id").sent_at.min().rename("kept").reset_index()
        kept["student_id"] = kept.lesson_id.map(rows.student_id)
        opened = kept.merge(self.link, on="student_id")
        opened["from"] = opened[["kept", "created_at"]].max(axis=1)
        opened["until"] = opened[["expires_at", "revoked_at"]].min(axis=1)
        shown = opened[opened.until > opened["from"]].groupby("lesson_id")["from"].min()
        both = pd.concat([handed, shown], axis=1)
        rows["given"] = both.min(axis=1)
        rows["read"] = sheet.groupby("lesson_id").opened_at.min()
        return rows

    def given(self) -> Told:
        rows = self.sheets()
        early = rows.given - rows.end <= pd.Timedelta(hours=24)
        return Told(early.sum(), len(rows), self.names(rows[~early].student_id))

    def opened(self) -> Told:
        rows = self.sheets()
        rows = rows[rows.given.notna()]
        return Told(rows.read.notna().sum(), len(rows), self.names(rows[rows.read.isna()].student_id))

    def returns(self) -> pd.DataFrame:
        """Each return visit, with whether it began with a first ten."""
        rows = self.single()
        rows = rows[rows.groupby("student_id").cumcount() > 0]
        kept = self.block.summary.map(lambda one: one if isinstance(one, dict) else json.loads(one))
        balls = kept.str.get("balls")
        tens = self.block[(self.block.purpose == "first_ten") & (balls != 0) & self.block.removed_at.isna()]
        return rows.assign(ten=rows.id.isin(tens.lesson_id))

    def first_ten(self) -> Told:
        rows = self.returns()
        rows = rows[rows.student_id.isin(self.present.index)]
        return Told(rows.ten.sum(), len(rows), self.names(rows[~rows.ten].student_id))

    def verdict(self, wanted: set) -> Told:
        back = set(self.returns().student_id) & set(self.present.index)
        standing = self.standing[self.standing.student_id.isin(back)]
        return self.share(standing[standing.verdict.isin(wanted)].student_id, back)

    def held(self) -> Told:
        return self.verdict({"likely", "established"})

    def cant_tell(self) -> Told:
        return self.verdict({"", "cannot_tell"})

    def slipped(self) -> Told:
        return self.verdict({"slipped"})

    def outcome(self) -> Told:
        rows = self.round[self.round.removed_at.isna() & self.round.student_id.isin(self.present.index)]
        rows = rows.sort_values(["played_on", "id"])
        raw = 113 / rows.slope * (rows.adjusted_gross - rows.course_rating - rows.pcc)
        value = rows.official_differential.fillna(np.floor(raw.astype(float).round(6) * 10 + 0.5) / 10)
        better, whole = set(), set()
        for student, own in rows.assign(value=value).groupby("student_id"):
            then, now = own[own.played_on < self.begin], own[own.played_on <= self.today]
            if len(then) >= 10 and len(now) > len(then):
                whole.add(student)
                if now.value.tail(10).mean() < then.value.tail(10).mean():
                    better.add(student)
        return self.share(better, whole)

    # --- packages and clubs
    def left(self) -> pd.DataFrame:
        packs = self.package[self.package.removed_at.isna()]
        packs = packs.assign(left=packs.id.map(self.entry.groupby("package_id").lessons.sum()))
        good = (packs.left > 0) & ~(packs.expires_on < self.today)
        worth = (packs.price_cents * packs.left / packs.lessons).round()
        packs = packs.assign(
            usable=packs.left.where(good, 0), worth=worth.where(good, 0), end=packs.expires_on.where(good))
        return packs.groupby("student_id").agg(usable=("usable", "sum"), worth=("worth", "sum"), end=("end", "min"))

    def package_left(self) -> Told:
        left = self.left()
        return self.share(left.index[left.usable <= 1].intersection(self.present.index),
                          left.index.intersection(self.present.index))

    def package_ending(self) -> Told:
        left = self.left()[lambda frame: (frame.usable > 0) & frame.index.isin(self.present.index)]
        return self.share(left.index[left.end <= self.today + pd.Timedelta(days=30)], left.index)

    def equipment(self) -> Told:
        club = self.club[self.club.student_id.isin(self.present.index) & self.club.from_date.notna()]
        club = club[~(club.to_date <= self.today)]
        return self.share(club[club.from_date <= self.today - pd.Timedelta(days=731)].student_id, club.student_id)

    def liability(self) -> Told:
        left = self.left()
        return Told(left.worth.sum() / 100, left.usable.sum(), self.names(left.index[left.usable > 0]))

    def revenue(self) -> Told:
        rows = self.entry.merge(self.package[["id", "student_id"]], left_on="package_id", right_on="id")
        rows = rows[rows.student_id.isin(self.student.index) & self.inside(rows.on_date) & (rows.amount_cents != 0)]
        return Told(rows.amount_cents.sum() / 100, self.hours_given(), self.names(rows.student_id))

    # --- safety
    def juniors(self, of=None):
        of = self.present if of is None else of
        return of.index[of.born_on + pd.DateOffset(years=18) > self.today]

    def consents(self) -> pd.DataFrame:
        rows = self.consent[self.consent.student_id.isin(self.juniors())]
        off = rows.withdrawn_on <= self.today
        return rows[(rows.given_on <= self.today) & (rows.expires_on >= self.today) & ~off]

    def junior_consents(self) -> Told:
        needed = self.consents()[self.consents()["item"].isin(["lessons", "medical", "messaging"])]
        complete = needed.groupby("student_id")["item"].nunique().loc[lambda count: count == 3].index
        return Told(len(complete), len(self.juniors()), self.names(set(self.juniors()) - set(complete)))

    def consents_ending(self) -> Told:
        until = self.consents().groupby(["student_id", "item"]).expires_on.max().reset_index()
        ending = until[until.expires_on <= self.today + pd.Timedelta(days=30)]
        return self.share(ending.student_id, self.juniors())

    def second_adult(self) -> Told:
        rows = self.due[(self.due.status == "finished") & (self.due.kind != "group")
                        & self.due.student_id.isin(self.juniors(self.student))]
        alone = rows[rows.second_adult == ""]
        return Told(len(alone), len(rows), self.names(alone.student_id))

    def checks(self) -> Told:
        coaches = set(self.student.loc[self.juniors(), "coach_id"])
        good = self.paper[(self.paper.done_on <= self.today) & (self.paper.expires_on >= self.today)]
        kinds = good[good.coach_id.isin(coaches)].groupby("coach_id").kind.nunique()
        return Told((kinds == 3).sum(), len(coaches))

    def incidents(self) -> Told:
        return Told(self.incident.closed_on.isna().sum(), len(self.incident))

    def near_misses(self) -> Told:
        rows = self.incident[(self.incident.kind == "near_miss") & self.inside(self.incident.happened_on)]
        return Told(len(rows), (self.due.status == "finished").sum())

    # --- what is drawn
    def weeks(self) -> pd.Series:
        monday = self.came.day - pd.to_timedelta(self.came.day.dt.day_of_week, unit="D")
        return monday.value_counts()

    def cohorts(self) -> pd.DataFrame:
        """By the month of the first lesson: how many, three lessons in 90 days, active at 180."""
        rows = self.came.sort_values("starts_at")
        debut = rows.groupby("student_id").day.min()
        since = (rows.day - rows.student_id.map(debut)).dt.days
        found = pd.DataFrame({"debut": debut, "soon": (since <= 90).groupby(rows.student_id).sum(),
                              "later": since.between(120, 180).groupby(rows.student_id).any()})
        age = (self.today - found.debut).dt.days
        found["three"] = (found.soon >= 3) & (age >= 90)
        found["old90"], found["old180"] = age >= 90, age >= 180
        found["still"] = found.later & found.old180
        return found.groupby(found.debut.dt.to_period("M")).agg(
            size=("debut", "size"), three=("three", "sum"), old90=("old90", "sum"), still=("still", "sum"),
            old180=("old180", "sum"))

