"""What a season says: what is first, when all is ready, what is late, put off and not done."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.windows import windows
from barrowful.jobs.job import Job
from barrowful.jobs.missed import missed_told
from barrowful.jobs.parts import built_short, left_told
from barrowful.jobs.results import results_wanted
from barrowful.jobs.season import Season
from barrowful.jobs.twelve_months import put_off_told
from barrowful.jobs.year import Year

#: Slips that a sentence names, the worst first.
NAMED = 3


def headline(jobs: Iterable[Job]) -> str:
    """Return what is to be done first of some jobs, and how many there are in all."""
    left = sorted((job for job in jobs if job.done is None), key=lambda job: job.on)
    if not left:
        return "No job is to be done here."
    soon = [
        f"{job.job} {job.place or job.way or f'for {job.amount}'}" for job in left if job.on == left[0].on
    ]
    more = f" and {len(soon) - NAMED} more" if len(soon) > NAMED else ""
    count = f"{len(left):,} jobs" if len(left) > 1 else "1 job"
    hours = sum(job.likely for job in left)
    return f"First, on {left[0].on}: {', '.join(soon[:NAMED])}{more}; {count} in all, {hours:,.1f} h."


def sentences(found: Season) -> list[str]:
    """Return what is to be said of a season: when all is ready, and what cannot be kept to."""
    whole, site = found.selection.whole, found.selection.answer.site
    told = []
    if found.ready_on is not None and found.ready_on != whole.ready_on:
        told.append(
            f"With each job in its window and its week all is ready on {found.ready_on},"
            f" not on {whole.ready_on}."
        )
    told += missed_told(whole, found.jobs, NAMED)
    told += [
        *built_short(found.jobs),
        *_raw_as_built(found),
        *_of_harvests(found),
        *put_off_told(found.apart, NAMED),
        *results_wanted(found.jobs, found.site, NAMED),
    ]
    for job in found.late[:NAMED]:
        when = "there are no hours for it" if job.until == date.max else f"it is set for {job.until}"
        left = left_told(job, site)
        rest = f", {left} of it to go," if left else ""
        told.append(f'Late: "{job.name}"{rest} is wanted by {job.by}; {when}.')
    if len(found.late) > NAMED:
        told.append(f"{len(found.late) - NAMED} more jobs are late.")
    limit = site.labour.hours_per_week
    short = [week for week in found.weeks if week.lacking]
    if short and limit is not None:
        worst = max(short, key=lambda week: week.lacking)
        told.append(
            f"The week of {worst.first} lacks {worst.lacking:,.1f} h for what is due by its end;"
            f" there are {limit:g} h a week."
        )
    return [*told, *_of_rain(found)]


def on_wet_ground(found: Season) -> list[tuple[float, Job]]:
    """Return jobs on ground that may be wet, which was not looked at, and its clay: in cold months.

    So it is where more rain falls in a year than dries off, and which months it falls in is not told.
    """
    site = found.selection.answer.site
    if site.climate.rain_months or not (site.climate.balance or 0.0) > 0:
        return []
    barred = {word for window in windows() if window.condition == "wet ground" for word in window.jobs}
    cold = Year(site).cold_months
    return [
        (clay, job)
        for job in found.jobs
        if job.done is None and job.place and job.job in barred and job.on.month in cold
        for clay in [site.place(job.place).soil.clay]
        if clay is not None and clay >= judgement("holds_water")
    ]


def _raw_as_built(found: Season) -> list[str]:
    """Return which heaps are raw as they were built, and were not as they were planned."""
    planned = found.selection.answer.supplies
    raw = [name for name, heap in found.as_built.items() if heap.material.has("raw")]
    return [
        f"{name}: nothing says that all of it gets hot as it was built, so what is put on of it waits for a"
        " harvest as raw manure does."
        for name in raw
        if not planned[name].material.has("raw")
    ]


def _of_rain(found: Season) -> list[str]:
    """Return that wet ground was not looked at, where it may be."""
    return [
        f'Wet ground was not looked at: "{job.name}" is set for {job.on} on {clay:.0%} clay, and more rain'
        " falls in a year than dries off. Write the months of rain (climate.rain_months), and it waits for"
        " drier ground."
        for clay, job in on_wet_ground(found)[:1]
    ]


def _of_harvests(found: Season) -> list[str]:
    """Return what waits until a crop is off, and what is not done as that is too late for it."""
    told = [
        f'Put off: "{job.name}" is not done by {by}, the last safe day ahead of the harvest;'
        f" it waits until {job.first}, when the crop is off."
        for job, by in found.put_off[:NAMED]
    ]
    site = found.selection.answer.site
    undone = [(f'"{job.name}"', job.dropped) for job in found.dropped if job.stuff is not None]
    undone += [
        (f'{left_told(job, site)} of "{job.name}"', job.left_off)
        for job in found.jobs
        if job.stuff is not None and job.left_off
    ]
    told += [f"Not done: {what}: {why}." for what, why in undone[:NAMED]]
    more = max(0, len(found.put_off) - NAMED) + max(0, len(undone) - NAMED)
    return [*told, f"So it is with {more} more jobs."] if more else told
