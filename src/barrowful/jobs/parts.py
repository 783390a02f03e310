"""A job that is done in part, in words: how much of it there is, and how much is left."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.catalogue.judgements import judgement
from barrowful.jobs.job import BRINGS, BUILD, Job
from barrowful.measures.elementwise import round_up
from barrowful.measures.telling import MASS, SMALL_VOLUME, VOLUME, measured, of_count
from barrowful.site.records import Site
from barrowful.supplies.taken import SPECK


def part_told(job: Job, site: Site) -> tuple[str, ...]:
    """Return a sentence on a job of which the history tells a part, or none; on one that is done as well."""
    share = f"{job.share_done:.0%}"
    if job.loose is None or job.share_done >= 1 or share == "100%":
        return ()
    put, whole, left = _amounts(job, job.loose * job.share_done, job.loose, site.labour.barrow)
    count = site.place(job.place).count if job.place else 1
    done = f"{put} of {whole} {'came' if job.job in BRINGS else 'put on'}{of_count(job.share_done, count)}"
    if job.ended:
        return (f"{done}; no more comes.",)
    return (f"{done}; {left} to go." if job.begun else f"{done}; that is taken as all of it.",)


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


def built_short(jobs: Iterable[Job]) -> list[str]:
    """Return a sentence on each heap of which less was built than was to be; its later jobs are of all."""
    told = []
    for job in jobs:
        built, whole = sum(entry.loose for entry in job.entries), job.loose or 0.0
        if job.job == BUILD and 0 < built < judgement("as_good_as_done") * whole:
            told.append(
                f"{job.way}: {measured(built, VOLUME, 2)} was built on {job.done}, not"
                f" {measured(whole, VOLUME, 2)}, and what comes after it here is still of a whole heap."
                ' "barrowful heap" has what that batch brings and when; the rest is to come of another way.'
            )
    return told


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
