"""Following a place over time: mulch, fresh carbon, humus, soil organic matter, nitrogen, top-ups."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate, rates
from barrowful.ground import amount, decay
from barrowful.ground.soil import organic_matter
from barrowful.measures.dates import Step, date_after, years_between
from barrowful.site.records import Cover, Place, Site
from barrowful.soil.history import FOLLOWED, Application, Base, base, done, followed_depth, season_nitrogen
from barrowful.soil.turnover import Turnover, half_depth_years, soil_mass_at

ENDS = ("low", "likely", "high")


@dataclass(frozen=True)
class Point:
    """One place on one day; carbon in kg, depths in m, shares; triples are low, likely, high."""

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


def with_ends(put: Application, end: str) -> tuple[Material, float]:
    """Return a put's material with humification at an end, and the humus rate of the other end.

    A low course has little humus formed and much lost, a high one the reverse; the fresh rate moves
    only the timing and stays likely.
    """
    share = put.material.figures["humus"]
    value = getattr(share, end)
    stuff = put.material.with_figures({"humus": replace(share, likely=value)})
    opposite = {"low": "high", "likely": "likely", "high": "low"}[end]
    return stuff, getattr(rates()["humus_rate"], opposite) / rate("humus_rate")


def turnover_at(put: Application, site: Site, place: Place, end: str) -> Turnover:
    """Return how a put goes in a place at an end of the model's range."""
    stuff, faster = with_ends(put, end)
    one = replace(put, material=stuff).turnover(site, place)
    return replace(one, humus=one.humus * faster)


def carbon_state(
    site: Site, place: Place, applications: list[Application], day: date, end: str
) -> tuple[float, float, float]:
    """Return fresh carbon, humus carbon, and what counts as soil organic carbon [kg/m2] on a day."""
    fresh = humus = counted = 0.0
    for put in applications:
        years = years_between(put.day, day)
        if put.day > day:
            continue
        one, carbon = turnover_at(put, site, place, end), put.carbon(place.total_area)
        fresh += carbon * one.left(years)
        humus += carbon * one.formed(years)
        counted += carbon * one.counted(years) if put.dug else 0.0
    return fresh, humus, counted


def kept_up(site: Site, place: Place, applications: list[Application], until: date) -> list[Application]:
    """Return applications with the top-ups that keep a cover need's layer up until a day."""
    need = place.need("cover")
    planned = [put for put in applications if put.covers]
    if not isinstance(need, Cover) or not planned:
        return applications
    stuff, last = planned[0].material, max(put.day for put in planned)
    more = top_ups(site, place, need, stuff, last, until)
    return [*applications, *(Application(day, stuff, loose, False, covers=True) for day, loose in more)]


def top_ups(
    site: Site, place: Place, need: Cover, stuff: Material, last: date, until: date
) -> list[tuple[date, float]]:
    """Return the days a cover is topped up after it was last put on, and the loose volume [m3] of each.

    It is topped up when the layer falls to the share it is to be kept above.
    """
    step = decay.years_to_top_up(half_depth_years(stuff, site.climate), need.keep)
    lost = amount.volume(place.total_area, (1 - need.keep) * need.depth)
    loose = amount.with_allowance(stuff.loose_for_settled(lost) if need.settled else lost, need.allowance)
    found = []
    day = date_after(last, step)
    while step > 0 and day <= until:
        found.append((day, loose))
        day = date_after(day, step)
    return found


def follow(site: Site, place: Place, applications: list[Application], days: list[date]) -> list[Point]:
    """Return a point for each day: the past and what is planned, topped up where a cover is kept.

    The day of a soil test gets a point of its own, with what was reckoned for it and what was found.
    """
    usable = [put for put in [*done(site, place), *applications] if not put.material.lacks(*FOLLOWED)]
    whole = kept_up(site, place, usable, days[-1])
    tests = {
        one.day: one.tested for one in site.history if one.place == place.name and one.tested is not None
    }
    shown = sorted({*days, *(day for day in tests if days[0] <= day <= days[-1])})
    return [_point(site, place, whole, day, tests.get(day)) for day in shown]


def _point(
    site: Site, place: Place, applications: list[Application], day: date, tested: float | None
) -> Point:
    states = [carbon_state(site, place, applications, day, end) for end in ENDS]
    area = place.total_area
    matter, if_mixed = _matter(site, place, applications, day, base(site, place, day))
    later = [put.day for put in applications if put.covers and put.day > day]
    return Point(
        place, day, _mulch(site, place, applications, day), area * states[1][0],
        (area * states[0][1], area * states[1][1], area * states[2][1]), matter, if_mixed,
        season_nitrogen(site, applications, day), min(later, default=None) if place.need("cover") else None,
        tested, None if tested is None else _expected(site, place, applications, day), day < site.start,
    )  # fmt: skip


def _mulch(site: Site, place: Place, applications: list[Application], day: date) -> float:
    """Return the settled depth of mulch [m]; a stated layer stands for the past ones."""
    area = place.total_area
    shown = [put for put in applications if put.planned or place.layer_now == 0 or day < site.start]
    depth = sum(put.depth(site, area, day) for put in shown)
    if place.layer_now > 0 and day >= site.start:
        planned = next((put for put in applications if put.covers), None)
        half = half_depth_years(planned.material, site.climate) if planned else None
        if half is not None:
            depth += place.layer_now * decay.depth_left(half, years_between(site.start, day))
        elif day == site.start:
            depth += place.layer_now
    return depth


def _matter(
    site: Site, place: Place, applications: list[Application], day: date, known: Base
) -> tuple[tuple[float, float, float] | None, float | None]:
    """Return soil organic matter low, likely, high, and the likely one if the mulch were mixed in.

    Each soil test restarts the reckoning: only what was put on after it counts.
    """
    if known.matter <= 0:
        return None, None
    since = known.day or site.start
    counted = [put for put in applications if put.day > since or (put.planned and put.day >= since)]
    soil, factor = soil_mass_at(place, followed_depth(place)), rate("matter_per_carbon")
    low, likely, high = (
        organic_matter(known.matter, carbon_state(site, place, counted, day, end)[2], soil, factor)
        for end in ENDS
    )
    mixed = sum(carbon_state(site, place, [put for put in counted if not put.dug], day, "likely")[:2])
    return (low, likely, high), organic_matter(likely, mixed, soil, factor) if mixed > 0 else None


def _expected(site: Site, place: Place, applications: list[Application], day: date) -> float | None:
    """Return the organic matter reckoned for the day of a soil test before it was known."""
    matter, _ = _matter(site, place, applications, day, base(site, place, day - timedelta(days=1)))
    return matter[1] if matter else None


def days_of(site: Site, monthly: bool, years: int | None, first: date | None) -> list[date]:
    """Return the days to show: each year or month from the first day to the horizon or beyond."""
    step = Step(months=1 if monthly else 12)
    start = first or site.start
    end = site.end if years is None else Step(months=12 * years).after(site.start)
    found, count = [], 0
    while (day := step.times(count).after(start)) <= end:
        found.append(day)
        count += 1
    return found
