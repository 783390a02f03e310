"""Levelling: jobs are moved inside their windows, so that no week takes more hours than there are."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta
from heapq import heapify, heappop, heappush
from math import ceil, floor
from typing import NamedTuple

from barrowful.catalogue.judgements import judgement
from barrowful.jobs.job import Job

WEEK = timedelta(weeks=1)
DAYS_PER_WEEK = 7
#: What rounding may leave over [h].
SLACK = 1e-9
#: What is not done after so long has no end in sight.
LOOKED_AT = timedelta(days=100 * 366)


class Week(NamedTuple):
    """A week from its first day on: hours of all jobs, the hours there are, and those lacking by its end."""

    first: date
    hours: float
    limit: float | None
    lacking: float = 0.0

    @property
    def last(self) -> date:
        """Return its last day."""
        return self.first + WEEK - timedelta(days=1)


def level(jobs: Sequence[Job], start: date, limit: float | None) -> list[Week]:
    """Give each job its days and return the weeks in which there is work, counted from the start.

    Among the jobs that may be done the one that is due first is: for work that can be broken off, no other
    order keeps more of the last days. Of those due on a day the place that is served first comes first, and
    of its jobs the smallest. A job that others wait for is due before them. Where one is late
    anyhow, a small one that is not goes before it, and before what is put on a place what ways ask. Without
    a limit each job is done on the first day it may be.
    """
    due = due_days(jobs)
    work = _Work(jobs, start, limit, due)
    return work.run()


class _Work:
    """The weeks gone through: what may be done, what waits, and the hours used."""

    def __init__(self, jobs: Sequence[Job], start: date, limit: float | None, due: dict[int, date]) -> None:
        self.jobs, self.start, self.limit, self.due = jobs, start, limit, due
        self.left = {id(job): 0.0 if job.done else job.likely for job in jobs}
        self.waits_for = {id(job): 0 if job.done else len(job.after) for job in jobs}
        self.then: dict[int, list[Job]] = defaultdict(list)
        for job in jobs:
            for before in job.after:
                self.then[id(before)].append(job)
        self.from_day = {id(job): job.done or job.first for job in jobs}
        self.number = {id(job): number for number, job in enumerate(jobs)}
        self.coming = [self._opens(job) for job in jobs if not self.waits_for[id(job)]]
        heapify(self.coming)
        self.open: list[tuple[date, int, float, date, int, Job]] = []
        self.week, self.used = start - WEEK, 0.0
        self.hours: dict[date, float] = defaultdict(float)
        self.lacking: dict[date, float] = {}

    def _opens(self, job: Job) -> tuple[date, int, Job]:
        return self.from_day[id(job)], self.number[id(job)], job

    def run(self) -> list[Week]:
        """Go through the weeks until nothing is left, or no end is in sight."""
        end = self.start + LOOKED_AT
        while self.coming or self.open:
            self.week = self.week + WEEK if self.open else self._week_of(self.coming[0][0])
            if self.week > end:
                break
            self.used = 0.0
            self._open_until(self.week + WEEK)
            while self.open and (self.limit is None or self.used < self.limit - SLACK):
                self._do(self._next())
                self._open_until(self.week + WEEK)
            self._count_lacking()
        for job in self.jobs:  # what has no end in sight is begun on the first day it may be
            job.on = min(job.on, max(job.first, self.from_day[id(job)])) if job.until == date.max else job.on
        weeks = sorted({*self.hours, *self.lacking})
        return [Week(week, self.hours[week], self.limit, self.lacking.get(week, 0.0)) for week in weeks]

    def _next(self) -> Job:
        """Take the job that is due first; where that is late anyhow, some that are not go before it.

        Those are small ones, and before what is put on a place what ways ask: sowing and cutting have days.
        """
        if self.limit is not None and self.open[0][0] < self.week:
            most, put_on = self.limit * judgement("small_job"), bool(self.open[0][-1].place)
            before = (
                each
                for each in self.open
                if each[0] >= self.week
                and (self.left[id(each[-1])] <= most or (put_on and not each[-1].place))
            )
            if first := min(before, default=None):
                self.open.remove(first)
                heapify(self.open)
                return first[-1]
        return heappop(self.open)[-1]

    def _week_of(self, day: date) -> date:
        return week_of(day, self.start)

    def _open_until(self, day: date) -> None:
        """Open the jobs that may be begun before a day; what takes no hours is done at once."""
        while self.coming and self.coming[0][0] < day:
            *_, job = heappop(self.coming)
            if self.left[id(job)] <= SLACK:
                on = self.from_day[id(job)]
                self._finish(job, on, on)
            else:
                heappush(self.open, self._in_turn(job))

    def _in_turn(self, job: Job) -> tuple[date, int, float, date, int, Job]:
        """Return what jobs that may be done go by: their last days, then priority, the smallest first."""
        return self.due[id(job)], job.priority, job.likely, job.first, self.number[id(job)], job

    def _do(self, job: Job) -> None:
        """Work on a job for what hours the week has left."""
        left = self.left[id(job)]
        part = left if self.limit is None else min(left, self.limit - self.used)
        # hours are kept to by weeks: what is due within one is done by its day
        due = self.due[id(job)] if self.due[id(job)] >= self.week else date.max
        on = max(self.from_day[id(job)], min(due, self.week + timedelta(days=floor(self._gone + SLACK))))
        self.used += part
        until = max(on, min(due, self.week + timedelta(days=max(0, ceil(self._gone - SLACK) - 1))))
        self.hours[self._week_of(on)] += part
        self.left[id(job)] = left - part
        job.on = min(on, job.on)
        if self.left[id(job)] <= SLACK:
            self._finish(job, job.on, until)
        else:
            heappush(self.open, self._in_turn(job))

    @property
    def _gone(self) -> float:
        """Return the days of the week that are gone with the hours used, where there are so many."""
        return self.used / self.limit * DAYS_PER_WEEK if self.limit else 0.0

    def _finish(self, job: Job, on: date, until: date) -> None:
        """Note a job's days, and let come what waited for it."""
        job.on, job.until = on, on + (job.last - job.first) if job.goes_on and not job.done else until
        for following in self.then[id(job)]:
            key = id(following)
            if following.done:
                continue
            begun = on if following.paced else until
            self.from_day[key] = max(self.from_day[key], begun + timedelta(days=job.lag + following.gap))
            self.waits_for[key] -= 1
            if not self.waits_for[key]:
                heappush(self.coming, self._opens(following))

    def _count_lacking(self) -> None:
        """Note the hours that jobs due by the end of the week still lack."""
        end = self.week + WEEK - timedelta(days=1)
        lacking = sum(self.left[id(job)] for due, *_, job in self.open if due <= end)
        if lacking > SLACK:
            self.lacking[self.week] = lacking


