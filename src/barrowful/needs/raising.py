"""Raising soil organic matter: the least doses that reach a share by a day, or why none do."""

from __future__ import annotations

import math
from bisect import bisect_left
from datetime import date, timedelta

from barrowful.measures.dates import Step, years_between
from barrowful.needs.doses import Dose, Plan, check_material
from barrowful.needs.raise_task import RaiseTask, task
from barrowful.site.records import Place, Raise, Site
from barrowful.soil.turnover import Turnover
from barrowful.supplies.supply import YEAR, Stock, Supply

#: Years ahead a target is sought before the level it tends to is named instead.
FAR_YEARS = 60
SLACK = 1e-9
#: Days between those on which a late target is looked for.
GRID = 10
#: A way that brings something on more days of the year than this is looked at by the grid alone.
FEW_LOTS = 12


def plan_raise(site: Site, places: list[Place], supply: Supply) -> Plan:
    """Return the doses that raise every place by its day, sharing the supply in file order."""
    check_material(supply.material, "raise")
    first = next(iter(supply.lots(site.end)), None)
    if first is None:
        return Plan(feasible=False, why_not=supply.note or "brings nothing within the horizon")
    plan = Plan(matter=math.inf, ready_on=site.start, holds_with=0.0)
    stock = Stock(supply, Step(months=12 * FAR_YEARS).after(site.start))
    area = sum(place.total_area for place in places)
    for place in places:
        need = place.need("raise")
        assert isinstance(need, Raise)
        one, part = task(site, place, need, supply), place.total_area / area
        by = need.by or YEAR.after(first.day)
        last = by if need.by else by - timedelta(days=1)
        plan.times_needed = _more(plan.times_needed, _times_needed(one, by, supply, part))
        doses, day = _serve(plan, one, (by, last), stock, supply, part)
        held = _holding(one, supply, doses, day or by, reached=day is not None)
        plan.holds_with = (plan.holds_with or 0.0) + held * part
    if not plan.feasible and plan.ready_on is not None:
        plan.why_not = f"too late: {plan.why_not}, ready {plan.ready_on}"
    return plan


def _times_needed(one: RaiseTask, by: date, supply: Supply, part: float) -> float | None:
    """Return how many times the place's part of every lot until a day would reach the task on it."""
    lots = supply.lots(by)
    if not lots or math.isinf(lots[0].loose):
        return None
    made = one.made([(lot.day, lot.loose * part) for lot in lots], by)
    return one.missing(by) / made if made > 0 else None


def _more(one: float | None, other: float | None) -> float | None:
    return other if one is None else one if other is None else max(one, other)


def _level(one: RaiseTask, supply: Supply, part: float) -> float:
    """Return the carbon [kg/m2] that the most the way brings each year tends to, lowest in the year."""
    end = one.site.end
    before = Step(months=-12).after(end)
    year: dict[date, float] = {}
    for lot in supply.lots(end):
        if lot.day > before:
            year[lot.day] = year.get(lot.day, 0.0) + lot.loose * part
    doses = [
        (years_between(before, day), min(loose, one.most) * one.per_loose) for day, loose in year.items()
    ]
    return min((_steady(one.turnover, doses, phase) for phase, _ in doses), default=0.0)


def _steady(one: Turnover, doses: list[tuple[float, float]], phase: float) -> float:
    """Return what counts just before a phase of the year when doses have come every year for ever."""
    return sum(dose * one.counted_forever((phase - when) % 1.0 or 1.0) for when, dose in doses)


def _holding(
    one: RaiseTask, supply: Supply, doses: list[tuple[date, float]], by: date, reached: bool
) -> float:
    """Return the yearly dose [kg/m2 as delivered], from ``by`` on, that never lets the target drop.

    Each year's end until then asks for (what is missing) / (what so many yearly doses have become).
    Of a target that is not reached it is the dose that levels off there.
    """
    forever = one.turnover.counted_forever(1.0)
    most, sum_of = one.wanted / forever if forever > 0 and not reached else 0.0, 0.0
    for year in range(1, FAR_YEARS + 1 if reached else 1):
        sum_of += one.turnover.counted(float(year))
        day = YEAR.times(year).after(by)
        missing = one.missing(day) - one.made(doses, day)
        if sum_of > 0:
            most = max(most, missing / sum_of)
    return most / supply.material.in_each_wet("carbon")


