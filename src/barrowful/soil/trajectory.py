"""Following a place over time: mulch, fresh carbon, humus, soil organic matter, nitrogen, top-ups."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate, rates
from barrowful.ground import decay
from barrowful.ground.soil import organic_matter
from barrowful.measures.dates import Step, years_between
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import FOLLOWED, Base, base, done, followed_depth, season_nitrogen
from barrowful.soil.turnover import Turnover, half_depth_years, soil_mass_at

ENDS = ("low", "likely", "high")


@dataclass(frozen=True)
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


def with_ends(dose: Application, end: str) -> tuple[Material, float]:
    """Return an application's material with humification at an end, and the humus rate of the other end.

    A low course has little humus formed and much lost, a high one the reverse; the fresh rate moves
    only the timing and stays likely.
    """
    share = dose.material.figures["humus"]
    value = getattr(share, end)
    stuff = dose.material.with_figures({"humus": replace(share, likely=value)})
    opposite = {"low": "high", "likely": "likely", "high": "low"}[end]
    return stuff, getattr(rates()["humus_rate"], opposite) / rate("humus_rate")


def turnover_at(dose: Application, site: Site, end: str) -> Turnover:
    """Return how an application goes at an end of the model's range."""
    stuff, faster = with_ends(dose, end)
    one = replace(dose, material=stuff).turnover(site)
    return replace(one, humus=one.humus * faster)


def carbon_state(
    site: Site, applications: list[Application], day: date, end: str
) -> tuple[float, float, float]:
    """Return fresh carbon, humus carbon, and what counts as soil organic carbon [kg/m2] on a day."""
    fresh = humus = counted = 0.0
    for dose in applications:
        years = years_between(dose.day, day)
        if dose.day > day:
            continue
        one, carbon = turnover_at(dose, site, end), dose.carbon
        fresh += carbon * one.left(years)
        humus += carbon * one.formed(years)
        counted += carbon * one.counted(years) if dose.dug else 0.0
    return fresh, humus, counted


def follow(site: Site, place: Place, applications: list[Application], days: list[date]) -> list[Point]:
    """Return a point for each day, of the past and of what is decided.

    The day of a soil test gets a point of its own, with what was reckoned for it and what was found.
    """
    whole = [dose for dose in [*done(site, place), *applications] if not dose.material.lacks(*FOLLOWED)]
    tests = {
        one.day: one.tested for one in site.history if one.place == place.name and one.tested is not None
    }
    shown = sorted({*days, *(day for day in tests if days[0] <= day <= days[-1])})
    return [_point(site, place, whole, day, tests.get(day)) for day in shown]


def _point(
    site: Site, place: Place, applications: list[Application], day: date, tested: float | None
) -> Point:
    states = [carbon_state(site, applications, day, end) for end in ENDS]
    area = place.total_area
    matter, if_mixed = _matter(site, place, applications, day, base(site, place, day))
    later = [dose.day for dose in applications if dose.kind == "cover" and dose.day > day]
    return Point(
        place=place,
        day=day,
        mulch=_mulch(site, place, applications, day),
        fresh=area * states[1][0],
        humus=(area * states[0][1], area * states[1][1], area * states[2][1]),
        matter=_shares(matter),
        if_mixed=_share(if_mixed),
        nitrogen=season_nitrogen(site, applications, day),
        next_top_up=min(later, default=None) if place.need("cover") else None,
        tested=tested,
        expected=None if tested is None else _expected(site, place, applications, day),
        past=day < site.start,
        beyond=matter[1] if matter is not None and matter[1] > 1 else None,
    )


def _share(value: float | None) -> float | None:
    """Return a share of the soil; more than all of it is none."""
    return None if value is None or value > 1 else value


def _shares(matter: tuple[float, float, float] | None) -> tuple[float, float, float] | None:
    """Return low, likely and high shares: none where the likely one is beyond the soil, and no end beyond."""
    if matter is None or matter[1] > 1:
        return None
    return matter[0], matter[1], min(matter[2], 1.0)


def _mulch(site: Site, place: Place, applications: list[Application], day: date) -> float:
    """Return the settled depth of mulch [m]; a stated layer stands for the past ones."""
    shown = [dose for dose in applications if dose.decided or place.layer_now == 0 or day < site.start]
    depth = sum(dose.depth(site, day) for dose in shown)
    if place.layer_now > 0 and day >= site.start:
        covers = (dose for dose in applications if dose.kind == "cover" and not dose.material.lacks("lasts"))
        planned = next(covers, None)
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
    counted = [dose for dose in applications if dose.day > since or (dose.decided and dose.day >= since)]
    soil, factor = soil_mass_at(place, followed_depth(place)), rate("matter_per_carbon")
    low, likely, high = (
        organic_matter(known.matter, carbon_state(site, counted, day, end)[2], soil, factor) for end in ENDS
    )
    mixed = sum(carbon_state(site, [dose for dose in counted if not dose.dug], day, "likely")[:2])
    return (low, likely, high), organic_matter(likely, mixed, soil, factor) if mixed > 0 else None


def _expected(site: Site, place: Place, applications: list[Application], day: date) -> float | None:
    """Return the organic matter reckoned for the day of a soil test before it was known."""
    matter, _ = _matter(site, place, applications, day, base(site, place, day - timedelta(days=1)))
    return _share(matter[1]) if matter else None


def days_of(site: Site, monthly: bool, years: int | None, first: date) -> list[date]:
    """Return the days to show: each year or month from the first day to the horizon or beyond."""
    step = Step(months=1 if monthly else 12)
    end = site.end if years is None else Step(months=12 * years).after(site.start)
    found, count = [], 0
    while (day := step.times(count).after(first)) <= end:
        found.append(day)
        count += 1
    return found
