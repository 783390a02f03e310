"""From a checked section to the record of a need: each kind that is more than its keys says how."""

from __future__ import annotations

from collections.abc import Callable

from barrowful.catalogue.crops import CropDemand
from barrowful.catalogue.rates import rate
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.site.pairs import record
from barrowful.site.records import NEEDS, Cover, Feed, Need
from barrowful.sitefile.language.context import ReadContext, Section

#: Gives the record of a section, for a place of an area [m2].
Finish = Callable[[Section, float, ReadContext], Need]


def needs_of(items: tuple[Section, ...], area: float, context: ReadContext) -> tuple[Need, ...]:
    """Return the needs of a place of an area [m2], one of a kind."""
    needs: dict[str, Need] = {}
    for item in items:
        word, terms = next(iter(item.items()))
        if word in needs:
            sentence = f'a second "{word}"; a place has one need of a kind'
            context.problem(item.place(word), "duplicate-need", f"{item.path}: {sentence}")
            continue
        kind = NEEDS[word]
        finish = FINISHES.get(kind)
        needs[word] = finish(terms, area, context) if finish else record(terms, kind)
    return tuple(needs.values())


def _cover(terms: Section, area: float, context: ReadContext) -> Cover:
    """A cover that smothers has the published depth where none is given."""
    depth = terms.get("depth") or (rate("smother_depth") if terms.get("smother") else 0.0)
    return record(terms, Cover, depth=depth)


def _feed(terms: Section, area: float, context: ReadContext) -> Feed:
    """A feed is what the crop wants; figures that are stated stand over it."""
    crop: CropDemand | None = terms.get("for")
    wanted: dict[str, float] = {}
    if crop is not None:
        wanted = _of_tree(crop, terms, area, context) if crop.per_tree else _of_crop(crop, terms, context)
    doses = {
        nutrient: wanted.get(nutrient, 0.0) if terms.get(nutrient) is None else terms[nutrient]
        for nutrient in NUTRIENTS
    }
    return record(terms, Feed, crop=crop.name if crop else "", **doses)


def _of_crop(crop: CropDemand, terms: Section, context: ReadContext) -> dict[str, float]:
    """Return doses [kg/m2] of a crop, by area or by the crop expected."""
    expected: float | None = terms.get("crop")
    wanted = {}
    for nutrient in NUTRIENTS:
        by_area, by_crop = crop.figures.get(nutrient), crop.figures.get(f"{nutrient}_per_yield")
        if by_crop is not None and (expected is not None or by_area is None):
            if expected is None:
                _ask(terms, f'{crop.name} is fed by its crop; give "crop: 5 kg/m2"', context)
                return {}
            wanted[nutrient] = by_crop.likely * expected
        elif by_area is not None:
            wanted[nutrient] = by_area.likely
    return wanted


#: Figures of a tree that is fed by its size -> the key that says it, with an example.
BY_SIZE = {
    "nitrogen_per_trunk": ("trunk", "trunk: 6 cm"),
    "nitrogen_per_year_of_age": ("age", "age: 4 years"),
}


def _of_tree(crop: CropDemand, terms: Section, area: float, context: ReadContext) -> dict[str, float]:
    """Return doses [kg/m2] of a tree spread over its ground [m2]."""
    figures = crop.figures
    name = next((name for name in BY_SIZE if name in figures), "nitrogen")
    amount = figures[name].likely
    if name in BY_SIZE:
        key, example = BY_SIZE[name]
        if terms.get(key) is None:
            _ask(terms, f'{crop.name} is fed by its size; give "{example}"', context)
            return {}
        amount *= terms[key]
    if "nitrogen_cap" in figures:
        amount = min(amount, figures["nitrogen_cap"].likely)
    if area <= 0:
        return {}
    others = {nutrient: figures[nutrient].likely for nutrient in NUTRIENTS[1:] if nutrient in figures}
    return {nutrient: mass / area for nutrient, mass in {"nitrogen": amount, **others}.items()}


def _ask(terms: Section, sentence: str, context: ReadContext) -> None:
    context.problem(terms.place("for"), "missing-key", f"{terms.path}: {sentence}")


#: The kinds of need that are more than their keys.
FINISHES: dict[type[Need], Finish] = {Cover: _cover, Feed: _feed}
