"""What is done of a season: jobs that the history names, and the numbers of all of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from barrowful.jobs.job import JOINT, Job
from barrowful.site.records import HistoryEntry, Site


def with_done(jobs: Sequence[Job], site: Site) -> list[Job]:
    """Return jobs numbered by their days, those that the history names as done, and what was done beside.

    An entry from the start on does a job of its name, or of that name without its number the first that is
    not done; one without a name does the first job that puts the same on the place it names. What was done
    before the start was of another season: numbers go on from there.
    """
    _number(jobs, site)
    waiting: dict[tuple[str, ...], list[Job]] = defaultdict(list)
    for job in sorted(jobs, key=lambda job: (job.day, job.number)):
        for key in _keys_of(job):
            waiting[key].append(job)
    beside, named = list[Job](), set[int]()
    for entry in _since(site):
        found = next((job for job in waiting[_key_of(entry)] if job.done is None), None)
        if found is not None:
            found.done, found.spent = entry.day, entry.hours
            named.add(id(found))
        elif entry.job:
            beside.append(_beside(entry))
    for job in [job for job in jobs if job.done is not None]:
        _done_before(job, job.done or job.day, named)
    return [*jobs, *beside]


def _done_before(job: Job, day: date, named: set[int]) -> None:
    """Take what a job that is done waited for as done too, no later than it; what is named keeps its day.

    What is put on a place for another need is only better done before: it may still be to do.
    """
    for before in (of for of in job.after if not of.place or of.need == job.need):
        if id(before) not in named and (before.done is None or before.done > day):
            before.done = day
            _done_before(before, day, named)


def _keys_of(job: Job) -> list[tuple[str, ...]]:
    """Return what an entry of a job may go by: its name, that without number, or what it puts on a place."""
    named = [(job.name,), (job.base,)]
    puts = bool(job.place and job.loose)
    return [*named, ("way", job.place, job.way), ("stuff", job.place, job.material)] if puts else list(named)


def _key_of(entry: HistoryEntry) -> tuple[str, ...]:
    """Return what an entry goes by: the name of its job, or else what was put on a place."""
    if entry.job:
        return (entry.job,)
    if entry.way:
        return "way", entry.place, entry.way
    return "stuff", entry.place, entry.material.name if entry.material else ""


def _since(site: Site) -> list[HistoryEntry]:
    """Return the entries from the start on; the nearer they name a job the sooner."""
    entries = [entry for entry in site.history if entry.day >= site.start]
    return sorted(entries, key=lambda entry: (not entry.job, number_of(entry.job) == 0))


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


def base_of(name: str) -> str:
    """Return the name of a job without its number.

    >>> base_of("mulch, young trees, cover, lane chip, 2"), base_of("hoe the beds")
    ('mulch, young trees, cover, lane chip', 'hoe the beds')
    """
    head, joint, number = name.rpartition(JOINT)
    return head if joint and number.isdigit() else name


def number_of(name: str) -> int:
    """Return the number at the end of the name of a job; nothing where there is none.

    >>> number_of("mulch, young trees, cover, lane chip, 2"), number_of("hoe the beds")
    (2, 0)
    """
    return int(name.rpartition(JOINT)[2]) if base_of(name) != name else 0


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
        spent=entry.hours,
    )
