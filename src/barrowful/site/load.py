"""From the bytes of a site file to a :class:`Site`, with every problem told at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, fields, replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.rates import rate
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Problem, SiteProblems, WrongUse
from barrowful.measures.telling import TEMPERATURE, measured
from barrowful.measures.text import Measured
from barrowful.site import checks, weather
from barrowful.site.depths import TypedAmount, check_depths
from barrowful.site.finish_feeds import Ground
from barrowful.site.finish_needs import beside_ways, needs_of
from barrowful.site.finish_ways import ways_of
from barrowful.site.pairs import given, record
from barrowful.site.past import check_history, entries_of, of_ways, spread_on, told_once, with_logs
from barrowful.site.pieces import ask_own_barrow, ask_own_measures, size_pieces
from barrowful.site.records import (
    Climate,
    Labour,
    Limits,
    Place,
    PlanLine,
    Practice,
    Site,
    Soil,
)
from barrowful.site.references import check_names
from barrowful.site.sound import sound
from barrowful.site.standing import check_standing
from barrowful.site.tipping import check_drop
from barrowful.site.ways import Way
from barrowful.sitefile.keys.place import SOIL
from barrowful.sitefile.keys.shape import AREAS, radius
from barrowful.sitefile.keys.site import CLIMATE, LABOUR, LIMITS
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.reader import read
from barrowful.sitefile.text.edit import set_values
from barrowful.sitefile.text.nodes import Document, parse

#: Kinds of place on which what grows stands for years.
STAND = frozenset({"tree", "row"})
#: A value given for one of the file's: a text as it would stand there, or what is written as one.
Typed = str | int | float | Decimal | date


@fixed
class ReadSite:
    """A site, the warnings given on the way, and the grower's own measures."""

    site: Site
    warnings: tuple[Problem, ...]
    measures: Mapping[str, Measured]


@fixed
class LoadedSite(ReadSite):
    """A site with the document it came from and what the reader knew: it may be read with other values."""

    document: Document
    context: ReadContext = field(repr=False)

    @property
    def alone(self) -> ReadSite:
        """Return it without what it was read from, which takes more room than all the rest."""
        return ReadSite(site=self.site, warnings=self.warnings, measures=self.measures)

    def with_values(self, values: Mapping[str, Typed]) -> LoadedSite:
        """Return the site as if its file had other values, each by its path; the file stays as it is.

        A path is as for ``--set``, a text as it would stand in the file. Raises :class:`SiteProblems` for
        values that make the site unsound, and :class:`WrongUse` for a path that leads nowhere.

        >>> text = b"{site: Far Side, currency: EUR, start: 2027-03-01, places: []}"
        >>> load(text, "x.yaml").with_values({"start": date(2028, 1, 1)}).site.start
        datetime.date(2028, 1, 1)
        """
        return self.changed(changes_to(values))

    def changed(self, changes: Iterable[tuple[str, str]]) -> LoadedSite:
        """Return the site of the document with changes, each a path and a text; only these are read anew."""
        return build(set_values(self.document, changes), self.context)


def changes_to(values: Mapping[str, Typed]) -> list[tuple[str, str]]:
    """Return values by path as the texts that would stand in the file; refuse what is no such mapping."""
    if not isinstance(values, Mapping) or not all(isinstance(path, str) for path in values):
        raise WrongUse(f'values stand by their path, {{"places.beds.count": 3}}, not as {values!r:.60}')
    return [
        (path, str(value).lower() if isinstance(value, bool) else str(value))
        for path, value in values.items()
    ]


def load(data: bytes, file: str) -> LoadedSite:
    """Return the site of a file's bytes; raise :class:`SiteProblems` listing all that is wrong.

    >>> load(b"{site: Far Side, currency: EUR, start: 2027-03-01, places: []}", "x.yaml").site.name
    'Far Side'
    """
    return build(parse(data, file))


def build(document: Document, before: ReadContext | None = None) -> LoadedSite:
    """Return the site of a document; raise :class:`SiteProblems` listing all that is wrong.

    ``before`` is the context of a sound document that shares nodes with it.
    """
    context = ReadContext(document.file, before=before)
    values = read(document, context)
    check_names(values, context)
    size_pieces(values, context)
    if document.problems or context.problems:
        _site(sound(values, [*document.problems, *context.problems], context), context)
        raise SiteProblems([*document.problems, *context.problems])
    ask_own_measures(values, context)
    ask_own_barrow(values, context)
    site = _site(values, context)
    if context.problems:
        raise SiteProblems(context.problems)
    warnings = tuple(sorted(set(context.warnings)))
    context.before = None  # what it knew is taken over
    return LoadedSite(
        site=site, warnings=warnings, measures=context.measures, document=document, context=context
    )


