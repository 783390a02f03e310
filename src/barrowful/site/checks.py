"""What keys of different sections must be to each other: a raise needs a soil, a mass a density."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground.soil import bulk_density_from_carbon
from barrowful.measures.telling import DENSITY, measured
from barrowful.site.needs import Feed
from barrowful.site.records import Place, PlanLine, Site, Soil
from barrowful.site.remarks import Remark
from barrowful.site.rings import check_ring
from barrowful.site.ways import Buy, Grow, Ingredient, Way
from barrowful.sitefile.keys.place import SOIL
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.quantity import limits


def check_place(place: Place, section: Section, start: date, context: ReadContext) -> None:
    """Note what the soil and the needs of a place lack, and what they can hardly mean."""
    if "soil" not in section.unread:
        _check_bulk_density(place.soil, section, context)
    if place.new and place.kind != "bed":
        sentence = "the deep first dressing is for a bed that is dug over; here new changes nothing"
        context.warning(section.place("new"), "unused", f"{section.path}.new: {sentence}")
    check_ring(place, section, context)
    for item in section.get("needs") or ():
        word, terms = next(iter(item.items()))
        need = place.need(word)
        for remark in need.remarks(place, start) if need and "soil" not in section.unread else ():
            _note(remark, terms, context)


def _note(remark: Remark, terms: Section, context: ReadContext) -> None:
    """Note what a record says of itself where its section stands."""
    note = context.problem if remark.problem else context.warning
    mark = terms.place(remark.key) if remark.key else terms.mark
    path = f"{terms.path}.{remark.key}" if remark.key else terms.path
    note(mark, remark.code, f"{path}: {remark.sentence}")


def check_horizon(site: Site, section: Section, context: ReadContext) -> None:
    """Say where the horizon ends before the growing season does: a feed is for the whole of one."""
    ends = date(site.start.year, *site.season_ends)
    if ends <= site.start:
        ends = ends.replace(year=ends.year + 1)
    if site.end < ends - timedelta(days=1) and site.places_with(Feed.kind):
        context.warning(
            section.place("horizon"),
            "short-horizon",
            f"horizon: it ends on {site.end}, before the growing season does on {ends - timedelta(days=1)};"
            " a feed is for a whole season, so it is ordered whole, but nothing that comes after the horizon"
            " is looked at. Look at least a year ahead",
        )


def check_limits(site: Site, section: Section, context: ReadContext) -> None:
    """Refuse a day by which all is to be met that is over at the start, and a limit that is lifted too."""
    by, limits = site.limits.by, section.get("limits")
    if not isinstance(limits, Section):
        return
    check_lifted(limits, context)
    if by is not None and by < site.start:
        context.problem(
            limits.place("by"),
            "before-start",
            f"limits.by: {by} is before start ({site.start}); give a day from then on, or leave it out",
        )


def _check_bulk_density(soil: Soil, section: Section, context: ReadContext) -> None:
    """Refuse a soil so rich that the line for its bulk density, which falls with carbon, runs out."""
    if soil.bulk_density is not None or soil.organic_matter is None:
        return
    least, _ = limits(SOIL, "bulk_density")
    if bulk_density_from_carbon(soil.organic_matter / 2) < least:
        context.problem(
            section.place("soil"),
            "missing-key",
            f"{section.path}: the bulk density of a soil with {soil.organic_matter:.0%} organic matter cannot"
            ' be reckoned; give it under "soil:", e.g. bulk_density: 0.2 g/cm3',
        )


def check_way(way: Way, terms: Section, context: ReadContext) -> None:
    """Without a density, mass and volume cannot be turned into each other."""
    if way.by_mass and way.material.get("density") is None:
        sentence = f'the density of {way.material.name} is needed; state it under "materials:"'
        context.problem(terms.place("material"), "missing-figure", f"{terms.path}: {sentence}")
    elif way.by_volume:
        check_density(way.material, terms, "material", context)


def check_densities(ways: Iterable[tuple[Way, Section]], context: ReadContext) -> None:
    """Ask for the density of what is told by volume and no heap draws on: it can meet no need without."""
    known = list(ways)
    drawn = {name for way, _ in known for name in way.draws_from}
    for way, terms in known:
        if way.by_volume and way.material.lacks("density") and way.name not in drawn:
            stuff = way.material.name
            context.warning(
                terms.place("material"),
                "missing-figure",
                f"{terms.path}: the density of {stuff} is not known, so no place can be given any of it;"
                f' weigh a bucket and state it under "materials:", e.g. {stuff}: {{density: 400 kg/m3}}',
            )


def check_sellers(ways: Iterable[tuple[Way | None, Section]], context: ReadContext) -> None:
    """Refuse ways of one seller that tell its delivery or its truck differently: they share its trips."""
    known: dict[str, Buy] = {}
    for way, section in ways:
        if not isinstance(way, Buy) or not way.seller:
            continue
        first = known.setdefault(way.seller, way)
        for key in ("delivery", "truck"):
            if getattr(way, key) != getattr(first, key):
                terms = section["buy"]
                sentence = (
                    f'"{key}" is another than that of {first.name}, of the same seller, {way.seller}; give'
                    " both the same, as they come together"
                )
                context.problem(terms.place(key), "seller", f"{terms.path}.{key}: {sentence}")


def check_density(material: Material, section: Section, key: str, context: ReadContext) -> None:
    """Say what density stands for that of a material described without one, where a volume is told of it."""
    if material.density_assumed:
        context.warning(
            section.place(key),
            "assumed",
            f"{section.path}: the density of {material.name} is not known; a volume of it is reckoned at"
            f' {measured(material["density"], DENSITY, ".4g")}. State it under "materials:", or give weights',
        )


def check_fixer(way: Grow, terms: Section, context: ReadContext) -> None:
    """Only legumes take nitrogen from the air."""
    if terms.get("fixed_share") and not way.plant.fixes_nitrogen:
        context.problem(
            terms.place("fixed_share"),
            "not-a-fixer",
            f"{terms.path}: {way.plant.name} does not fix nitrogen; what it holds comes from the soil."
            " Leave fixed_share out",
        )


def can_blend(material: Material, terms: Section, context: ReadContext) -> bool:
    """Refuse a material without the figures a blend needs; say what density is assumed."""
    lacking = material.lacks("moisture", "carbon", "nitrogen")
    if lacking:
        sentence = f'{material.name} needs {", ".join(lacking)} to be blended; state it under "materials:"'
        context.problem(terms.place("material"), "missing-figure", f"{terms.path}: {sentence}")
        return False
    if material.get("density") is None:
        context.warning(
            terms.place("material"),
            "assumed",
            f"{terms.path}: the density of {material.name} is not known; it is reckoned at "
            f'{measured(rate("unknown_density"), DENSITY, ".4g")} in the heap. State it under "materials:"',
        )
    check_density(material, terms, "material", context)
    return True


#: Keys of a heap that say nothing of a pile left to rot.
OF_HEAPS = ("target_cn", "target_moisture", "chopped", "readings")
#: What must be known of a stuff to follow how it rots.
FOLLOWED = ("organic_matter", "decay", "humus")


def can_be_left(ingredients: Sequence[Ingredient], terms: Section, context: ReadContext) -> bool:
    """Refuse a pile left to rot of what cannot be left, and keys that say nothing of one."""
    before = len(context.problems)
    for key in OF_HEAPS:
        if key in terms.marks:
            sentence = f'a pile left to rot has no "{key}"; leave it out, or leave out "left"'
            context.problem(terms.place(key), "not-of-a-pile", f"{terms.path}.{key}: {sentence}")
    for part, section in zip(ingredients, terms["from"], strict=True):
        stuff, key = part.material, "way" if part.way else "material"
        if not stuff.sort.rots_to:
            told = "only chip, bark, sawdust and leaves are; put it on a heap with a C:N to aim for"
            sentence = f'{stuff.name} is not left to rot by itself: {told}, without "left"'
            context.problem(section.place(key), "cannot-be-left", f"{section.path}.{key}: {sentence}")
        elif lacking := [*stuff.lacks(*FOLLOWED), *(() if stuff.get("nitrogen") else ("nitrogen",))]:
            sentence = f"{stuff.name} needs {', '.join(lacking)} to be followed while it rots"
            more = f'{section.path}.{key}: {sentence}; state it under "materials:", or what it is like'
            context.problem(section.place(key), "missing-figure", more)
    return len(context.problems) == before


#: What must be known of a stuff to tell what any amount of it does to a place.
WEIGHED = ("density", "moisture")


def check_amount(decided: PlanLine, way: Way, line: Section, context: ReadContext) -> bool:
    """Say whether an amount of the plan can be told as a volume; what a heap yields shows only later.

    Refuse one of a stuff of which no need could be given any.
    """
    assert decided.amount is not None
    by_volume = decided.amount.volume is not None
    if by_volume:
        check_density(way.material, line, "amount", context)
    if way.draws_on_ways:
        return by_volume or way.material.get("density") is not None
    lacking = way.material.lacks(*WEIGHED)
    if lacking:
        figures, them = " and the ".join(lacking), "them" if len(lacking) > 1 else "it"
        sentence = f'an amount needs the {figures} of {way.material.name}; state {them} under "materials:"'
        context.problem(line.place("amount"), "missing-figure", f"{line.path}: {sentence}")
    return not lacking


#: Keys of limits that say otherwise what a ceiling does, and its name.
INSTEAD_OF = {"depth_per_year": "yearly_depth", "nitrogen": "nitrogen"}


def check_lifted(section: Section, context: ReadContext) -> None:
    """Refuse a limit of the grower's own beside the lifting of the ceiling that it is instead of."""
    for key, name in INSTEAD_OF.items():
        if section.get(key) is not None and name in (section.get("lift") or ()):
            sentence = f'it lifts what "{key}" limits, so nothing would bind; leave one of the two out'
            context.problem(section.place("lift"), "one-of", f"{section.path}.lift: {name}: {sentence}")


def check_line(line: Section, place: Place, start: date, end: date, context: ReadContext) -> None:
    """A line of the plan is for a need that its place has, on a day looked at, of a way it may get."""
    day: date | None = line.get("date")
    if day is not None and day > end:
        context.warning(
            line.place("date"),
            "after-horizon",
            f"{line.path}.date: {day} is after the horizon, which ends on {end}; is the year right? An amount"
            " counts all the same: look further ahead, or leave the line out",
        )
    if place.ways is not None and line["way"] not in place.ways:
        sentence = (
            f'{place.name} is to get nothing of "{line["way"]}" by its own "ways"; it is put on as written'
        )
        context.warning(line.place("way"), "other-way", f"{line.path}.way: {sentence}")
    if day is not None and day < start:
        context.problem(
            line.place("date"),
            "before-start",
            f"{line.path}.date: {day} is before start ({start}); give a day from then on, and write what"
            ' was done before under "history:"',
        )
    if place.need(line["need"]) is None:
        sentence = f'{place.name} has no need "{line["need"]}"'
        context.problem(line.place("need"), "unknown-need", f"{line.path}.need: {sentence}")
