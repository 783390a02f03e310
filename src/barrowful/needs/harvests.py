"""What a harvest bars: raw manure waits ahead of it, and nothing is dug in where the crop stands."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.judgements import COMMON_YEAR, usual_frosts
from barrowful.catalogue.materials import Material
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.site.records import Climate, Place, Site
from barrowful.soil.application import Application

#: A month and its day.
DayOfYear = tuple[int, int]
#: A day that never comes.
NEVER = date(date.max.year - 1, 1, 1)
ONE_DAY = timedelta(days=1)
RAW, STANDING = "raw_manure", "standing_crop"
#: What is said of a stuff that waits, by the name of its ceiling.
TOLD = {
    RAW: "raw manure waits for the harvest",
    STANDING: "what is dug in waits for the crop to be off (lift: [standing_crop] where none stands)",
}

#: What is barred, and until when, by the name of its ceiling.
BARRED = {RAW: ("raw manure", "for the harvest"), STANDING: ("what is dug in", "for the crop to be off")}


class Wait(NamedTuple):
    """A time of each year in which stuff may not go on: from days ahead of the first harvest to a frost."""

    ceiling: str
    harvest: DayOfYear
    ahead: timedelta
    frost: DayOfYear

    @property
    def told(self) -> str:
        """Return what is said of a stuff that waits."""
        return TOLD[self.ceiling]


def wait_of(site: Site, place: Place, kind: str, dug: bool, material: Material) -> Wait | None:
    """Return the wait of a stuff, for a kind of need, for the harvest of a place, where that is told.

    Raw manure waits wherever it goes, longer than all else that is dug in. Round trees that may be dug in,
    and what fills a place is dug into nothing that stands.
    """
    if place.harvest_from is None:
        return None
    if material.has("raw"):
        ahead = _ahead(RAW, "eaten_raw" if place.eaten_raw else "other")
        return Wait(RAW, place.harvest_from, ahead, _frosts(site.climate, site.hemisphere)[1])
    if not dug or kind == "fill" or place.kind == "tree" or STANDING in place.limits.lift:
        return None
    return _standing(site.climate, site.hemisphere, place.harvest_from)


@lru_cache(maxsize=1024)
def _standing(climate: Climate, hemisphere: str, harvest: DayOfYear) -> Wait:
    """Return the wait of what is dug in for the crop to be off: of one that is picked in winter to spring."""
    ahead, (last, first) = _ahead(STANDING, "ahead"), _frosts(climate, hemisphere)
    winter = _between(first, harvest) < _between(first, last) and _between(harvest, last) >= ahead.days
    return Wait(STANDING, harvest, ahead, last if winter else first)


@lru_cache(maxsize=65536)
def waited(wait: Wait | None, day: date) -> date:
    """Return the first day, from a day on, that is not in a wait, where there is one.

    It is barred from less than so long before the first harvest to a frost, while the crop stands: so long
    before is enough. Where that is all the year, it is never open.
    """
    if wait is None:
        return day
    for year in range(day.year - 1, day.year + 2):
        harvest, frost = date(year, *wait.harvest), date(year, *wait.frost)
        frost = frost if frost > harvest else date(year + 1, *wait.frost)
        if frost >= date(year + 1, *wait.harvest) - wait.ahead:
            return NEVER
        if harvest - wait.ahead < day <= frost:
            day = frost + ONE_DAY
    return day


def why_barred(wait: Wait | None, day: date) -> str:
    """Return why stuff that waits does not go on on a day that is written, or nothing."""
    opens = waited(wait, day)
    if wait is None or opens == day:
        return ""
    what, until = BARRED[wait.ceiling]
    waits = f"waits until {opens}" if opens < NEVER else "may never go on"
    return f"{what} on {day} {waits}, {until}"


def wait_of_dose(site: Site, dose: Application) -> Wait | None:
    """Return the wait of a dose for the harvest of its place."""
    return wait_of(site, dose.place, dose.kind, dose.dug, dose.material)


def waited_for(site: Site, dose: Application) -> str:
    """Return what is said of a dose that goes on as soon as the crop is off; nothing of any other."""
    wait = wait_of_dose(site, dose)
    if wait is None or waited(wait, dose.day - ONE_DAY) != dose.day:
        return ""
    return wait.told


def _frosts(climate: Climate, hemisphere: str) -> tuple[DayOfYear, DayOfYear]:
    """Return month and day of the last and the first frost; the usual ones where the file has none."""
    last, first = usual_frosts(hemisphere)
    return climate.last_frost or last, climate.first_frost or first


def _between(one: DayOfYear, other: DayOfYear) -> int:
    """Return the days from one day of the year to the next that is another."""
    return (date(COMMON_YEAR + (other < one), *other) - date(COMMON_YEAR, *one)).days


def _ahead(ceiling: str, figure: str) -> timedelta:
    return timedelta(days=round((most(ceiling, figure) or 0.0) * DAYS_PER_YEAR))
