"""What one seller brings on one trip: it is there on one day, in time for all that it is for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from barrowful.jobs.errands import AHEAD, before
from barrowful.jobs.job import BRINGS, MAKES, Job
from barrowful.jobs.levelling import due_days
from barrowful.measures.text import all_of


def bring_in_time(jobs: Iterable[Job]) -> None:
    """Let what is bought come when it is put on first, where that has to wait for its days.

    What comes on one trip comes on one day: the last of those first days that leaves each other of it time.
    """
    every = list(jobs)
    served = _served(every)
    for trip in _trips(every):
        wanted = [put for came in trip for put in served[id(came)]]
        firsts = [_wanted_from(came, served[id(came)]) for came in trip]
        latest = min((put.last for put in wanted if not put.dropped), default=date.max)
        day = max((first for first in firsts if first <= latest), default=min(firsts))
        for came in trip:
            _put_off(came, day - came.first)


def come_together(jobs: Sequence[Job]) -> None:
    """Let what comes together wait for all its orders; what is fetched on one trip is used after it.

    What has to lie until it may be put on is told with the day.
    """
    served = _served(jobs)
    for trip in _trips(jobs):
        if len(trip) == 1:
            continue
        day = max(_there(came) for came in trip)
        for came in trip:
            came.not_before(day)
            _tell_how_long_it_lies(came, served[id(came)], trip)
            for put in served[id(came)] if _is_fetched_at_once(trip) else ():
                put.after = list(dict.fromkeys((*put.after, *trip)))


def no_later_than_used(jobs: Sequence[Job]) -> None:
    """Let stuff be brought, cut or taken from a heap no later than what is done with it allows.

    It has its first day at the least.
    """
    due = due_days(jobs)
    for job in jobs:
        if job.job in {*BRINGS, *MAKES} and job.done is None and due[id(job)] < job.by:
            job.due = max(due[id(job)], min(job.first, job.by))


def on_one_day(jobs: Sequence[Job]) -> None:
    """Let what comes on one trip come on the days it is fetched on."""
    for trip in filter(_is_fetched_at_once, _trips(jobs)):
        on, until = max(came.on for came in trip), max(came.until for came in trip)
        for came in trip:
            came.on, came.until = on, until


def _trips(jobs: Iterable[Job]) -> Iterable[list[Job]]:
    """Return what brings something and nothing came of yet, by seller and the plan's day."""
    trips: dict[tuple[object, date], list[Job]] = defaultdict(list)
    for job in jobs:
        if job.job in BRINGS and job.done is None and not job.entries:
            trips[job.sold_by, job.day].append(job)
    return trips.values()


def _is_fetched_at_once(trip: Sequence[Job]) -> bool:
    """Say whether what comes together is fetched on one trip, in hours of one's own."""
    return len(trip) > 1 and sum(came.trips for came in trip) == 1 and any(came.hours for came in trip)


def _served(jobs: Iterable[Job]) -> dict[int, list[Job]]:
    """Return what is still to do and waits for each job that brings something."""
    served: dict[int, list[Job]] = defaultdict(list)
    for job in (job for job in jobs if job.done is None):
        for brings in job.after:
            if brings.job in BRINGS:
                served[id(brings)].append(job)
    return served


def _wanted_from(came: Job, served: Iterable[Job]) -> date:
    """Return the first day on which something of what is brought may be used, no sooner than it comes."""
    return max(came.first, min((job.first for job in served), default=came.first))


def _put_off(came: Job, later: timedelta) -> None:
    """Let what is brought come later, and be asked about and ordered for that day."""
    if later <= timedelta():
        return
    came.put_off(later)
    for ordered in came.after:
        for job in (ordered, *ordered.after) if ordered.done is None else ():
            soonest = job.first
            job.put_off(later)
            job.first = before(job.last, AHEAD[job.job], soonest)


def _there(came: Job) -> date:
    """Return the first day on which something can come, as it is ordered and tested."""
    days = [came.first]
    for ordered in came.after:
        tested = (job.first + timedelta(days=job.lag) for job in ordered.after)
        days.append(max(ordered.first, *tested, ordered.first) + timedelta(days=came.gap))
    return max(days)


def _tell_how_long_it_lies(came: Job, served: Iterable[Job], trip: Iterable[Job]) -> None:
    """Say of what comes with something else that it lies, where none of it may be used when it comes."""
    wanted = _wanted_from(came, served)
    if wanted > came.last:
        ways = all_of([of.way for of in trip if of is not came])
        came.told = (*came.told, f"It comes with {ways} and lies until {wanted}.")
