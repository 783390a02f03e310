"""From a checked feed to its record: what the crop named wants on its soil, or what is stated."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from barrowful.catalogue.crops import CropDemand, nitrogen_by_balance
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.rates import rate
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.soil import bulk_density_from_carbon, layer_mass
from barrowful.measures.text import all_of
from barrowful.site.needs import Feed
from barrowful.site.pairs import record
from barrowful.site.records import Soil
from barrowful.sitefile.language.context import ReadContext, Section


class Ground(NamedTuple):
    """The area [m2] of one place, its soil, and whether what grows there stands for years."""

    area: float
    soil: Soil
    stands: bool = False


def feed(terms: Section, ground: Ground, context: ReadContext) -> Feed:
    """Return what a crop wants on its soil; figures that are stated stand over it.

    Where a soil test finds phosphorus high a crop named wants none.
    """
    crop: CropDemand | None = terms.get("for")
    taken: dict[str, float] = {}
    wanted: dict[str, float] = {}
    if crop is not None and crop.per_tree:
        wanted = _of_tree(crop, terms, ground.area, context)
    elif crop is not None:
        taken = _of_crop(crop, terms, context)
        wanted = {**taken, "nitrogen": nitrogen_of(crop, taken.get("nitrogen", 0.0), ground.soil)}
        _check_index(crop, terms, ground.soil, context)
    if ground.soil.phosphorus_test in {"high", "very high"}:
        wanted["phosphorus"] = 0.0
    if crop is not None and not crop.per_tree:
        _check_known(crop, terms, wanted, context)
    if crop is not None and ground.soil.phosphorus_test == "high" and "phosphorus" not in taken:
        context.warning(
            terms.place("for"),
            "assumed",
            f"{terms.path}.for: how much phosphorus {crop.name} carries off is not known here, so where the"
            " soil test is high nothing that holds some goes on, as where it tests very high",
        )
    doses = {
        nutrient: wanted.get(nutrient, 0.0) if terms.get(nutrient) is None else terms[nutrient]
        for nutrient in NUTRIENTS
    }
    unknown = 0.0 if crop is None else None
    nitrogen, phosphorus, potassium = (taken.get(nutrient, unknown) for nutrient in NUTRIENTS)
    return record(
        terms,
        Feed,
        crop=crop.name if crop else "",
        taken=(nitrogen, phosphorus, potassium),
        farm_most=crop.most_nitrogen if crop else None,
        **doses,
    )


def nitrogen_of(crop: CropDemand, uptake: float, soil: Soil) -> float:
    """Return the nitrogen [kg/m2] to give a crop: as its table has it for the soil's index, where it has one.

    Such a table allows for what the soil gives and for what a crop recovers. Without one, what the crop takes
    up is balanced with the soil's supply; a rate that crops are fed at stands as it is.
    """
    if crop.recommended is not None:
        return crop.recommended[soil.nitrogen_index]
    if not crop.uptake:
        return uptake
    return nitrogen_by_balance(uptake, supply_of(soil))


def _check_index(crop: CropDemand, terms: Section, soil: Soil, context: ReadContext) -> None:
    """Warn of an index that no rate of the crop goes by, where nothing else says what the soil gives.

    The index is of mineral nitrogen to 90 cm; how much of it a crop without a table reaches is not known.
    """
    idle = crop.recommended is None and soil.nitrogen_index != Soil.nitrogen_index
    if not idle or terms.get("nitrogen") is not None or (crop.uptake and soil.nitrogen_supply is not None):
        return
    instead = (
        'give "nitrogen_supply: 60 kg/ha" under "soil:" for what it gives in a season'
        if crop.uptake
        else 'give "nitrogen: 6 g/m2" beside it for what you want'
    )
    context.warning(
        terms.place("for"),
        "unused",
        f"{terms.path}.for: {crop.name} has no recommended rates by soil, so nitrogen_index"
        f" {soil.nitrogen_index} changes nothing for it; {instead}",
    )


def _check_known(crop: CropDemand, terms: Section, wanted: Mapping[str, float], context: ReadContext) -> None:
    """Warn of nutrients that nothing says how much of a crop wants: none is reckoned."""
    unknown = [name for name in NUTRIENTS if name not in wanted and terms.get(name) is None]
    if unknown:
        context.warning(
            terms.place("for"),
            "assumed",
            f"{terms.path}.for: how much {all_of(unknown)} {crop.name} wants is not known here, so none is"
            f' reckoned; give it beside "for:" where a soil test is low',
        )


def supply_of(soil: Soil) -> float:
    """Return the nitrogen [kg/m2] a soil gives a crop in a season: as stated, else by its organic matter."""
    if soil.nitrogen_supply is not None:
        return soil.nitrogen_supply
    matter = soil.organic_matter or 0.0
    density = soil.bulk_density
    if density is None:
        density = float(bulk_density_from_carbon(matter / 2))
    held = layer_mass(rate("sampled_depth"), density, soil.stones) * matter * rate("organic_nitrogen_share")
    mineralised = held * rate("mineralised_a_year") * judgement("growing_share")
    return rate("mineral_nitrogen") + float(mineralised)


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
