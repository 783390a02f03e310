"""What a harvest bars: raw manure ahead of it, digging in where the crop stands, feeding when it is over."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from barrowful.catalogue.ceilings import most
from barrowful.catalogue.judgements import COMMON_YEAR, usual_frosts
from barrowful.catalogue.materials import Material
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.site.grown import fed_once_picked, touches_soil
from barrowful.site.records import Climate, Place, Site
from barrowful.soil.application import Application
from barrowful.soil.seasons import DayOfYear, crop_of, feeding_from, spring_from, time_of_year

#: A day that never comes.
NEVER = date(date.max.year - 1, 1, 1)
ONE_DAY = timedelta(days=1)
RAW, STANDING, OVER, AHEAD = "raw_manure", "standing_crop", "crop_over", "before_picking"
#: What is said of a stuff that waits, by the name of its ceiling.
TOLD = {
    RAW: "raw manure waits for the harvest",
    STANDING: "what is dug in waits for the crop to be off (lift: [standing_crop] where none stands)",
    OVER: "what feeds a crop waits for the next one (lift: [crop_over] where one is grown after it)",
    AHEAD: "what feeds strawberries waits till they are picked (lift: [before_picking] where they bear on)",
}

#: What is barred, and until when, by the name of its ceiling.
BARRED = {
    RAW: ("raw manure", "for the harvest"),
    STANDING: ("what is dug in", "for the crop to be off"),
    OVER: ("what feeds a crop", "as that of the year is over"),
    AHEAD: ("what feeds strawberries", "till they are picked"),
}
#: What raw manure waits for besides as a feed: of a crop that is over, and of strawberries.
FOR_SPRING = ", and as a feed for spring"
TILL_PICKED = ", and as a feed till strawberries are picked and then for spring"


class Wait(NamedTuple):
    """A time of each year in which stuff may not go on: from days ahead of the first harvest to a frost.

    Of a feed that comes too late it is from days after the first harvest to the eve of spring; of one that
    comes too early to the end of picking, which then stands in the place of the frost.
    """

    ceiling: str
    harvest: DayOfYear
    ahead: timedelta
    frost: DayOfYear
    also: str = ""  #: what raw manure waits for besides, as a feed

    @property
    def told(self) -> str:
        """Return what is said of a stuff that waits."""
        return f"{TOLD[self.ceiling]}{self.also}"

    @property
    def until(self) -> str:
        """Return what is waited for."""
        return f"{BARRED[self.ceiling][1]}{self.also}"


def wait_of(site: Site, place: Place, kind: str, dug: bool, material: Material) -> Wait | None:
    """Return the wait of a stuff, for a kind of need, for the harvest of a place, where that is told.

    Raw manure waits wherever it goes, longer than all else that is dug in. Round trees that may be dug in,
    and what fills a place is dug into nothing that stands. A feed waits for the next crop where that of the
    year is over, raw manure too. What is fed once it is picked waits for that, whatever feeds it.
    """
    if place.harvest_from is None:
        return None
    over = _over_on(site, place) if kind == "feed" else None
    once_picked = kind == "feed" and fed_once_picked(place) and AHEAD not in place.limits.lift
    if material.has("raw"):
        ahead = _ahead(RAW, "eaten_raw" if touches_soil(place) else "other")
        if once_picked:
            return _raw_once_picked(site.hemisphere, place.harvest_from, ahead)
        return _raw(_frosts(site.climate, site.hemisphere), place.harvest_from, ahead, over)
    if once_picked:
        return _ahead_of_picking(place.harvest_from)
    if not dug or kind == "fill" or place.kind == "tree" or STANDING in place.limits.lift:
        return over
    return _standing(site.climate, site.hemisphere, place.harvest_from, over)


def _raw(
    frosts: tuple[DayOfYear, DayOfYear], harvest: DayOfYear, ahead: timedelta, over: Wait | None
) -> Wait:
    """Return the wait of raw manure until the crop is off: of one picked from early winter on, to spring.

    What is picked from late winter on may be picked until autumn. A feed that comes ``over`` the end of its
    crop waits on, for the next.
    """
    last, first = frosts
    if 2 * _between(first, harvest) < _between(first, last):
        return Wait(RAW, harvest, ahead, last)
    return Wait(RAW, harvest, ahead, over.frost if over else first, FOR_SPRING if over else "")


@lru_cache(maxsize=1024)
def _raw_once_picked(hemisphere: str, harvest: DayOfYear, ahead: timedelta) -> Wait:
    """Return the wait of raw manure that feeds a crop once it is picked: for that, and on to spring.

    From picking to the frosts it is barred as any raw manure, and a feed in autumn would be washed out.
    """
    early, eve = _ahead_of_picking(harvest), _eve_of_spring(hemisphere, date(COMMON_YEAR, *harvest))
    return Wait(RAW, harvest, max(ahead, early.ahead), (eve.month, eve.day), TILL_PICKED)


def is_late(site: Site, dose: Application) -> bool:
    """Say whether a dose is of a feed, and comes when the crop of the year is over."""
    over = _over_on(site, dose.place) if dose.kind == "feed" else None
    return waited(over, dose.day) != dose.day


def _over_on(site: Site, place: Place) -> Wait | None:
    """Return the time in which the crop of a place is over, where that is told and binds."""
    if crop_of(place) is None or OVER in place.limits.lift:
        return None
    return _over(site.hemisphere, crop_of(place))


@lru_cache(maxsize=1024)
def _over(hemisphere: str, harvest: DayOfYear) -> Wait | None:
    """Return the time from some weeks into the harvest, or the end of summer, to the eve of spring.

    Of a crop that is fed in winter or autumn for the spring there is none.
    """
    first = date(COMMON_YEAR, *harvest)
    after, eve = _summer_over(hemisphere, first), _eve_of_spring(hemisphere, first)
    if feeding_from(hemisphere, eve, harvest) == eve:
        return None
    last = max(first + _ahead(OVER, "picked"), after - ONE_DAY)
    return Wait(OVER, harvest, first - last, (eve.month, eve.day))


def _summer_over(hemisphere: str, day: date) -> date:
    """Return the first day, from a day on, that is not in spring or summer."""
    while time_of_year(hemisphere, day.month) == "spring":
        day += ONE_DAY
    return day


def _eve_of_spring(hemisphere: str, day: date) -> date:
    """Return the last day of the winter after the summer a day is in, or ahead of the next spring."""
    return spring_from(hemisphere, _summer_over(hemisphere, day)) - ONE_DAY


@lru_cache(maxsize=1024)
def _ahead_of_picking(harvest: DayOfYear) -> Wait:
    """Return the time from winter to the end of picking, ahead of which some crops are fed nothing."""
    picked = date(COMMON_YEAR, *harvest) + _ahead(AHEAD, "picked")
    return Wait(AHEAD, harvest, _ahead(AHEAD, "ahead"), (picked.month, picked.day))


@lru_cache(maxsize=1024)
def _standing(climate: Climate, hemisphere: str, harvest: DayOfYear, over: Wait | None) -> Wait:
    """Return the wait of what is dug in for the crop to be off: of one that is picked in winter to spring.

    A feed that comes ``over`` the end of its crop waits on, for the next.
    """
    ahead, (last, first) = _ahead(STANDING, "ahead"), _frosts(climate, hemisphere)
    winter = _between(first, harvest) < _between(first, last) and _between(harvest, last) >= ahead.days
    return Wait(STANDING, harvest, ahead, last if winter else over.frost if over else first)


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
    waits = f"waits until {opens}" if opens < NEVER else "may never go on"
    return f"{BARRED[wait.ceiling][0]} on {day} {waits}, {wait.until}"


def wait_of_dose(site: Site, dose: Application) -> Wait | None:
    """Return the wait of a dose for the harvest of its place."""
    return wait_of(site, dose.place, dose.kind, dose.dug, dose.material)


def waited_for(site: Site, dose: Application) -> str:
    """Return what is said of a dose that goes on as soon as the crop is off; nothing of any other.

    What keeps for spring needs no word.
    """
    wait = wait_of_dose(site, dose)
    if wait is None or wait.ceiling == OVER or waited(wait, dose.day - ONE_DAY) != dose.day:
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
