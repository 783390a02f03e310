"""From checked values to a :class:`Site`: cross-checks between sections happen here, with places."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, cast

from barrowful.catalogue.judgements import judged_text, judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground.amount import volume
from barrowful.measures.dates import Step
from barrowful.measures.problems import ParseError, Problem, SiteProblems
from barrowful.measures.text import read_unit
from barrowful.measures.units import fits, si
from barrowful.site.builder import Builder, cash, number, size, sure
from barrowful.site.checks import TypedAmount, check_depths
from barrowful.site.load_places import build_places, build_soil
from barrowful.site.load_ways import build_ways
from barrowful.site.materials import build_materials
from barrowful.site.records import Climate, HistoryEntry, Labour, Limits, Place, PlanLine, Raise, Site, Soil
from barrowful.site.references import check_names
from barrowful.site.ways import Size, Way
from barrowful.sitefile.language.context import Section
from barrowful.sitefile.reader import Reading, read
from barrowful.sitefile.text.nodes import Document, parse


@dataclass(frozen=True)
class LoadedSite:
    """A site, the document it came from, and the warnings given on the way."""

    site: Site
    document: Document
    warnings: tuple[Problem, ...]


def load(data: bytes, file: str) -> LoadedSite:
    """Return the site of a file's bytes; raise :class:`SiteProblems` listing all that is wrong.

    >>> load(b"{site: Far Side, currency: EUR, start: 2027-03-01, places: []}", "x.yaml").site.name
    'Far Side'
    """
    return build(parse(data, file))


def build(document: Document) -> LoadedSite:
    """Return the site of a document; raise :class:`SiteProblems` listing all that is wrong."""
    reading = read(document)
    builder = Builder(reading.context)
    materials = reading.values.get("materials")
    if isinstance(materials, Section):
        build_materials(materials, builder)
    check_names(reading.values, builder)
    if document.problems or reading.context.problems:
        raise SiteProblems([*document.problems, *reading.context.problems])
    site = _site(reading, builder)
    if reading.context.problems or site is None:
        raise SiteProblems(reading.context.problems)
    return LoadedSite(site, document, tuple(sorted(set(reading.context.warnings))))


def _site(reading: Reading, builder: Builder) -> Site | None:
    values = reading.values
    start = cast(date, values["start"])
    climate = _climate(cast(Section | None, values.get("climate")), values, builder)
    soil = build_soil(cast(Section | None, values.get("soil")), Soil())
    written = cast("list[Any]", values.get("ways") or [])
    places = build_places(cast("list[Any]", values["places"]), soil, builder)
    ways = build_ways(written, start, places, builder)
    by_name = {place.name: place for place in places}
    history = _history(values, by_name, builder)
    plan = _plan(values, by_name, {way.name: way for way in ways}, builder)
    for place in places:
        need = place.need("raise")
        if isinstance(need, Raise) and need.by is not None and need.by <= start:
            message = f"places.{place.name}.needs.raise.by: {need.by} is not after start"
            builder.warning(values.place("places"), "unusual", message)
    if builder.context.problems:
        return None
    return Site(
        str(values["site"]), str(values["currency"]), start, cast(Step, values["horizon"]),
        str(values["hemisphere"]), climate, soil, cast(bool, values["made_ground"]), _labour(values, builder),
        places, ways, builder.materials, _limits(cast(Section | None, values.get("limits"))), plan, history,
    )  # fmt: skip


def _climate(values: Section | None, top: Section, builder: Builder) -> Climate:
    values = Section(top.mark) if values is None else values
    monthly, annual = values.get("monthly_mean"), values.get("annual_mean")
    if monthly is not None:
        temperatures = tuple(float(si(one, "temperature")) for one in cast("list[Any]", monthly))
    else:
        temperatures = (
            judgement("assumed_temperature") if annual is None else float(si(annual, "temperature")),
        ) * 12
    assumed = monthly is None and annual is None
    if assumed and top.get("places"):
        builder.warning(
            top.mark, "assumed",
            f"no climate is given; decay is reckoned at {judged_text('assumed_temperature')} and moist",
        )  # fmt: skip
    frosts = [_month_day(values, key, builder) for key in ("last_frost", "first_frost")]
    return Climate(
        temperatures, number(values, "rain_less_evaporation", "water depth"), frosts[0], frosts[1], assumed
    )


def _month_day(values: Section, key: str, builder: Builder) -> tuple[int, int] | None:
    text = values.get(key)
    if text is None:
        return None
    found = re.fullmatch(r"([0-9]{2})-([0-9]{2})", str(text))
    try:
        if not found:
            raise ParseError("not-a-date", "")
        day = date(2001, int(found[1]), int(found[2]))
    except ValueError:
        builder.problem(
            values.place(key), "not-a-date", f'climate.{key}: "{text}" is not a month and day; write 04-20'
        )
        return None
    return day.month, day.day


def _labour(values: Section, builder: Builder) -> Labour:
    section = cast(Section | None, values.get("labour"))
    own = builder.context.own.get("barrow")
    if own is not None and not fits(own.units, "volume"):
        builder.problem(
            values.place("measures"), "wrong-dimension", "measures.barrow: a barrow is a volume, e.g. 80 L"
        )
        own = None
    barrow = rate("barrow") if own is None else float(si(own, "volume"))
    if section is None:
        return Labour(Decimal(0), judgement("push"), barrow, None)
    hours = number(section, "hours_per_week", "hours")
    value = _hourly(section, builder)
    return Labour(value, sure(section, "push", "length"), barrow, hours)


def _hourly(section: Section, builder: Builder) -> Decimal:
    price = cast(Any, section.get("hourly_value"))
    if price is None:
        return Decimal(0)
    factor, unit = read_unit(price.per, builder.context.own)
    return cast(Decimal, price.amount) / Decimal(f"{si(factor * unit, 'hours'):.15g}")


def _limits(values: Section | None) -> Limits:
    if values is None:
        return Limits()
    money = cash(values, "cash") if values.get("cash") is not None else None
    return Limits(
        money, number(values, "hours", "hours"), number(values, "nitrogen", "dose"),
        cast("date | None", values.get("by")),
    )  # fmt: skip


def _history(values: Section, places: dict[str, Place], builder: Builder) -> tuple[HistoryEntry, ...]:
    entries = cast("list[Section]", values.get("history") or [])
    start = cast(date, values["start"])
    late = next((section for section in entries if cast(date, section["date"]) > start), None)
    if late is not None:
        builder.warning(
            late.place("date"), "late-history",
            f"history: {late['date']} is later than start; move start to the day you plan from,"
            " or this counts twice",
        )  # fmt: skip
    found = [_done(section, f"history.{index}", places, builder) for index, section in enumerate(entries, 1)]
    spread = (
        TypedAmount(
            where=f"history.{index}",
            mark=section.place("amount" if "amount" in section else "depth"),
            place=places[done.place],
            loose=done.loose,
            fills=places[done.place].need("fill") is not None,
        )
        for index, (section, done) in enumerate(zip(entries, found, strict=True), 1)
    )
    check_depths(spread, builder)
    return tuple(sorted(found, key=lambda done: done.day))


def _done(section: Section, where: str, places: dict[str, Place], builder: Builder) -> HistoryEntry:
    place = places[str(section["place"])]
    stuff = None
    if section.get("material") is not None:
        stuff = builder.known(str(section["material"]))
    given = size(section, "amount")
    depth = number(section, "depth", "length")
    if (given is None) == (depth is None) and (stuff is not None or given is not None):
        builder.problem(section.mark, "one-of", f"{where}: give exactly one of amount and depth")
    loose = _loose(given, depth, place, stuff.get("density") if stuff else None, section, where, builder)
    money = cash(section, "cash") if section.get("cash") is not None else None
    return HistoryEntry(
        cast(date, section["date"]), place.name, stuff, loose, cast("bool | None", section.get("dug")),
        number(section, "hours", "hours"), money, number(section, "organic_matter", "share"),
        str(section.get("note") or ""),
    )  # fmt: skip


def _loose(
    given: Size | None, depth: float | None, place: Place, density: float | None,
    section: Section, where: str, builder: Builder,
) -> float:  # fmt: skip
    if depth is not None:
        return volume(place.total_area, depth)
    if given is None:
        return 0.0
    if given.volume is None and density is None:
        builder.problem(section.mark, "missing-figure", f"{where}: a mass needs the material's density")
        return 0.0
    return given.loose(density or 1.0)


def _plan(
    values: Section, places: dict[str, Place], ways: dict[str, Way], builder: Builder
) -> tuple[PlanLine, ...]:
    sections = cast("list[Section]", values.get("plan") or [])
    found = [
        _plan_line(section, f"plan.{index}", places, cast(date, values["start"]), builder)
        for index, section in enumerate(sections, 1)
    ]
    amounts = (
        _planned_amount(section, f"plan.{index}", line, places[line.place], ways.get(line.way), builder)
        for index, (section, line) in enumerate(zip(sections, found, strict=True), 1)
        if line.amount is not None
    )
    check_depths((amount for amount in amounts if amount is not None), builder)
    return tuple(found)


def _plan_line(
    section: Section, where: str, places: dict[str, Place], start: date, builder: Builder
) -> PlanLine:
    place, need = places[str(section["place"])], str(section["need"])
    if place.need(need) is None:
        message = f'{where}.need: {place.name} has no need "{need}"'
        builder.problem(section.place("need"), "unknown-need", message)
    amount, day = size(section, "amount"), cast("date | None", section.get("date"))
    if day is not None and day < start:
        builder.problem(
            section.place("date"), "before-start",
            f"{where}.date: {day} is before start ({start}); give a day from then on, and write what"
            ' was done before under "history:"',
        )  # fmt: skip
    return PlanLine(place.name, need, str(section["way"]), amount, day)


def _planned_amount(
    section: Section, where: str, line: PlanLine, place: Place, way: Way | None, builder: Builder
) -> TypedAmount | None:
    """Return a planned amount as loose volume; of a heap at the density the catalogue has for it."""
    if way is None or line.amount is None:
        return None
    stuff: Material = cast(Any, way).material
    density = stuff.get("density")
    if line.amount.volume is None and density is None:
        if way.kind != "make":
            message = f'{where}: a mass needs the density of {stuff.name}; state it under "materials:"'
            builder.problem(section.place("amount"), "missing-figure", message)
        return None
    return TypedAmount(
        where=where,
        mark=section.place("amount"),
        place=place,
        loose=line.amount.loose(density or 1.0),
        fills=line.need == "fill",
    )
