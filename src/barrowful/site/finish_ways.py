"""From a checked section to the record of a way: each kind that is more than its keys says how."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from barrowful.catalogue.classes import classes
from barrowful.catalogue.materials import DROPPED, Material
from barrowful.catalogue.plants import Plant
from barrowful.ground import amount
from barrowful.ground.sizes import Selling, Size
from barrowful.site.checks import (
    can_be_left,
    can_blend,
    check_densities,
    check_fixer,
    check_sellers,
    check_way,
)
from barrowful.site.pairs import record
from barrowful.site.timber import may_go_in, without_timber
from barrowful.site.tipping import check_terms
from barrowful.site.ways import WAYS, Buy, Grow, Ingredient, Make, Reading, Sample, Way
from barrowful.sitefile.keys.buy import BUY
from barrowful.sitefile.language.context import ReadContext, Section
from barrowful.sitefile.language.money import SellersPrice


@dataclass(eq=False)
class Workshop:
    """What the records of ways are made with: the site's start, and the ways that are made already."""

    start: date
    context: ReadContext
    drawing: frozenset[str]
    ways: dict[str, Way] = field(default_factory=dict)


#: Gives the record of a section, by the name of the way; None after noting a problem.
Finish = Callable[[Section, str, Workshop], Way | None]


def ways_of(sections: tuple[Section, ...], start: date, context: ReadContext) -> tuple[Way, ...]:
    """Return the ways of a site, in the order of the file."""
    kinds = {section["name"]: WAYS[_word(section)] for section in sections}
    drawing = frozenset(name for name, kind in kinds.items() if kind.draws_on_ways)
    workshop = Workshop(start=start, context=context, drawing=drawing)
    for section in sorted(sections, key=lambda section: section["name"] in drawing):
        name, terms = section["name"], section[_word(section)]
        way = _finished(kinds[name], terms, name, workshop)
        if way is not None:
            check_way(way, terms, context)
            workshop.ways[name] = without_timber(way, terms, context)
    made = [(workshop.ways.get(section["name"]), section) for section in sections]
    check_sellers(made, context)
    check_densities(((way, section[_word(section)]) for way, section in made if way), context)
    return tuple(workshop.ways[name] for name in kinds if name in workshop.ways)


def _word(section: Section) -> str:
    return next(word for word in WAYS if word in section)


def _finished(kind: type[Way], terms: Section, name: str, workshop: Workshop) -> Way | None:
    finish = FINISHES.get(kind)
    return finish(terms, name, workshop) if finish else record(terms, kind, name=name)


def _buy(terms: Section, name: str, workshop: Workshop) -> Buy | None:
    price: SellersPrice = terms["price"]
    selling = _selling(price.selling, terms, workshop.context)
    if selling is None:
        return None
    check_terms(terms, workshop.context)
    return record(
        terms,
        Buy,
        name=name,
        price=price.amount,
        selling=selling,
        bag_mass=_bag_mass(terms.get("bag"), terms["material"]),
        left_on=workshop.start if "left" in terms else None,
    )


def _selling(selling: Selling, terms: Section, context: ReadContext) -> Selling | None:
    """Return what the price is for; a price by bag or load needs the size of one."""
    if selling.volume is not None or selling.mass is not None:
        return selling
    word, size = selling.word, terms.get(selling.word)
    if size is None:
        sentence = f'a price by the {word} needs its size; add "{word}: {BUY.by_key[word].example}"'
        context.problem(terms.place("price"), "missing-key", f"{terms.path}.price: {sentence}")
        return None
    return Selling(word, volume=size.volume, mass=size.mass)


def _bag_mass(bag: Size | None, material: Material) -> float | None:
    """Return the mass of one bag [kg], where it can be told."""
    density = material.get("density")
    return bag.wet(density) if bag is not None and (bag.mass or density) else None


def _make(terms: Section, name: str, workshop: Workshop) -> Make | None:
    parts = [_ingredient(part, workshop) for part in terms["from"]]
    ingredients = tuple(part for part in parts if part is not None)
    if len(ingredients) < len(parts):
        return None
    if terms["left"] and not can_be_left(ingredients, terms, workshop.context):
        return None
    material = _yield_of(terms, ingredients, workshop.context)
    if lacking := material.lacks("moisture", *(("density",) if terms["left"] else ())):
        sentence = f'{material.name} needs its {" and ".join(lacking)}; state it under "materials:"'
        workshop.context.problem(terms.place("material"), "missing-figure", f"{terms.path}: {sentence}")
        return None
    readings = tuple(record(reading, Reading) for reading in terms.get("readings") or ())
    return record(terms, Make, name=name, ingredients=ingredients, readings=readings, material=material)


