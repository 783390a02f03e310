"""A job that is done in part, in words: how much of it there is, and how much is left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barrowful.catalogue.judgements import judgement
from barrowful.jobs.job import BRINGS, BUILD, Job, steps_of
from barrowful.measures.elementwise import round_up
from barrowful.measures.telling import MASS, SMALL_VOLUME, VOLUME, measured, of_count
from barrowful.site.records import Site
from barrowful.supplies.taken import SPECK


def tell_parts(jobs: Iterable[Job], site: Site) -> None:
    """Let each job that the history tells of say first how much of it that is."""
    for job in (of for of in jobs if of.entries):
        job.told = (*part_told(job, site), *job.told)


def left_told(job: Job, site: Site) -> str:
    """Return what is left of a job that was begun; nothing where it has no amount."""
    if job.loose is None or not (job.begun or job.left_off):
        return ""
    left = _amounts(job, job.loose * job.share_done, job.loose, site.labour.barrow)[2]
    return f"{left} barrow{'' if left == '1' else 's'}" if left.isdecimal() else left


def part_told(job: Job, site: Site) -> tuple[str, ...]:
    """Return a sentence on a job of which the history tells a part, or none; on one that is done as well."""
    share = f"{job.share_done:.0%}"
    if job.loose is not None and job.place and job.share_done > 2 - judgement("as_good_as_done"):
        return (_more_told(job, job.loose, site),)
    if job.loose is None or job.share_done >= 1 or share == "100%":
        return ()
    put, whole, left = _amounts(job, job.loose * job.share_done, job.loose, site.labour.barrow)
    count = site.place(job.place).count if job.place else 1
    done = f"{put} of {whole} {'came' if job.job in BRINGS else 'put on'}{of_count(job.share_done, count)}"
    if job.ended:
        return (f"{done}; no more comes.",)
    if job.left_off:
        return (f"{done}; leave out the other {left}: {job.left_off}.",)
    return (f"{done}; {left} to go." if job.begun else f"{done}; that is taken as all of it.",)


def _more_told(job: Job, loose: float, site: Site) -> str:
    """Return how much more was put on than a job has of it [m3]."""
    whole = loose * job.share_done
    more, put, planned = _amounts(job, whole - loose, whole, site.labour.barrow)
    return f"{put} put on, {more} more than the {planned} of this job: look whether that is right."


def rest_told(job: Job, there: float, site: Site, ended: bool) -> tuple[str, ...]:
    """Return a sentence on a job of which less is there [m3] than it wants, as a delivery was short.

    No more of it comes where that ``ended`` so.
    """
    if there <= SPECK:
        return ("It waits for the rest of the delivery.",)
    came, whole, left = _amounts(job, there, job.left or 0.0, site.labour.barrow)
    if ended:
        return (f"{came} of {whole} came, and no more comes: put on what there is.",)
    return (f"{came} of {whole} came and may go on; {left} wait for the rest of the delivery.",)


def scale_built(jobs: Sequence[Job]) -> None:
    """Let the later steps of a heap be of what was built of it, where that is less than was to be."""
    for built in jobs:
        share = _share_built(built)
        steps = steps_of(built, jobs) if share < 1 else []
        for step in steps:
            step.loose = None if step.loose is None else step.loose * share
            step.hours = step.hours.times(share) if step.hours else None
        _put_less_on([job for job in jobs if job.drawn], steps, share)


def _put_less_on(puts: Iterable[Job], steps: Sequence[Job], share: float) -> None:
    """Take off what is put on of a heap what a share of it does not bring; the first draw on it first."""
    there = sum((step.brings or 0.0) * share for step in steps)
    for put in sorted(puts, key=lambda job: job.day):
        wanted = sum(part.loose for part in put.drawn if part.of in steps)
        lacking = max(0.0, wanted - there)
        there = max(0.0, there - wanted)
        if lacking > SPECK and put.done is None:
            left = put.left or 0.0
            put.loose = max(SPECK, (put.loose or 0.0) - lacking)
            rest = max(0.0, put.left or 0.0)
            put.hours = put.hours.times(rest / left) if put.hours and left else put.hours
            less = f"{measured(lacking, SMALL_VOLUME, 2)} less"
            if put.entries and put.share_done >= judgement("as_good_as_done"):
                put.done = max(entry.day for entry in put.entries)
            put.told = (*put.told, f"Of a heap that it is of {share:.0%} was built: it is {less} for that.")


def built_short(jobs: Iterable[Job]) -> list[str]:
    """Return a sentence on each heap of which less was built than was to be."""
    return [
        f"{job.way}: {measured(_built(job), VOLUME, 2)} was built on {job.done}, not"
        f" {measured(job.loose or 0.0, VOLUME, 2)}, and the later steps here are of that much,"
        ' on the days that "barrowful heap" has for that batch; the rest is to come of another way.'
        for job in jobs
        if _share_built(job) < 1
    ]


def _built(job: Job) -> float:
    """Return what was built [m3], as the history has it."""
    return sum(entry.loose for entry in job.entries)


def _share_built(job: Job) -> float:
    """Return the share of a heap that was built; all of it where nothing else is told, or as good as all."""
    built = _built(job)
    short = job.job == BUILD and job.loose and 0 < built < judgement("as_good_as_done") * job.loose
    return built / job.loose if short and job.loose else 1.0


def _amounts(job: Job, put: float, whole: float, barrow: float) -> tuple[str, str, str]:
    """Return a part of a job, all of it and what is left [m3] as they are told: together they add up.

    What is weighed is told by weight, else by barrows where there are some.
    """
    stuff = next((entry.material for entry in job.entries if entry.material is not None), job.stuff)
    weighed = any(entry.weighed for entry in job.entries)
    if stuff is not None and (weighed or stuff.sort.as_sold):
        told = (measured(stuff.wet_mass(loose), MASS, 2) for loose in (put, whole, whole - put))
        return next(told), next(told), next(told)
    barrows, left = round_up(whole / barrow), round_up((whole - put) / barrow)
    if barrows > left or not put:
        return f"{barrows - left}", f"{barrows} barrows", f"{left}"
    litres = [measured(loose, SMALL_VOLUME, 2) for loose in (put, whole, whole - put)]
    return litres[0], litres[1], litres[2]
