"""Jobs that bear on each other: a feed goes under a mulch, lime is kept from manure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, timedelta
from itertools import product

from barrowful.catalogue.judgements import judged_time
from barrowful.jobs.job import DIG, Job
from barrowful.needs.registry import NEEDS
from barrowful.site.grown import fed_once_picked
from barrowful.site.records import Site
from barrowful.soil.history import done


def feed_under_mulch(jobs: Iterable[Job], site: Site) -> None:
    """Let a mulch wait for the next feed of its place that may be done, and tested, about then: under it.

    For that it waits as long again as a job may, where it is not due before. Such a feed may wait no longer.
    What is fed once it is picked has its mulch under the fruit by then.
    """
    by_place, dug = _put_on(jobs)
    for name, put in by_place.items():
        if fed_once_picked(site.place(name)):
            continue
        for mulch in (job for job in put if job.need == "cover"):
            fed = [job for job in put if job.need == "feed" and mulch.first <= job.last]
            latest = min(mulch.due or date.max, mulch.last + judged_time("job_waits"))
            feeds = [job for job in fed if _soonest(job) <= latest and not _waits_for(job, mulch)]
            near = max(min((job.day for job in feeds), default=mulch.last), mulch.last)
            for feed in (job for job in feeds if job.day <= near):
                mulch.last = latest if _soonest(feed) > mulch.last else mulch.last
                work = dug.get(id(feed), feed)
                for job in (feed, work):
                    job.last = min(job.last, mulch.last)
                mulch.first = max(mulch.first, _soonest(feed))
                mulch.after = [*mulch.after, work]


def dig_before_mulch(jobs: Iterable[Job]) -> None:
    """Let a cover wait for all that is dug in on its place about then, also where that is due later.

    About then is to some weeks after the cover may be laid first: else it would be dug through, or raked off.
    """
    by_place, dug = _put_on(jobs)
    for put in by_place.values():
        digs = [dug[id(job)] for job in put if id(job) in dug]
        for cover in (job for job in put if job.need == "cover" and not job.dug):
            until = cover.first + judged_time("dug_before_cover")
            for dig in (job for job in digs if job.first <= until and not _waits_for(job, cover)):
                cover.first = max(cover.first, _soonest(dig))
                latest = dig.last if cover.due is None else cover.last
                cover.last = max(cover.last, cover.first, latest)
                cover.after = list(dict.fromkeys((*cover.after, dig)))


def mix_as_they_go_in(jobs: Iterable[Job]) -> None:
    """Let what makes the ground of a place together go in on the same days, from the first to the last."""
    mixes: dict[tuple[str, str, date], list[Job]] = defaultdict(list)
    for job in jobs:
        if job.stuff is not None and job.done is None and NEEDS[job.need].makes_ground:
            mixes[job.place, job.need, job.day].append(job)
    for mixed in mixes.values():
        on, until = min(job.on for job in mixed), max(job.until for job in mixed)
        for job in mixed:
            job.on, job.until = on, until


def _soonest(job: Job) -> date:
    """Return the first day a job may be done on, once what it waits for is, tests for one."""
    return max([job.first, *(before.first + timedelta(days=before.lag) for before in job.after)])


def _waits_for(job: Job, other: Job) -> bool:
    """Say whether a job waits for another, or for what waits for it."""
    return any(before is other or _waits_for(before, other) for before in job.after if before.place)


def keep_lime_apart(jobs: Iterable[Job]) -> None:
    """Keep lime and manure on a place apart: the second waits, or where it cannot, it is told."""
    by_place, dug = _put_on(jobs)
    for put in by_place.values():
        for pair in product(*_limes_and_manures(put)):
            first, second = sorted(pair, key=lambda job: (job.first, job.day))
            _apart(dug.get(id(first), first), second)


def wait_for_done(jobs: Iterable[Job], site: Site) -> None:
    """Let lime and manure wait for what was done of the other on their place, and say so."""
    by_place, dug = _put_on(jobs)
    for name, put in by_place.items():
        limes, manures = _limes_and_manures(put)
        history = done(site, site.place(name)) if limes or manures else []
        limed = [dose.day for dose in history if dose.material.class_ == "lime"]
        mucked = [dose.day for dose in history if dose.material.is_fresh_manure]
        for waiting, others, days in ((limes, manures, mucked), (manures, limes, limed)):
            works = [work for job in others for work in (job, dug.get(id(job), job))]
            days += [work.done for work in works if work.done is not None]
            for job in waiting if days else ():
                _wait_from(job, max(days))


def _limes_and_manures(put: Iterable[Job]) -> tuple[list[Job], list[Job]]:
    """Return the jobs that put on lime, and those that put on fresh manure."""
    stuffs = [(job, job.stuff) for job in put if job.stuff is not None]
    limes = [job for job, stuff in stuffs if stuff.class_ == "lime"]
    return limes, [job for job, stuff in stuffs if stuff.is_fresh_manure]


def _put_on(jobs: Iterable[Job]) -> tuple[dict[str, list[Job]], dict[int, Job]]:
    """Return the jobs that put something on by place, and what digs in what each of them spreads."""
    by_place: dict[str, list[Job]] = defaultdict(list)
    dug: dict[int, Job] = {}
    for job in jobs:
        if job.place and job.stuff is not None and not job.dropped:
            by_place[job.place].append(job)
        elif job.job == DIG:
            dug |= {id(spread): job for spread in job.after}
    return by_place, dug


def _apart(first: Job, second: Job) -> None:
    """Let a job wait long enough after another, where it may wait so long."""
    days = judged_time("lime_and_manure")
    if second.first - first.last >= days:
        return
    if first.first + days <= second.last:
        first.lag = max(first.lag, days.days)
        second.after = [*second.after, first]
    else:
        _tell_apart(second)


def _wait_from(job: Job, day: date) -> None:
    """Let a job that is to do wait long enough after a day."""
    opens = day + judged_time("lime_and_manure")
    if job.done is None and opens > job.first:
        job.not_before(opens)
        _tell_apart(job)


def _tell_apart(job: Job) -> None:
    """Say of a job that lime and manure are kept apart, once."""
    days = judged_time("lime_and_manure").days
    told = f"Lime and manure lose nitrogen together: keep {days} days between them."
    job.told = tuple(dict.fromkeys((*job.told, told)))
