"""A heap that was built: its later steps go by what was built and when, as its batch is reckoned."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import date

from barrowful.jobs.job import BUILD, Job, steps_of

#: The sorts of steps of a heap: its heat is read, it is turned, and it is emptied, screened or not.
WATCH, TURN, EMPTY = "temperature", "turn", "empty"
#: Gives the jobs of a heap that was built by what was built of it, that to build it first.
AsBuilt = Callable[[Job], Sequence[Job]]


def go_by_built(jobs: Sequence[Job], as_built: AsBuilt) -> list[Job]:
    """Move the later steps of heaps that were built to their days; return jobs without what they do not ask.

    A heap too small to gain by it is not turned and no heat of it is read. What was done of that stays.
    """
    gone: dict[int, Job] = {}
    for built in jobs:
        if built.job == BUILD and built.done is not None and built.entries:
            gone |= _move(built, steps_of(built, jobs), as_built(built)[1:])
    left = [job for job in jobs if id(job) not in gone]
    for job in left if gone else ():
        job.after = list(dict.fromkeys(_that_stays(before, gone) for before in job.after))
    _into_free_rooms(left)
    return left


def _move(built: Job, steps: Iterable[Job], anew: Iterable[Job]) -> dict[int, Job]:
    """Give the steps of a heap the windows of those of its batch; return those it has none of, with the last.

    Turns are as far apart as it is turned, and it is compost on the day of its batch, however late the last
    of them was. It is turned no more often than it was to be.
    """
    coming: dict[str, list[Job]] = defaultdict(list)
    for job in anew:
        coming[_sort(job)].append(job)
    last, gone = built, dict[int, Job]()
    turned = built_on = built.done or built.first
    for step in steps:
        sort = _sort(step)
        own = coming[sort].pop(0) if coming[sort] else None
        if own is None and step.done is None and not step.entries:
            gone[id(step)] = last
            continue
        if own is not None:
            since = {WATCH: built_on, TURN: turned, EMPTY: last.done or turned}[sort]
            _set(step, own, (own.day - since).days)
            turned = own.day if sort == TURN else turned
        last = last if sort == WATCH else step
    return gone


def _sort(job: Job) -> str:
    """Return which sort of a step of a heap a job is."""
    return WATCH if job.goes_on else TURN if job.job == TURN else EMPTY


def _set(step: Job, own: Job, gap: int) -> None:
    """Give a step that is to do the window of another, so many days after what it goes on from."""
    if step.done is None:
        step.first, step.last, step.due, step.told, step.gap = own.first, own.last, None, own.told, gap


def _that_stays(job: Job, gone: dict[int, Job]) -> Job:
    while id(job) in gone:
        job = gone[id(job)]
    return job


def _into_free_rooms(jobs: Sequence[Job]) -> None:
    """Let each heap that is to be built wait for the room that is free first, where steps have moved."""
    by_way: dict[str, list[Job]] = defaultdict(list)
    for job in jobs:
        if job.job == BUILD:
            by_way[job.way].append(job)
    for builds in by_way.values():
        ends = list[Job]()
        for build in sorted(builds, key=lambda job: job.day):
            freed, free_on = {id(end): place for place, end in enumerate(ends)}, sorted(ends, key=_ends_on)
            if build.done is None:
                build.after = [free_on[freed[id(of)]] if id(of) in freed else of for of in build.after]
            ends.append((steps_of(build, jobs) or [build])[-1])


def _ends_on(end: Job) -> date:
    return end.done or end.first