def _site(values: Section, context: ReadContext) -> Site:
    """Return the site of values without problems; what they are to each other is noted."""
    start: date = values["start"]
    sections = {
        key: values.get(key) or group.blank(values.mark, context)
        for key, group in (("climate", CLIMATE), ("soil", SOIL), ("labour", LABOUR), ("limits", LIMITS))
    }
    soil = record(sections["soil"], Soil)
    limits = record(sections["limits"], Limits)
    places = {section["name"]: _place(section, soil, limits, start, context) for section in values["places"]}
    ways = ways_of(values.get("ways") or (), start, context)
    planned: dict[str, set[str]] = {name: set() for name in places}
    for line in values.get("plan") or ():
        planned[line["place"]].add(line["need"])
    places = {name: beside_ways(place, ways, planned[name]) for name, place in places.items()}
    check_drop(values, ways, context)
    check_standing(values, ways, places, context)
    entries = _entries(values, ways)
    check_history(entries, start, context)
    history = told_once(entries, entries_of(entries, places, ways, context), context)
    check_depths(spread_on(entries, history, places), context)
    lines = values.get("plan") or ()
    span = start, values["horizon"].after(start)
    plan = [_line(line, places[line["place"]], span, context) for line in lines]
    check_depths(_planned(lines, plan, places, ways, context), context)
    site = record(
        values,
        Site,
        climate=_climate(sections["climate"], values, context),
        soil=soil,
        labour=record(sections["labour"], Labour, barrow=context.own_volume("barrow") or rate("barrow")),
        places=tuple(places.values()),
        ways=with_logs(ways, history, start),
        materials=MappingProxyType(context.materials),
        limits=limits,
        plan=tuple(plan),
        history=tuple(sorted(history, key=lambda entry: entry.day)),
    )
    checks.check_horizon(site, values, context)
    checks.check_limits(site, values, context)
    return site


def _entries(values: Section, ways: Iterable[Way]) -> list[Section]:
    """Return what was done, but with ways that could not be made: what is wrong with these is told."""
    names = {section["name"] for section in values.get("ways") or ()}
    return list(of_ways(values.get("history") or (), names, {way.name for way in ways}))


def _climate(section: Section, values: Section, context: ReadContext) -> Climate:
    monthly, annual = section.get("monthly_mean"), section.get("annual_mean")
    assumed = monthly is None and annual is None
    if assumed and values["places"]:
        warmth = measured(judgement("assumed_temperature"), TEMPERATURE)
        sentence = f"no climate is given; decay is reckoned at {warmth} and moist"
        context.warning(values.mark, "assumed", sentence)
    if monthly and annual is not None:
        sentence = "it changes nothing beside monthly_mean, which says more; take one of them out"
        context.warning(section.place("annual_mean"), "unused", f"{section.path}.annual_mean: {sentence}")
    temperatures = monthly or (judgement("assumed_temperature") if annual is None else annual,) * 12
    weather.check_frosts(section, values["hemisphere"], context)
    weather.check_months(section, values["hemisphere"], context)
    weather.check_warmth(section, temperatures, context)
    return record(section, Climate, temperatures=temperatures, assumed=assumed)


def _place(section: Section, behind: Soil, limits: Limits, start: date, context: ReadContext) -> Place:
    """Return a place; what its own soil and limits do not say, the site's do."""
    soil: Section | None = section.get("soil")
    shape: Section = section["shape"]
    ring = shape.get("ring")
    area = _area(shape, section["count"], context)
    own = behind if soil is None else replace(behind, **given(soil, Soil))
    place = record(
        section,
        Place,
        area=area,
        ring=None if ring is None else (radius(ring), ring["collar"]),
        needs=needs_of(section.get("needs") or (), Ground(area, own, section["kind"] in STAND), context),
        soil=own,
        limits=_practice(section.get("limits"), limits, context),
    )
    checks.check_place(place, section, start, context)
    return place


def _practice(section: Section | None, site: Practice, context: ReadContext) -> Practice:
    """Return the limits of good practice on a place: its own over the site's, what either lifts lifted.

    What the place limits for itself binds where the site lifts it.
    """
    own = {} if section is None else given(section, Practice)
    if section is not None:
        checks.check_lifted(section, context)
    limited = {name for key, name in checks.INSTEAD_OF.items() if key in own}
    behind = {field.name: getattr(site, field.name) for field in fields(Practice)}
    return Practice(**{**behind, **own, "lift": (site.lift - limited) | own.get("lift", frozenset())})


def _area(shape: Section, count: int, context: ReadContext) -> float:
    """Return the area [m2] of one of so many, nothing after noting why there is none."""
    word, value = next(iter(shape.items()))
    try:
        return AREAS[word](value, count)
    except ValueError as error:
        context.problem(shape.place(word), "bad-shape", f"{shape.path}.{word}: {error}")
        return 0.0


def _line(line: Section, place: Place, span: tuple[date, date], context: ReadContext) -> PlanLine:
    checks.check_line(line, place, *span, context)
    return record(line, PlanLine)


def _planned(
    lines: Sequence[Section],
    plan: Sequence[PlanLine],
    places: Mapping[str, Place],
    ways: Sequence[Way],
    context: ReadContext,
) -> Iterator[TypedAmount]:
    """Yield the amounts of a plan as loose volumes; of a heap at the density the catalogue has for it."""
    by_name = {way.name: way for way in ways}
    for line, decided in zip(lines, plan, strict=True):
        way = by_name.get(decided.way)
        if way is None or decided.amount is None or not checks.check_amount(decided, way, line, context):
            continue
        yield TypedAmount(
            where=line.path,
            mark=line.place("amount"),
            place=places[decided.place],
            loose=decided.amount.loose(way.material.get("density") or 1.0),
            fills=decided.need == "fill",
        )
