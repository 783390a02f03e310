"""Of which batch what is put on is drawn: the earliest first, what lies there from before the start too."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from barrowful.jobs.job import Drawn, Job
from barrowful.jobs.puts import Put
from barrowful.supplies.lot import Lot
from barrowful.supplies.taken import SPECK


class Wanted(NamedTuple):
    """What is drawn of a way on a day [m3]; ``put`` is the number of what puts it on, None for all else."""

    day: date
    loose: float
    put: int | None = None


class _Batch(NamedTuple):
    """A lot [m3] from a day on, and the job that makes it; None where it was made before the start."""

    day: date
    loose: float
    of: Job | None


def drawn_by(
    puts: Sequence[Put], brought: Mapping[str, Iterable[Job]], passed: Mapping[str, Iterable[Wanted]]
) -> dict[int, list[Drawn]]:
    """Return by the number of each put of a heap what it draws of the jobs that make its stuff.

    ``brought`` has the jobs that bring or make the stuff of each way, ``passed`` what others draw of it.
    """
    drawn: dict[int, list[Drawn]] = {}
    wanted: dict[str, list[Wanted]] = defaultdict(list)
    for number, put in enumerate(puts):
        wanted[put.supply.name].append(Wanted(put.day, put.loose, number))
    supplies = {put.supply.name: put.supply for put in puts}
    for way, own in wanted.items():
        if makes := [job for job in brought.get(way, ()) if job.brings is not None]:
            drawn |= _drawn_of(supplies[way].there(date.max), makes, [*own, *passed.get(way, ())])
    return drawn


def _drawn_of(there: Iterable[Lot], makes: Sequence[Job], wanted: Iterable[Wanted]) -> dict[int, list[Drawn]]:
    """Return what each put draws of the jobs that make it; nothing of what was ``there`` before.

    What is more than all of them make is of batches that come again, and waits for the last.
    """
    batches = [
        *(_Batch(*lot, None) for lot in there),
        *(_Batch(job.day, job.brings or 0.0, job) for job in makes),
    ]
    batches.sort(key=lambda batch: batch.day, reverse=True)
    drawn: dict[int, list[Drawn]] = {}
    batch, left = None, 0.0
    for each in sorted(wanted, key=lambda each: each.day):
        short, own = each.loose, list[Drawn]()
        while short > SPECK and (left > SPECK or batches):
            if left <= SPECK:
                batch = batches.pop()
                left = batch.loose
            part = min(left, short)
            left, short = left - part, short - part
            if batch is not None and batch.of is not None:
                own.append(Drawn(batch.of, part))
        if short > SPECK:
            own.append(Drawn(max(makes, key=lambda job: job.day), 0.0))
        if each.put is not None:
            drawn[each.put] = own
    return drawn


def last_until(jobs: Sequence[Job], day: date) -> Job | None:
    """Return the last of some jobs that is there by a day, or the first of all."""
    there = [job for job in jobs if job.day <= day]
    return max(there, key=lambda job: job.day, default=min(jobs, key=lambda job: job.day, default=None))
