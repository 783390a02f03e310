"""Results of soil tests that the history has as done and nothing tells: which key of the file takes them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from barrowful.jobs.errands import SOIL_TEST
from barrowful.jobs.job import Job
from barrowful.site.job_names import JOINT, base_of
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site

#: The result that an entry of the history may have.
LOGGED = "organic_matter"
#: Where the result of a test goes that was done after what it is to judge: a season is decided as it began.
NEXT = ', in the file of the next season ("barrowful begin --from")'


def results_wanted(jobs: Iterable[Job], site: Site, most: int) -> list[str]:
    """Return a sentence on each soil test that is done and has no result, so many of them.

    That for lead is left out: no key of the file takes what it found.
    """
    wanted = [*_of_before(site), *_of_season(jobs, site)]
    more = len(wanted) - most
    return [*wanted[:most], *([f"{more} more soil tests have no result."] if more > 0 else [])]


def _of_before(site: Site) -> Iterator[str]:
    """Yield what is asked of tests of the seasons before, for needs that there still are."""
    for entry in site.history:
        if entry.day >= site.start or not entry.place:
            continue
        place = site.place(entry.place)
        for need in place.needs:
            if base_of(entry.job) == JOINT.join((SOIL_TEST, place.name, need.kind)):
                yield from _asked(site, place, need, entry.job, entry.day)


def _of_season(jobs: Iterable[Job], site: Site) -> Iterator[str]:
    """Yield what is asked of the tests of a season."""
    for job in jobs:
        place = site.place(job.place) if job.job == SOIL_TEST and job.place and job.done else None
        need = place.need(job.need) if place else None
        if place and need and job.done:
            yield from _asked(site, place, need, job.name, job.done, NEXT if job.after else "")


def _asked(site: Site, place: Place, need: Need, name: str, day: date, where: str = "") -> Iterator[str]:
    """Yield what is asked of a test of a day, where the file has no result of then or later."""
    logs = need.soil_key == LOGGED
    known = [place.soil.tested, *(_logged(site, place) if logs else ())]
    if need.soil_key and all(tested is None or tested < day for tested in known):
        under = f"in that line of the history, or under soil: with tested: {day}"
        yield (
            f'Result wanted: "{name}" of {day} has none. Write the {need.soil_test} it found as'
            f" {need.soil_key} {under if logs else f'under soil: with tested: {day}{where}'}."
        )


def _logged(site: Site, place: Place) -> list[date]:
    """Return the days of the history whose results of a place are told."""
    return [entry.day for entry in site.done_on(place.name) if entry.tested is not None]
