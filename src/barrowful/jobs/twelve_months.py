"""Doses of a place kept as far apart as its ceilings on twelve months ask, wherever jobs have moved."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import NamedTuple

from barrowful.catalogue.ceilings import ceilings
from barrowful.catalogue.judgements import judged_time
from barrowful.ground.amount import depth
from barrowful.jobs.job import Job
from barrowful.jobs.puts import PutKey
from barrowful.jobs.safe import put_of
from barrowful.measures.dates import Step
from barrowful.needs.ceilings import Used, add_use, room_beside, used_by
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done

YEAR_BEFORE = Step(months=-12)


class Apart(NamedTuple):
    """The first day on which the ceilings let something go on beside what went on before, and which it is."""

    day: date
    ceiling: str

    @property
    def told(self) -> str:
        """Return what is said of what waits for it."""
        return f"sooner it would be over {ceilings()[self.ceiling].words} ({self.ceiling})"


def in_time_for_next(jobs: Sequence[Job], site: Site) -> None:
    """Let what is put on wait no longer than leaves the next dose its last day.

    Put on later it would keep that dose, by the ceilings of the place, beyond the day it is due by.
    """
    together: dict[PutKey, list[Job]] = defaultdict(list)
    for job in jobs:
        together[put_of(job)].append(job)
    for place, puts in _by_place(jobs, site):
        for job in puts:
            for following in [other for other in puts if job.day < other.day]:
                latest = YEAR_BEFORE.after(following.due) if following.due else date.max
                if job.first <= latest < job.last and _keeps_from(following, job, place, puts, site):
                    for each in together[put_of(job)]:
                        each.last = latest


def too_near(jobs: Sequence[Job], before: Site, site: Site) -> Iterator[tuple[PutKey, Apart]]:
    """Yield what goes on so near to what went on before that it breaks a ceiling that the plan keeps to.

    ``before`` is the site as it was planned, ``site`` has in its history what was done since. What is over a
    ceiling on its own days too is followed as it is written.
    """
    for place, puts in _by_place(jobs, site):
        since = len(site.done_on(place.name)) > len(before.done_on(place.name))
        if not since and len({job.on - job.day for job in puts}) == 1:
            continue
        planned, moved = _Doses(place, before), _Doses(place, site)
        for job in puts:
            opens = None
            if job.done is None and not job.begun and planned.opening(job, job.day) is None:
                opens = moved.opening(job, job.on)
            if opens is not None:
                yield put_of(job), opens
            planned.add(job, job.day, job.loose or 0.0)
            if job.done is None or not any(entry.loose for entry in job.entries):
                moved.add(job, opens.day if opens else job.on, job.left or 0.0)


def put_off_told(apart: Sequence[tuple[Job, Apart]], most: int) -> list[str]:
    """Return what waits longer than a job may, so many of it, as more would go on than a ceiling lets."""
    long = [(job, of) for job, of in apart if of.day - job.day > judged_time("job_waits")]
    told = [f'Put off: "{job.name}" waits until {job.first}; {of.told}.' for job, of in long[:most]]
    more = len(long) - most
    return [*told, f"So it is with {more} more jobs."] if more > 0 else told


def _by_place(jobs: Iterable[Job], site: Site) -> Iterator[tuple[Place, list[Job]]]:
    """Yield the places on which more than once something is put, and the jobs that do, by the plan's days."""
    by_place: dict[str, list[Job]] = defaultdict(list)
    for job in jobs:
        if job.stuff is not None and job.loose and not job.dropped:
            by_place[job.place].append(job)
    for name, puts in by_place.items():
        if len(puts) > 1:
            yield site.place(name), sorted(puts, key=lambda job: job.day)


def _keeps_from(following: Job, job: Job, place: Place, puts: Iterable[Job], site: Site) -> bool:
    """Say whether a job on its last day keeps the one that follows from being done by the day it is due."""
    doses, due = _Doses(place, site), following.due or following.last
    for other in puts:
        if other.day < following.day and other is not job:
            doses.add(other, other.day, other.loose or 0.0)
    doses.add(job, job.last, job.loose or 0.0)
    return doses.opening(following, due) is not None


class _Doses:
    """What is put on a place so far, and what its ceilings leave for more."""

    def __init__(self, place: Place, site: Site) -> None:
        self.place = place
        self.used: Used = used_by(place, done(site, place))

    def add(self, job: Job, day: date, loose: float) -> None:
        """Put on what a job does, so much [loose m3] of it on a day."""
        if job.stuff is not None and loose > 0:
            dose = Application(
                place=self.place,
                day=day,
                material=job.stuff,
                loose=loose,
                dug=bool(job.dug),
                need=self.place.need(job.need),
                way=job.way,
            )
            add_use(self.used, self.place, dose)

    def opening(self, job: Job, day: date) -> Apart | None:
        """Return the first day after one on which a job's stuff may go on, or None where it may on that day.

        None too where it never may, as what is more than any twelve months take.
        """
        assert job.stuff is not None
        room = room_beside(self.place, self.place.need(job.need), job.stuff, self.used)
        wanted = depth(job.left or 0.0, self.place.total_area) if self.place.total_area else 0.0
        opens = room.opens_for(wanted, day.toordinal(), ())
        if opens is None or opens == day.toordinal():
            return None
        return Apart(date.fromordinal(opens), room.binding(day.toordinal()))
