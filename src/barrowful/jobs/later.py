"""What a first screen says of its days: what the season has later, why, and when all is ready by it."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from barrowful.answers.choices import WholeSite
from barrowful.answers.order_lines import OrderLine
from barrowful.answers.orders import Selection, every_line
from barrowful.answers.ways_told import named
from barrowful.catalogue.judgements import judged_time
from barrowful.jobs.job import Job
from barrowful.jobs.season import Season, as_followed
from barrowful.jobs.season_told import on_wet_ground
from barrowful.jobs.tested import TEST
from barrowful.needs.registry import NEEDS

#: What is put on later that an order sheet tells at once; a first screen has room for one.
ON_ORDERS = 3
#: Doses of a site whose season is gone through for a first screen: of more it would take as long as the rest.
MOST_DOSES = 1000
TOO_MANY = 'Days are those on which it may be put on; "season" has what frost, wet ground and tests put off.'


def later_told(whole: WholeSite) -> tuple[str, ...]:
    """Return what the season of what is followed has later than it says, and what there it cannot test."""
    if _is_too_large(whole):
        return (TOO_MANY,)
    return later_of(as_followed(Selection(whole, [], []), every_line(whole)))


def later_on_orders(chosen: Selection, lines: Sequence[OrderLine]) -> tuple[str, ...]:
    """Return what the season of an order sheet has later than it says."""
    return (TOO_MANY,) if _is_too_large(chosen.whole) else later_of(as_followed(chosen, lines), ON_ORDERS)


def _is_too_large(whole: WholeSite) -> bool:
    return len(whole.together.all_doses) > MOST_DOSES


def later_of(found: Season, most: int = 1) -> tuple[str, ...]:
    """Return what goes on later than the plan has it, as the ground bars it or by weeks, and what is unknown.

    That is whether ground is wet, and what a test would show that there is no time for.
    """
    return (*_dropped(found), *_later(found, most), *_on_wet_ground(found), *_untested(found.jobs))


def _later(found: Season, most: int) -> Iterator[str]:
    """Yield a sentence on what goes on later, where anything does: that which is barred first."""
    by_kind: dict[tuple[str, str], list[Job]] = defaultdict(list)
    for job in _first(found.jobs):
        if job.barred or job.on - job.day > judged_time("later_told"):
            by_kind[job.need, _by(job)].append(job)
    waiting = sorted(by_kind.values(), key=lambda jobs: (not jobs[0].barred, jobs[0].day - jobs[0].on))
    if not waiting:
        return
    why = list(dict.fromkeys(reason for jobs in waiting for reason in _reasons(jobs[0])))
    told = [_moved(jobs, ordered=bool(why)) for jobs in waiting[:most]]
    more = f", and {len(waiting) - most} more" if len(waiting) > most else ""
    ready = f"; all is ready {found.ready_on}" if found.ready_on and (why or _much_later(found)) else ""
    because = f", as {', then '.join(why)}" if why else " (tests, fit weeks)"
    yield f'Later by "season"{because}: {"; ".join(told)}{more}{ready}.'


def _dropped(found: Season) -> Iterator[str]:
    """Yield a sentence on what its windows leave no safe day for, where anything is so."""
    dropped = [job for job in found.dropped if job.stuff is not None]
    if dropped:
        job, more = dropped[0], f" (and {len(dropped) - 1} more)" if len(dropped) > 1 else ""
        yield f'Not done by "season": {job.need} {job.place}{_by(job)}: {job.dropped}{more}.'


def _much_later(found: Season) -> bool:
    """Say whether all is ready so much later by a season that it is told."""
    plan = found.selection.whole.ready_on
    return bool(plan and found.ready_on and found.ready_on - plan > judged_time("later_told"))


def _first(jobs: Iterable[Job]) -> list[Job]:
    """Return what is put on of each way first for each need, and all that the ground bars, by their days."""
    puts = sorted(
        (job for job in jobs if job.stuff is not None and job.done is None), key=lambda job: (job.day, job.on)
    )
    first: dict[tuple[str, str], date] = {}
    for job in puts:
        first.setdefault((job.need, job.way), job.day)
    return [job for job in puts if job.barred or job.day == first[job.need, job.way]]


def _moved(jobs: list[Job], ordered: bool) -> str:
    """Return what is put on when, not when the plan has it, and by when it is ``ordered`` for that.

    What is ordered once a sample is tested is told with that day too.
    """
    job, day = jobs[0], jobs[0].day
    where = named(of.place for of in jobs if of.day == day)
    orders = [order for of in jobs for came in of.after for order in came.after if order.job == "order"]
    by = [order.by for order in orders if ordered or any(before.job == TEST for before in order.after)]
    ordering = f" (order by {min(by)})" if by else ""
    return f"{job.need} {where}{_by(job)} {job.on}, not {day}{ordering}"


def _by(job: Job) -> str:
    """Return by what way a job is told to be done; nothing where several ways go together."""
    return "" if NEEDS[job.need].makes_ground else f" by {job.way}"


def _reasons(job: Job) -> list[str]:
    """Return what bars a job, in short."""
    return [re.split("[:;(]", text)[0].strip() for text in job.barred]


def _on_wet_ground(found: Season) -> Iterator[str]:
    """Yield a sentence on work on ground that may be wet, where nothing says when it is."""
    for clay, job in on_wet_ground(found)[:1]:
        told = f"{job.job} {job.place} {job.on}, {clay:.0%} clay"
        yield f"Wet ground was not looked at ({told}): write climate.rain_months."


def _untested(jobs: Iterable[Job]) -> Iterator[str]:
    """Yield a sentence on what is put on before it can be tested, where anything is."""
    short = [job for job in _first(jobs) if job.untested and job.bought]
    if short:
        ways = named(job.way for job in short)
        days = max(job.untested for job in short)
        yield f"No time for a test of {days} days: ask for the result of one ({ways})."
