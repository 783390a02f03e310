"""The door for scripts and notebooks: a site file loaded, and a report for each question about it.

Nothing is printed and no file is written. Use it as ``import barrowful``; docs/library.md shows how.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from os import PathLike, fspath
from typing import Literal

from barrowful.answers.course import CourseRequest
from barrowful.measures.problems import BarrowfulError, CannotMeet, Problem, SiteProblems, WrongUse
from barrowful.reports.arguments import (
    check_cases,
    check_days,
    check_one_of,
    check_site,
    check_texts,
    check_within,
    ranges_asked,
)
from barrowful.reports.limits import (
    MOST_DAYS_A_YEAR,
    MOST_YEARS,
    USUAL_DRAWS,
    USUAL_SEED,
    read_limit,
    with_limits,
)
from barrowful.site.load import LoadedSite, Typed, changes_to
from barrowful.site.load import load as load_bytes
from barrowful.sitefile.text.nodes import MOST_BYTES
from barrowful.tables.report import Report, Table

__all__ = (
    "BarrowfulError",
    "CannotMeet",
    "LoadedSite",
    "Problem",
    "Report",
    "SiteProblems",
    "Table",
    "WrongUse",
    "course",
    "heap",
    "ledger",
    "load",
    "options",
    "orders",
    "plan",
    "season",
    "sizes",
    "whatif",
)


def load(source: str | PathLike[str] | bytes, name: str = "") -> LoadedSite:
    """Return the site of a file by its path, or of the bytes of one; ``name`` is what messages call it.

    Raises :class:`SiteProblems` listing all that is wrong, and :class:`OSError` where the file cannot be
    read. The warnings of a sound file are in ``warnings``.
    """
    if isinstance(source, bytes):
        return load_bytes(source, name or "the site")
    if not isinstance(source, str | PathLike):
        raise WrongUse(f"give a site file by its path or its bytes, not as {type(source).__name__}")
    with open(source, "rb") as file:
        data = file.read(MOST_BYTES + 1)  # one byte more than a site file may have is refused
    return load_bytes(data, name or fspath(source))


def options(
    site: LoadedSite,
    *,
    by: Literal["way", "place"] = "way",
    ranges: bool = False,
    draws: int = USUAL_DRAWS,
    seed: int = USUAL_SEED,
) -> Report:
    """Return each way applied to the needs it can serve; tables options, whole_site, growing, choices.

    With ``ranges`` there are columns of ranges, of so many draws, and the table drivers.
    """
    from barrowful.reports.options import options as report

    check_site(site)
    check_one_of(by, ("way", "place"), "by")
    return report(site, by_place=by == "place", asked=ranges_asked(ranges, draws, seed))


def plan(
    site: LoadedSite,
    *,
    by: str | date | None = None,
    cash: str | None = None,
    cash_first_year: str | None = None,
    hours: str | None = None,
    days: int = 4,
    frontier: bool = False,
    binds: bool = False,
) -> Report:
    """Return what to put where when at the least cost; tables plan, clash, plan_totals, plan_stages.

    Limits are texts as in the site file, such as "400 EUR", and stand for the file's own. ``days`` of each
    year are looked at; ``frontier`` and ``binds`` ask for the tables of those names. Needs the extra full.
    """
    from barrowful.reports import plan as found

    check_site(site)
    check_texts("400 EUR", cash=cash, cash_first_year=cash_first_year, hours=hours)
    check_within(days, MOST_DAYS_A_YEAR, "days of each year")
    limited = replace(with_limits(site, None if by is None else str(by), cash, hours), plan=())
    most = None
    if cash_first_year is not None:
        most = read_limit(site, "cash_first_year", "cash", cash_first_year)
    asked = found.PlanRequest(days=days, cash_first_year=most, frontier=frontier, binds=binds)
    plan = found.find(limited, asked)
    if isinstance(plan, found.Found) and plan.plan.interrupted:
        raise KeyboardInterrupt  # the search ends in good order, and so does the script
    return found.plan(plan, site)


def sizes(
    site: LoadedSite, *, ranges: bool = False, draws: int = USUAL_DRAWS, seed: int = USUAL_SEED
) -> Report:
    """Return area, depth, volume, mass and barrows of each place and need; tables sizes, by_way.

    ``ranges``, ``draws`` and ``seed`` are as in options.
    """
    from barrowful.reports.sizes import sizes as report

    check_site(site)
    return report(site, asked=ranges_asked(ranges, draws, seed))


def orders(
    site: LoadedSite,
    *,
    way: str = "",
    partial: bool = False,
    every: bool = False,
    ranges: bool = False,
    draws: int = USUAL_DRAWS,
    seed: int = USUAL_SEED,
) -> Report:
    """Return the order sheet of the plan or the cheapest ways, or of one way by its name.

    Tables: orders, order_costs, questions, sharing, short, payments, sellers, cash_by_month, order_totals,
    bags_or_bulk. ``partial`` orders too what goes part of the way, ``every`` for the whole horizon.
    ``ranges``, ``draws`` and ``seed`` are as in options.
    """
    from barrowful.reports.orders import orders as report

    check_site(site)
    check_texts("yard compost", way=way)
    asked = ranges_asked(ranges, draws, seed)
    return report(site, way=way, partial=partial, every=every, asked=asked)


def heap(site: LoadedSite, *, recipes: bool = False) -> Report:
    """Return recipes and batches of the heaps; tables heap, batches, hygiene, and recipes where asked."""
    from barrowful.reports.heap import heap as report

    check_site(site)
    return report(site, recipes=recipes)


def course(
    site: LoadedSite,
    *,
    way: str = "",
    every_way: bool = False,
    monthly: bool = False,
    years: int | None = None,
    from_history: bool = False,
    ranges: bool = False,
    draws: int = USUAL_DRAWS,
    seed: int = USUAL_SEED,
) -> Report:
    """Return each place year by year, or month by month; tables course, opinions.

    It follows the plan or the cheapest ways, one ``way`` by its name, or ``every_way`` by itself. ``ranges``,
    ``draws`` and ``seed`` are as in options.
    """
    from barrowful.reports.course import course as report

    check_site(site)
    check_texts("yard compost", way=way)
    if way and every_way:
        raise WrongUse("way and every_way do not go together")
    if years is not None:
        check_within(years, MOST_YEARS, "years to follow")
    asked = CourseRequest(monthly, years, from_history, way, every_way)
    return report(site, asked, ranges=ranges_asked(ranges, draws, seed))


def ledger(site: LoadedSite, *, way: str = "") -> Report:
    """Return nutrients brought in, fixed, moved, harvested and lost; tables ledger, done."""
    from barrowful.reports.ledger import ledger as report

    check_site(site)
    check_texts("yard compost", way=way)
    return report(site, way=way)


def season(
    site: LoadedSite,
    *,
    first: date | None = None,
    last: date | None = None,
    by: Literal["week", "month", "place"] = "week",
    way: str = "",
    partial: bool = False,
    today: date | None = None,
) -> Report:
    """Return the jobs of what is followed, each with its window, between two days; tables season, weeks.

    Left out, the days are the site's start and the last job's; ``way`` and ``partial`` are as in orders.
    What the history has not done by ``today`` is to be done from then on.
    """
    from barrowful.reports.season import season as report

    check_site(site)
    check_texts("yard compost", way=way)
    check_days(first=first, last=last, today=today)
    check_one_of(by, ("week", "month", "place"), "by")
    begin, end = first or site.site.start, last or date.max
    if end < begin:
        raise WrongUse(f"last, {end}, is before first, {begin}")
    return report(site, begin, end, by=by, way=way, partial=partial, today=today)


def whatif(site: LoadedSite, cases: Mapping[str, Mapping[str, Typed]]) -> Report:
    """Return what changes in each case, by its name with values by path; tables whatif_site and whatif."""
    from barrowful.reports.whatif import whatif as report
    from barrowful.sitefile.text.cases import BASE, Case, Cases

    check_site(site)
    check_cases(cases)
    if wrong := {"", BASE} & set(cases):
        raise WrongUse(f'a case is not called "{wrong.pop()}": that is the file as it stands; give it a name')
    return report(site, Cases([Case(name, tuple(changes_to(values))) for name, values in cases.items()]))
