"""What is done of a season, whole or in part: as the history tells it, and what must have come before it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Sequence
from datetime import date

from barrowful.catalogue.judgements import judgement
from barrowful.jobs.as_built import AsBuilt, go_by_built
from barrowful.jobs.digging import undug
from barrowful.jobs.errands import SOIL_TEST
from barrowful.jobs.job import BRINGS, DIG, Job
from barrowful.jobs.parts import rest_told, scale_built
from barrowful.jobs.safe import give_up
from barrowful.jobs.told import take_entries
from barrowful.site.job_names import JOINT, base_of, number_of
from barrowful.site.records import HistoryEntry, Site
from barrowful.supplies.taken import SPECK

#: Jobs that find something out, and those after which a heap is no more.
TESTS, EMPTIES = frozenset({"test", SOIL_TEST}), frozenset({"screen", "empty"})


def with_done(jobs: Sequence[Job], site: Site, as_built: AsBuilt) -> list[Job]:
    """Return jobs numbered by their days, as far as the history has them done, and what was done beside.

    What was done before the start was of another season: numbers go on from there. ``as_built`` gives the
    jobs of a heap by what was built of it.
    """
    _number(jobs, site)
    beside = take_entries(jobs, site)
    logged = [job for job in jobs if job.entries]
    there = _from_before(logged, site)
    for job in logged:
        day = min(entry.day for entry in job.entries)
        if job.done is not None:
            _done_before(job, day, there)
        elif job.bought or job.job in BRINGS:  # of what was bought some was there: it was ordered and came
            _done_before(job, day, there, job.way)
    for job in sorted(logged, key=lambda job: job.job not in BRINGS):
        if job.job in BRINGS and (job.begun or job.ended):
            _share_out(job, jobs, site)
        if job.begun:
            _go_on(job)
    scale_built(jobs)
    jobs = go_by_built(jobs, as_built)
    _end_watches(jobs)
    return [*_without_moot(jobs), *map(_beside, beside)]


def _without_moot(jobs: Sequence[Job]) -> list[Job]:
    """Return jobs without those that are of no use now; nothing waits for them."""
    if all(job.done is None for job in jobs):
        return list(jobs)
    moot = {id(job) for job in jobs if _is_moot(job, jobs)}
    left = [job for job in jobs if id(job) not in moot]
    for job in left if moot else ():
        job.after = [before for before in job.after if id(before) not in moot]
    return left


def _end_watches(jobs: Sequence[Job]) -> None:
    """Take the watch of a heap that was emptied as ended on its last reading."""
    for watch in jobs:
        if watch.goes_on and watch.done is None and watch.entries and _was_emptied(watch, jobs):
            watch.done = max(entry.day for entry in watch.entries)


def _is_moot(job: Job, jobs: Sequence[Job]) -> bool:
    """Say whether a job that nothing tells of is no use now: a test of what was used, a watch of no heap."""
    if job.entries or job.done is not None:
        return False
    if job.goes_on:
        return _was_emptied(job, jobs)
    served = [other for other in jobs if job in other.after] if job.job in TESTS else []
    return bool(served) and all(other.done is not None for other in served)


def _was_emptied(watch: Job, jobs: Sequence[Job]) -> bool:
    """Say whether the heap that is watched was emptied."""
    emptied = (job for job in jobs if job.job in EMPTIES and job.done is not None)
    return any(_goes_on_from(job, built) for job in emptied for built in watch.after)


def _goes_on_from(job: Job, other: Job) -> bool:
    """Say whether a job is a later step of the same way as another."""
    seen, steps = set[int](), [job]
    while steps:
        before = [of for of in steps.pop().after if of.way == other.way and id(of) not in seen]
        seen |= {id(of) for of in before}
        steps += before
    return id(other) in seen


def _from_before(logged: Sequence[Job], site: Site) -> frozenset[str]:
    """Return the ways of which no more was put on than was left of what came before the start."""
    put_on: dict[str, float] = defaultdict(float)
    for job in logged:
        if job.way and job.place:
            put_on[job.way] += sum(entry.loose for entry in job.entries)
    ways = {way.name: way for way in site.ways}
    came = {job.way for job in logged if job.job in BRINGS}
    return frozenset(
        name for name in put_on.keys() & ways.keys() - came if 0 < put_on[name] <= ways[name].lies_there
    )


def _done_before(job: Job, day: date, there: Container[str], way: str = "") -> None:
    """Take what a job waited for as done too, no later than a day; what the history tells of keeps its day.

    What is put on a place for another need is only better done before: it may still be to do. Of a ``way``
    it is only that way's. Of ways of which enough was ``there`` nothing had to be ordered or to come.
    """
    for before in (of for of in job.after if not of.place or of.need == job.need):
        of_it = not way or (before.way == way and not before.place)
        was_there = not before.place and before.way in there
        if before.job in TESTS:  # what was used may not have been tested
            continue
        if of_it and not was_there and not before.entries and (before.done is None or before.done > day):
            before.done = day
            _done_before(before, day, there, way)


def _share_out(short: Job, jobs: Iterable[Job], site: Site) -> None:
    """Give what came of a short delivery to jobs by their days; the others wait for the rest.

    Where all that waited for it is done, no more of it is wanted. What a heap takes of it is not known here:
    one may be begun with what came.
    """
    served = [job for job in jobs if short in job.after]
    days = [job.done for job in served if job.done is not None]
    if days and len(days) == len(served):
        short.done = short.done or max(days)
        return
    there = sum(entry.loose for entry in short.entries)
    there -= sum(entry.loose for job in served for entry in job.entries if job.place)
    for job in sorted(served, key=lambda job: (job.first, job.day)):
        wanted = job.left if job.place and job.done is None else None
        if wanted is not None and there < wanted * judgement("as_good_as_done"):
            if short.ended and there <= SPECK:
                give_up(job, jobs, f"no more of {job.way} comes; give it something else")
            else:
                job.told = (*rest_told(job, max(there, 0.0), site, short.ended), *job.told)
            there = 0.0
        else:
            there -= wanted or 0.0
            job.after = [before for before in job.after if before is not short]


def _go_on(job: Job) -> None:
    """Let the rest of a job be done when it was begun or later.

    What it puts on is there as far as it was begun; for the rest of a short delivery it may have to wait.
    """
    if job.job not in BRINGS:
        job.after = [before for before in job.after if before.place or before.begun]
    job.not_before(max(entry.day for entry in job.entries))
    if job.hours is not None:
        job.hours = job.hours.times(undug(job) if job.job == DIG else 1 - job.share_done)


def _number(jobs: Iterable[Job], site: Site) -> None:
    """Number the jobs of a name by their days, after those of that name that were done before the start."""
    counts: dict[str, int] = defaultdict(int)
    for entry in site.history:
        if entry.job and entry.day < site.start:
            base = base_of(entry.job)
            counts[base] = max(counts[base], number_of(entry.job))
    for job in sorted(jobs, key=lambda job: (job.day, job.first)):
        counts[job.base] += 1
        job.number = counts[job.base]


def _beside(entry: HistoryEntry) -> Job:
    """Return what was done and is no job of the season, as one that is done."""
    return Job(
        job=entry.job.split(JOINT)[0],
        label=entry.job,
        place=entry.place,
        way=entry.way,
        material=entry.material.name if entry.material else "",
        day=entry.day,
        first=entry.day,
        last=entry.day,
        loose=entry.loose or None,
        done=entry.day,
        entries=[entry],
    )
