"""Which job of a season an entry of the history tells of."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.jobs.digging import at_once, dig_to_the_end
from barrowful.jobs.job import BRINGS, BUILD, DIG, Job
from barrowful.needs.registry import NEEDS
from barrowful.site.job_names import BROUGHT, BUILT, TURNED, first_word, number_of
from barrowful.site.records import HistoryEntry, Site
from barrowful.soil.seasons import season_of

#: The season's words for what is done to a heap.
OF_HEAPS = {BUILT: BUILD, TURNED: "turn"}
#: What an entry goes by, and what it may go by to be of a job.
Key = tuple[str, ...]
#: The first word of a key of what is put on a place.
WAY, STUFF = "way", "stuff"


def take_entries(jobs: Sequence[Job], site: Site) -> list[HistoryEntry]:
    """Give each job what the history tells of it since the start; return what names a job and is of none.

    A name with its number tells of that job. Else an entry is of the first job in time that goes by its
    name, by its word and its way, or by the same stuff on the same place, and is not done yet.
    """
    since = _since(site)
    if not since:
        return []
    waiting: dict[Key, list[Job]] = defaultdict(list)
    for job in sorted(jobs, key=lambda job: (job.day, job.number)):
        for key in _keys_of(job):
            waiting[key].append(job)
    beside = []
    for entry in since:
        jobs_told = (job for key in _keys_to(entry) for job in _of_key(waiting[key], key, entry, site))
        found = next(jobs_told, None)
        if found is not None:
            found.entries.append(entry)
            if entry.loose or not number_of(entry.job):  # beside a part, hours under its name are of that
                _end(found)
        elif entry.job:
            beside.append(entry)
    for job in jobs:
        _end(job)
    for dig in (job for job in jobs if job.job == DIG and job.done is None):
        dig.done = next((spread.done for spread in dig.after if _was_dug_in(spread)), None)
    dig_to_the_end(jobs)
    return beside


def _was_dug_in(spread: Job) -> bool:
    """Say whether all that the history has of what is spread was dug in at once, as it says."""
    told = [entry for entry in spread.entries if entry.loose]
    return spread.done is not None and bool(told) and all(at_once(entry) for entry in told)


def _end(job: Job) -> None:
    """Take a job as done whose entries come to as good as all of it, or say that no more comes."""
    if job.done is None and job.entries and (job.ended or job.share_done >= judgement("as_good_as_done")):
        job.done = max(of.day for of in job.entries)


def _since(site: Site) -> list[HistoryEntry]:
    """Return the entries from the start on: those that name a job with its number first, then amounts."""
    entries = [entry for entry in site.history if entry.day >= site.start and not entry.again]
    return sorted(entries, key=lambda entry: (number_of(entry.job) == 0, not entry.loose, not entry.job))


def _keys_of(job: Job) -> Iterator[Key]:
    """Yield what an entry of a job may go by."""
    yield (job.name,)
    yield (job.base,)
    if not job.goes_on:
        yield _word(job.job), job.place, job.way
    if job.place and job.loose:
        yield WAY, job.place, job.way
        yield STUFF, job.place, job.material


def _keys_to(entry: HistoryEntry) -> Iterator[Key]:
    """Yield what an entry goes by, the nearest first."""
    if entry.job:
        yield (entry.job,)
        yield OF_HEAPS.get(entry.deed) or _word(entry.job.casefold()), entry.place, entry.way
    if entry.place and entry.way and entry.loose:
        yield WAY, entry.place, entry.way
    elif entry.place and entry.material is not None:
        yield STUFF, entry.place, entry.material.name


def _word(job: str) -> str:
    """Return the word of a job; what is collected is brought as well, whatever is said of it beside."""
    return BRINGS[0] if first_word(job) in BROUGHT else job


def _of_key(jobs: Sequence[Job], key: Key, entry: HistoryEntry, site: Site) -> Iterator[Job]:
    """Yield the job of a key that an entry is of, where one is.

    Stuff that goes on nearer to where it was put on last than to the next time is more of the last.
    """
    if key == (entry.job,) and number_of(entry.job):
        yield from jobs
        return
    for job in jobs:
        if job.done is None and _in_time(job, entry, site):
            ahead = job.first - entry.day
            more = key[0] in {WAY, STUFF} and not job.entries
            if not (more and any(abs(entry.day - of.done) < ahead for of in jobs if of.done is not None)):
                yield job
            return


def _in_time(job: Job, entry: HistoryEntry, site: Site) -> bool:
    """Say whether an entry may be of a job by its day: not long before it, nor when its season is over."""
    over = job.need and NEEDS[job.need].by_season and season_of(site, entry.day) > season_of(site, job.day)
    return not over and job.first - entry.day <= judged_time("done_early")