#: What a heap yields where the file does not say.
USUAL_YIELD = "home compost"


def _yield_of(terms: Section, ingredients: tuple[Ingredient, ...], context: ReadContext) -> Material:
    """Return what a heap or a pile yields: of a pile left to rot what its slowest class becomes."""
    stated: Material | None = terms.get("material")
    if stated is not None:
        return stated
    held = {part.material.class_ for part in ingredients}
    rotted = next((sort.rots_to for name, sort in classes().items() if name in held), "")
    found = context.material(rotted if terms["left"] else USUAL_YIELD)
    assert found is not None, "what heaps and piles yield is in the catalogue"
    return found


def _ingredient(terms: Section, workshop: Workshop) -> Ingredient | None:
    material = _drawn(terms, workshop)
    if material is None:
        return None
    lots = [terms[key] for key in ("mass", "volume", "amount") if key in terms]
    weekly = terms.get("weekly")
    if len(lots) + (weekly is not None) > 1 or not ("way" in terms or lots or weekly is not None):
        sentence = "give exactly one of mass, volume, amount, weekly, or draw it from a way"
        workshop.context.problem(terms.mark, "one-of", f"{terms.path}: {sentence}")
        return None
    context = workshop.context
    if not can_blend(material, terms, context) or not may_go_in(material, terms, context):
        return None
    price: SellersPrice | None = terms.get("price")
    bought = {"price": price.amount, "selling": price.selling} if price else {}
    grew_here = material.sort.grows_here and price is None
    return record(
        terms,
        Ingredient,
        material=material,
        once=lots[0] if lots else None,
        from_site=terms.get("from_site", grew_here),
        **bought,
    )


def _drawn(terms: Section, workshop: Workshop) -> Material | None:
    """Return the material of an ingredient: its own, or that of the way it is drawn from."""
    way = terms.get("way")
    if way is None:
        material: Material = terms["material"]
        return material
    if way in workshop.drawing:
        sentence = f'there is no such way "{way}" to draw from: a heap is not made of heaps'
        workshop.context.problem(terms.place("way"), "unknown-way", f"{terms.path}.way: {sentence}")
        return None
    source = workshop.ways.get(way)
    return None if source is None else source.material


def _grow(terms: Section, name: str, workshop: Workshop) -> Grow:
    plant: Plant = terms["plant"]
    material = workshop.context.material(plant.material)
    assert material is not None, "every plant of the catalogue yields a material of it"
    stated, sample = terms.get("fixed_share"), _sample(terms.get("sample"), material, workshop.context)
    material = material.with_figures(sample.figures) if sample else material
    stays = terms["in_place"] and terms.get("grows_on")
    way = record(
        terms,
        Grow,
        name=name,
        material=replace(material, flags=material.flags | {DROPPED}) if stays else material,
        planted=terms.get("planted") or workshop.start,
        sample=sample,
        fixed_share=(plant.get("fixed_share") or 0.0) if stated is None else stated,
    )
    check_fixer(way, terms, workshop.context)
    if way.ended is not None and way.ended <= way.planted:
        sentence = f"{terms.path}.ended: {way.ended} is not after it is sown, on {way.planted}"
        workshop.context.problem(terms.place("ended"), "order", f"{sentence}; give the day it really ends")
    return way


def _sample(terms: Section | None, material: Material, context: ReadContext) -> Sample | None:
    """Return a weighed cut: dry mass for each area, and how moist it is where its dry share is told."""
    if terms is None:
        return None
    dry: float | None = terms.get("dry")
    if ("fresh" in terms) == (dry is not None):
        context.problem(terms.mark, "one-of", f"{terms.path}: give exactly one of fresh and dry")
        return None
    share: float | None = terms.get("dry_share")
    if dry is None:
        dry = material.dry_of(terms["fresh"]) if share is None else terms["fresh"] * share
    moisture = None if share is None else 1 - share
    return record(terms, Sample, dry=amount.dose(dry, terms["area"]), moisture=moisture)


#: The kinds of way that are more than their keys.
FINISHES: Mapping[type[Way], Finish] = {Buy: _buy, Make: _make, Grow: _grow}
