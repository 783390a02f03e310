"""A layer that is laid late lasts as much longer: it is topped up later, and not before it is there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, timedelta

from barrowful.jobs.job import Job
from barrowful.jobs.trips import bring_in_time
from barrowful.needs.registry import NEEDS


def top_up_later(jobs: Sequence[Job], today: date | None, end: date) -> None:
    """Let a layer be topped up as much later as it is laid late, being done on a day or to do from today on.

    What would top it up beyond the horizon's end is not done: nothing is to be kept up by then.
    """
    by_layer: dict[tuple[str, str], list[Job]] = defaultdict(list)
    for job in jobs:
        if job.stuff is not None and job.need and len(set(NEEDS[job.need].jobs)) > 1:
            by_layer[job.place, job.need].append(job)
    late = [_put_off(sorted(layer, key=lambda job: job.day), today, end) for layer in by_layer.values()]
    if any(late):
        bring_in_time(jobs)


def _put_off(layer: Sequence[Job], today: date | None, end: date) -> timedelta:
    """Put off what tops up a layer, of jobs by their days, and say how long; each is after those before."""
    late, there = timedelta(), list[Job]()
    for job in layer:
        if _tops_up(job) and job.done is None and not job.entries:
            job.put_off(late)
            job.after = list(dict.fromkeys((*job.after, *there)))
            if late and job.first >= end:
                job.dropped = f"the layer is laid {late.days} days late and lasts to the end of the horizon"
        if not job.dropped:
            there.append(job)
        laid = job.done or today
        late = max(late, laid - job.by) if laid is not None and not job.dropped else late
    return late


def _tops_up(job: Job) -> bool:
    return job.job == NEEDS[job.need].jobs[1]