def _serve(
    plan: Plan, one: RaiseTask, when: tuple[date, date], stock: Stock, supply: Supply, part: float
) -> tuple[list[tuple[date, float]], date | None]:
    """Add one place's doses to a plan and return them with the day they reach the target.

    ``when`` is the day wanted, and the last day for a dose.
    """
    by, last = when
    doses = least_doses(one, by, stock, last)
    day: date | None = by
    if doses is None:
        plan.feasible = False
        day = _first_day(one, stock, by)
        doses = (least_doses(one, day, stock) if day else None) or []
    plan.doses += [Dose(one.place, one.need, on, loose) for on, loose in sorted(doses)]
    matter = one.matter(doses, by)
    plan.matter = matter if plan.matter is None else min(plan.matter, matter)
    if day is None:
        _never(plan, one, one.with_carbon(_level(one, supply, part)))
        return doses, None
    if plan.ready_on is not None:
        plan.ready_on = max(plan.ready_on, _ready(one, doses, day))
    if day != by and not plan.why_not:
        plan.why_not = f"{one.place.name}: {matter:.1%} on {by}"
    return doses, day


def _never(plan: Plan, one: RaiseTask, level: float) -> None:
    """Note that a target is out of reach: the level the doses tend to, or that it takes too long."""
    plan.ready_on, where = None, f"in {one.place.name}"
    if level >= one.need.organic_matter:
        plan.why_not = f"not within {FAR_YEARS} years {where}"
        return
    plan.why_not = f"never: levels off at {level:.1%} {where}"
    plan.levels_off = level if plan.levels_off is None else min(plan.levels_off, level)


def least_doses(
    one: RaiseTask, by: date, stock: Stock, last: date | None = None
) -> list[tuple[date, float]] | None:
    """Return the least doses, up to a last day, that reach the task on a day; takes them from the stock.

    One linear condition, each dose capped and fed from lots: the most effective days are filled
    first, which is exact for such a programme.
    """
    worth = sorted(
        (
            (one.turnover.counted(years_between(day, by)) * one.per_loose, day)
            for day in set(stock.days)
            if day <= (last or by)
        ),
        reverse=True,
    )
    before = list(stock.left)
    whole = missing = one.missing(by)
    doses = []
    for effect, day in worth:
        if missing <= SLACK * whole or effect <= 0:
            break
        taken = stock.take(day, min(one.most, missing / effect))
        if taken > 0:
            doses.append((day, taken))
            missing -= taken * effect
    if missing > SLACK * whole:
        stock.left = before
        return None
    return doses


def _can(one: RaiseTask, stock: Stock, day: date) -> bool:
    """Say whether any doses reach the task on a day; the stock is left as it was."""
    before = list(stock.left)
    found = least_doses(one, day, stock) is not None
    stock.left = before
    return found


def _first_day(one: RaiseTask, stock: Stock, by: date) -> date | None:
    """Return the first day after ``by`` on which the task can be reached, or None.

    Supplies come round by the year, so on one day of the year what can be reached does not fall from
    year to year: for each of some days of the year the year is found by halving, and then the day,
    for wood and greens go on turning to humus, and turnover, between lots.
    """
    best: date | None = None
    lots = {(day - by).days % 365 for day in stock.days if day > by}
    for offset in sorted({*range(0, 366, GRID), *(lots if len(lots) <= FEW_LOTS else ())}):
        start = by + timedelta(days=offset)
        if best is None or start < best:
            best = _first_year(one, stock, start, best) or best
    return best and _first_between(one, stock, max(by, best - timedelta(days=GRID)), best)


def _first_year(one: RaiseTask, stock: Stock, start: date, before: date | None) -> date | None:
    """Return the first yearly return of a day on which the task can be reached, if before another."""
    last = stock.until if before is None else min(stock.until, before - timedelta(days=1))
    days = [day for count in range(FAR_YEARS) if (day := YEAR.times(count).after(start)) <= last]
    if not days or not _can(one, stock, days[-1]):
        return None
    return days[bisect_left(days, True, key=lambda day: _can(one, stock, day))]


def _first_between(one: RaiseTask, stock: Stock, bad: date, good: date) -> date:
    """Return the first day of a short time on which the task can be reached."""
    while (good - bad).days > 1:
        day = bad + (good - bad) // 2
        bad, good = (bad, day) if _can(one, stock, day) else (day, good)
    return good


def _ready(one: RaiseTask, doses: list[tuple[date, float]], by: date) -> date:
    """Return the first day from which the target holds until ``by``."""
    start = one.site.start
    dosed = [day for day, _ in doses if day <= by]
    grid = {by, *dosed, *(day - timedelta(days=1) for day in dosed if day > start)}
    day = start
    while day < by:
        grid.add(day)
        day += timedelta(days=30)
    good = by
    for day in sorted(grid, reverse=True):
        if not one.holds(doses, day):
            return _first_good(one, doses, day, good)
        good = day
    return good


def _first_good(one: RaiseTask, doses: list[tuple[date, float]], bad: date, good: date) -> date:
    """Return the first good day after a bad one."""
    while (good - bad).days > 1:
        middle = bad + (good - bad) // 2
        if one.holds(doses, middle):
            good = middle
        else:
            bad = middle
    return good
