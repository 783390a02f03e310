"""Needs that their jobs come too late for: the need's own day, or the one that all is to be ready by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from barrowful.answers.choices import WholeSite
from barrowful.jobs.job import Job
from barrowful.needs.decision import Serving

#: The day a need is done on and the day it was to be by, with what is said of it.
Missed = tuple[date, date, str]


def done_of(jobs: Iterable[Job]) -> dict[int, date]:
    """Return by serving the day on which the last of the jobs that meet it is done."""
    done = dict[int, date]()
    for job in jobs:
        for serving in job.serves:
            done[id(serving)] = max(done.get(id(serving), date.min), job.until)
    return done


def missed_told(whole: WholeSite, jobs: Iterable[Job], most: int) -> list[str]:
    """Return a sentence on each need that its jobs come too late for, so many of them, the latest first."""
    missed = sorted(_missed(whole, jobs), key=lambda each: (each[1] - each[0], each[2]))
    told = [sentence for _, _, sentence in missed[:most]]
    more = len(missed) - most
    return [*told, f"{more} more needs are ready too late."] if more > 0 else told


def _missed(whole: WholeSite, jobs: Iterable[Job]) -> Iterator[Missed]:
    """Yield the needs that are met in time but for jobs that are still to do."""
    done = done_of(job for job in jobs if job.done is None)
    for part in whole.together.parts:
        for serving in part.decision.servings:
            for due, whose in _due_days(whole, part.need, serving):
                ready = done.get(id(serving), date.min)
                if serving.met and serving.ready_on is not None and serving.ready_on <= due < ready:
                    when = "no hours are left for it" if ready == date.max else f"it is ready on {ready}"
                    of = f"{part.need} {serving.place.name}"
                    yield ready, due, f"Too late: {of} is to be met by {due}{whose}; {when}."
                    break


def _due_days(whole: WholeSite, kind: str, serving: Serving) -> list[tuple[date, str]]:
    """Return the days that a need is to be met by, the first first, with whose they are if not its own."""
    need, limit = serving.place.need(kind), whole.together.answer.site.limits.by
    days = [(need.due, "") if need else (None, ""), (limit, " (limits.by)")]
    return sorted((day, whose) for day, whose in days if day is not None)
