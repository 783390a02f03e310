"""Following a place over time: mulch, fresh carbon, humus, soil organic matter, nitrogen, top-ups."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import date, timedelta
from typing import NamedTuple

from barrowful.catalogue.rates import rate
from barrowful.ground import decay
from barrowful.ground.soil import organic_matter
from barrowful.measures.dates import Step, years_between
from barrowful.measures.fixed import fixed
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import Base, base, done, followed, followed_depth, kept_since
from barrowful.soil.pools import Carbon, Mulch, SeasonNitrogen, Triple
from barrowful.soil.turnover import soil_mass_at


@fixed(kw_only=False, eq=True)
class Point:
    """One place on one day; carbon in kg, depths in m, shares; triples are low, likely, high.

    ``beyond`` is what soil organic matter came to where that is more than all the soil: then there is none.
    """

    place: Place
    day: date
    mulch: float
    fresh: float
    humus: tuple[float, float, float]
    matter: tuple[float, float, float] | None
    if_mixed: float | None
    nitrogen: float
    next_top_up: date | None
    tested: float | None
    expected: float | None
    past: bool
    beyond: float | None = None

    def on(self, place: Place) -> Point:
        """Return the same on equal ground of another size."""
        times = place.total_area / self.place.total_area
        low, likely, high = self.humus
        changed = {
            "place": place,
            "fresh": self.fresh * times,
            "humus": (low * times, likely * times, high * times),
            "nitrogen": self.nitrogen * times,
        }
        return Point(**{**vars(self), **changed})


class Tested(NamedTuple):
    """The last soil test in the history that saw something dug in: what was reckoned for it, and found."""

    day: date
    expected: float  #: share
    found: float  #: share


def last_test(site: Site, place: Place, until: date) -> Tested | None:
    """Return the last soil test up to a day, where something was dug in between the one before and it."""
    tests = [entry for entry in site.done_on(place.name) if entry.tested is not None and entry.day <= until]
    if not tests or tests[-1].tested is None:
        return None
    day, dug = tests[-1].day, [dose for dose in followed(done(site, place)) if dose.dug]
    before = base(site, place, day - timedelta(days=1))
    if before.day is None or not any(before.day < dose.day <= day for dose in dug):
        return None
    ground = _Soil(site, place, dug)
    ground.restart(before)
    expected = _likely(ground.matter(day)[0])
    return None if expected is None else Tested(day, expected, tests[-1].tested)


def follow(site: Site, place: Place, applications: list[Application], days: list[date]) -> list[Point]:
    """Return a point for each day, of the past and of what is decided.

    The day of a soil test gets a point of its own, with what was reckoned for it and what was found.
    """
    whole = [*done(site, place), *applications]
    tests = {entry.day: entry.tested for entry in site.done_on(place.name) if entry.tested is not None}
    ground = _Followed(site, place, whole)
    shown = sorted({*days, *(day for day in tests if days[0] <= day <= days[-1])})
    return [ground.point(day, tests.get(day)) for day in shown]


def matter_on(site: Site, place: Place, applications: list[Application], day: date) -> float | None:
    """Return soil organic matter [share] on a day, of the past and of what is decided; None as in a point."""
    ground = _Soil(site, place, [*done(site, place), *applications])
    ground.restart(base(site, place, day))
    return _likely(ground.matter(day)[0])


class _Soil:
    """The organic matter of a place followed from day to day; the days asked for never go back."""

    def __init__(self, site: Site, place: Place, applications: list[Application]) -> None:
        self.site, self.place, self.applications = site, place, followed(applications)
        self.carbon = self.since_test = Carbon(site, self.applications)
        self.soil, self.factor = soil_mass_at(place, followed_depth(place)), rate("matter_per_carbon")
        self.known: Base | None = None

    def restart(self, known: Base) -> None:
        """Reckon from a soil test on: only what was put on after it counts."""
        since = known.day or self.site.start
        self.known = known
        later = [d for d in self.applications if d.day > since or (d.decided and d.day >= since)]
        all_of_them = len(later) == len(self.applications)
        self.since_test = self.carbon if all_of_them else Carbon(self.site, later)

    def matter(self, day: date) -> tuple[Triple | None, float | None]:
        """Return soil organic matter low, likely, high, and the likely one if the mulch were mixed in."""
        if self.known is None or self.known.matter is None:
            return None, None
        matter, pools = self.known.matter, self.since_test.on(day.toordinal())
        kept = kept_since(self.site, self.place, self.known, day)
        low, likely, high = (
            organic_matter(matter * share, counted, self.soil, self.factor)
            for share, counted in zip(kept, _sums(pool.counted for pool in pools), strict=True)
        )
        mixed = sum(pool.fresh + pool.humus[1] for pool in pools if not pool.dug)
        mixed_in = organic_matter(likely, mixed, self.soil, self.factor) if mixed > 0 else None
        return (low, likely, high), mixed_in


class _Followed(_Soil):
    """A place followed from day to day; the days asked for never go back."""

    def __init__(self, site: Site, place: Place, applications: list[Application]) -> None:
        super().__init__(site, place, applications)
        self.nitrogen, applications = SeasonNitrogen(site, applications), self.applications
        self.decided = Mulch(site, [dose for dose in applications if dose.decided])
        self.past = Mulch(site, [dose for dose in applications if not dose.decided])
        covers = [dose for dose in applications if dose.kind == "cover"]
        self.covers = sorted(dose.day for dose in covers)
        lasting = (dose for dose in covers if not dose.material.lacks("lasts"))
        self.half = next((dose.response(site).half for dose in lasting), None)

    def point(self, day: date, tested: float | None) -> Point:
        """Return the point of a day, where ``tested`` is what a soil test found on it."""
        site, place, area = self.site, self.place, self.place.total_area
        expected = None if tested is None else self._expected(day)
        if self.known is None or tested is not None:
            self.restart(base(site, place, day))
        matter, if_mixed = self.matter(day)
        pools = self.carbon.on(day.toordinal())
        low, likely, high = (area * share for share in _sums(pool.humus for pool in pools))
        return Point(
            place=place,
            day=day,
            mulch=self._mulch(day),
            fresh=area * sum((pool.fresh for pool in pools), 0.0),
            humus=(low, likely, high),
            matter=_shares(matter),
            if_mixed=_share(if_mixed),
            nitrogen=self.nitrogen.on(day),
            next_top_up=self._next_cover(day) if place.need("cover") else None,
            tested=tested,
            expected=expected,
            past=day < site.start,
            beyond=matter[1] if matter is not None and matter[1] > 1 else None,
        )

    def _next_cover(self, day: date) -> date | None:
        """Return the next day on which mulch is put on."""
        later = bisect_right(self.covers, day)
        return self.covers[later] if later < len(self.covers) else None

    def _expected(self, day: date) -> float | None:
        """Return the organic matter reckoned for the day of a soil test before it was known."""
        if self.known is None:
            self.restart(base(self.site, self.place, day - timedelta(days=1)))
        return _likely(self.matter(day)[0])

    def _mulch(self, day: date) -> float:
        """Return the settled depth of mulch [m]; a stated layer stands for the past ones."""
        site, stated = self.site, self.place.layer_now
        depth, past = self.decided.on(day.toordinal()), self.past.on(day.toordinal())
        if stated == 0 or day < site.start:
            return depth + past
        if self.half is not None:
            return depth + stated * float(decay.depth_left(self.half, years_between(site.start, day)))
        return depth + (stated if day == site.start else 0.0)


def _sums(triples: Iterable[Triple]) -> Triple:
    """Return the sums of low, likely and high values."""
    low = likely = high = 0.0
    for triple in triples:
        low, likely, high = low + triple[0], likely + triple[1], high + triple[2]
    return low, likely, high


def _likely(matter: Triple | None) -> float | None:
    """Return the likely share of low, likely and high ones."""
    return _share(matter[1]) if matter else None


def _share(value: float | None) -> float | None:
    """Return a share of the soil; more than all of it is none."""
    return None if value is None or value > 1 else value


def _shares(matter: Triple | None) -> Triple | None:
    """Return low, likely and high shares: none where the likely one is beyond the soil, and no end beyond."""
    if matter is None or matter[1] > 1:
        return None
    return matter[0], matter[1], min(matter[2], 1.0)


def days_of(site: Site, monthly: bool, years: int | None, first: date) -> list[date]:
    """Return the days to show: each year or month from the first day to the horizon or beyond."""
    step = Step(months=1 if monthly else 12)
    end = site.end if years is None else Step(months=12 * years).after(site.start)
    found, count = [], 0
    while (day := step.times(count).after(first)) <= end:
        found.append(day)
        count += 1
    return found
