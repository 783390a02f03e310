"""Digging in what is spread, and the mulch that is raked aside before it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Any

from barrowful.answers.costs import digging_hours
from barrowful.catalogue.judgements import judgement
from barrowful.jobs.job import DIG, Job
from barrowful.jobs.puts import Put
from barrowful.measures.telling import DEPTH, measured
from barrowful.site.job_names import number_of
from barrowful.site.records import HistoryEntry, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.soil.pools import Mulch
from barrowful.supplies.lot import YEAR

#: What is said of what is not dug in to its end.
REST = "What was spread by {} is dug in; dig the rest in once it is spread."
#: What is said of what is dug in with something else.
TOGETHER = "It is dug in with what else is dug in here for the same day, in its hours."


def digging(site: Site, put: Put, spread: Job, about: dict[str, Any], laid: Sequence[Application]) -> Job:
    """Return the job that digs in what is spread; no hours are counted twice for what is dug in together.

    ``laid`` is all that is put on the place by what is followed.
    """
    hours = digging_hours(put.doses)
    told = ("" if hours.high else TOGETHER, _rake_aside(site, put, laid))
    return Job(
        **about,
        job=DIG,
        first=spread.first,
        last=spread.last,
        due=spread.due,
        hours=hours if hours.high else None,
        told=tuple(filter(None, told)),
        after=[spread],
        serves=put.servings,
    )


def undug(dig: Job) -> float:
    """Return the share of what is spread that is not dug in yet, of digging that the history tells of.

    That is what is still to be spread, and what was spread after it was dug last, and not dug in at once.
    """
    last = max(entry.day for entry in dig.entries)
    for spread in (of for of in dig.after if of.entries and of.loose):
        later = sum(entry.loose for entry in spread.entries if entry.day > last and not at_once(entry))
        to_come = (spread.left or 0.0) if spread.done is None else 0.0
        return (later + to_come) / (spread.loose or 1.0)
    return 0.0


def at_once(entry: HistoryEntry) -> bool:
    """Say whether what an entry tells of was dug in at once.

    What names the job with its number is of spreading alone: digging in has a name of its own.
    """
    return bool(entry.dug) and not number_of(entry.job)


def dig_to_the_end(jobs: Iterable[Job]) -> None:
    """Let what is dug in only in part, as more was spread since or is to be, be begun and not done."""
    for dig in jobs:
        if dig.job == DIG and dig.entries and undug(dig) > 1 - judgement("as_good_as_done"):
            dig.done = None
            dig.told = (*dig.told, REST.format(max(entry.day for entry in dig.entries)))


def _rake_aside(site: Site, put: Put, laid: Sequence[Application]) -> str:
    """Return that mulch lies where something is dug in, and that no hours are counted for it, or nothing.

    It is wood, straw and the like laid before that day, as far as it has not rotted. A layer stated for now
    lies there through the first year: nobody said what it is of.
    """
    there = [*done(site, put.place), *laid]
    stated = put.place.layer_now if put.day < YEAR.after(site.start) else 0.0
    on_top = [
        dose
        for dose in there
        if dose.day < put.day
        and dose.material.sort.warned_dug
        and (dose.decided or dose.day >= site.start or not put.place.layer_now)
        and dose.kind != "fill"
    ]
    eve = put.day - timedelta(days=1)
    depth = stated + Mulch(site, on_top).on(eve.toordinal())
    if depth < judgement("raked_aside"):
        return ""
    return (
        f"{measured(depth, DEPTH, 2)} of mulch lies here: rake it aside before you dig, and put it back"
        " afterwards. Its hours are not counted."
    )