def week_of(day: date, start: date) -> date:
    """Return the first day of a day's week, weeks being counted from the start.

    >>> week_of(date(2027, 3, 10), date(2027, 3, 1))
    datetime.date(2027, 3, 8)
    """
    return day - timedelta(days=(day - start).days % DAYS_PER_WEEK)


def due_days(jobs: Sequence[Job]) -> dict[int, date]:
    """Return the day each job is to be done by, that of what waits for it and is still to do counted."""
    due = {id(job): job.by for job in jobs}
    for job in reversed(in_order(jobs)):
        for before in job.after if job.done is None else ():
            due[id(before)] = min(due[id(before)], due[id(job)] - timedelta(days=before.lag + job.gap))
    return due


def in_order(jobs: Sequence[Job]) -> list[Job]:
    """Return jobs so that none comes before what it waits for."""
    waits = {id(job): len(job.after) for job in jobs}
    then: dict[int, list[Job]] = defaultdict(list)
    for job in jobs:
        for before in job.after:
            then[id(before)].append(job)
    ready, listed = [job for job in jobs if not job.after], list[Job]()
    while ready:
        job = ready.pop()
        listed.append(job)
        for following in then[id(job)]:
            waits[id(following)] -= 1
            if not waits[id(following)]:
                ready.append(following)
    return listed
