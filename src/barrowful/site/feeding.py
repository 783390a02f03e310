"""The feed need: stated nutrients, or what a crop or fruit tree of the catalogue wants."""

from __future__ import annotations

from typing import Any

from barrowful.catalogue.crops import CropDemand, crops
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.site.builder import Builder, number
from barrowful.site.records import Feed
from barrowful.sitefile.language.context import Section


def build_feed(values: Section, area: float, common: dict[str, Any], builder: Builder, where: str) -> Feed:
    """Return a feed need for a place of an area [m2]; stated figures stand over the crop's."""
    named = values.get("for")
    wanted: dict[str, float] = {}
    if named is not None:
        crop = crops()[str(named)]
        wanted = (
            _of_tree(crop, values, area, builder, where)
            if crop.per_tree
            else _of_crop(crop, values, builder, where)
        )
    for nutrient in NUTRIENTS:
        stated = number(values, nutrient, "dose")
        if stated is not None:
            wanted[nutrient] = stated
    doses = [wanted.get(nutrient, 0.0) for nutrient in NUTRIENTS]
    return Feed(nitrogen=doses[0], phosphorus=doses[1], potassium=doses[2], crop=str(named or ""), **common)


def _of_crop(crop: CropDemand, values: Section, builder: Builder, where: str) -> dict[str, float]:
    """Return doses [kg/m2] of a crop, by area or by the crop expected."""
    expected = number(values, "crop", "dose")
    found = {}
    for nutrient in NUTRIENTS:
        by_area, by_crop = crop.figures.get(nutrient), crop.figures.get(f"{nutrient}_per_yield")
        if by_crop is not None and (expected is not None or by_area is None):
            if expected is None:
                builder.problem(
                    values.place("for"), "missing-key",
                    f'{where}: {crop.name} is fed by its crop; give "crop: 5 kg/m2"',
                )  # fmt: skip
                return {}
            found[nutrient] = by_crop.likely * expected
        elif by_area is not None:
            found[nutrient] = by_area.likely
    return found


def _of_tree(
    crop: CropDemand, values: Section, area: float, builder: Builder, where: str
) -> dict[str, float]:
    """Return doses [kg/m2] of a tree spread over its ground [m2]."""
    figures = crop.figures
    if "nitrogen_per_trunk" in figures:
        across = number(values, "trunk", "length")
        amount = None if across is None else figures["nitrogen_per_trunk"].likely * across
        missing = '"trunk: 6 cm"'
    elif "nitrogen_per_year_of_age" in figures:
        age = number(values, "age", "time")
        amount = None if age is None else figures["nitrogen_per_year_of_age"].likely * age
        missing = '"age: 4 years"'
    else:
        amount, missing = figures["nitrogen"].likely, ""
    if amount is None:
        builder.problem(
            values.place("for"), "missing-key", f"{where}: {crop.name} is fed by its size; give {missing}"
        )
        return {}
    if "nitrogen_cap" in figures:
        amount = min(amount, figures["nitrogen_cap"].likely)
    found = {n: figures[n].likely / area for n in NUTRIENTS[1:] if n in figures and area > 0}
    return {"nitrogen": amount / area if area > 0 else 0.0, **found}
