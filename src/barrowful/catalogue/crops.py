"""Crops and fruit trees, and what they want of each nutrient: one file each, read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Any, NamedTuple

from barrowful.catalogue.figures import CatalogueError, Figure, load_named, names_in, read_figure
from barrowful.catalogue.rates import rate
from barrowful.ground.nutrients import nitrogen_to_apply
from barrowful.measures.text import read_number, read_unit
from barrowful.measures.units import scale

_FORMS = {"_per_trunk": "per trunk", "_per_year_of_age": "mass rate", "_per_yield": "share", "_cap": "mass"}

#: Entries of a crop that are no figures.
_NO_FIGURES = ("recommended", "scab", "forks", "tender", "on_soil", "acid", "clubroot", "fed_picked")
#: Soil nitrogen indices of which rates are recommended, and those that are shown as high, likely and low.
INDICES = range(7)
_HIGH, _LIKELY, _LOW = 0, 2, 6


class CropDemand(NamedTuple):
    """A crop: figures by area, or by tree when ``per_tree``.

    ``uptake`` says that its nitrogen is what the crop takes up; else it is a rate it is fed. Phosphorus and
    potassium are what its harvested part carries off, or whole plants where the source prints no more;
    ``..._per_yield`` is the same for each kilogram harvested, ``most_nitrogen`` the farm limit of nitrogen
    that counts, a year. ``recommended`` is the nitrogen to give [kg/m2] at soil nitrogen index 0, 1, ... 6,
    where it is printed. ``scab`` is the pH over which it gets scab, ``forks`` says that roots do on manure,
    ``tender`` that it is planted out after the last frost, ``on_soil`` that what is eaten of it touches the
    soil or its splash. ``acid`` is the highest pH at which a crop grows well that wants its ground acid.
    ``clubroot`` says that it gets that disease, ``fed_picked`` that it stands for years and
    is fed once it is picked.

    >>> [round(1000 * dose) for dose in crops()["leek"].recommended]
    [20, 19, 17, 16, 13, 8, 4]
    """

    name: str
    per_tree: bool
    uptake: bool
    figures: Mapping[str, Figure]
    recommended: tuple[float, ...] | None = None
    scab: float | None = None
    forks: bool = False
    tender: bool = False
    on_soil: bool = False
    acid: float | None = None
    clubroot: bool = False
    fed_picked: bool = False

    @property
    def most_nitrogen(self) -> float | None:
        """Return the farm limit of nitrogen that counts [kg/m2] in a year, where there is one.

        >>> crops()["carrot"].most_nitrogen
        0.018
        """
        figure = self.figures.get("most_nitrogen")
        return figure.likely if figure else None


def _recommended(entry: Mapping[str, Any], where: str) -> tuple[float, ...]:
    """Return the doses [kg/m2] of recommended rates; raise where one is missing."""
    if len(entry["values"]) != len(INDICES):
        raise CatalogueError(f"{where}: {len(INDICES)} values are wanted, of index 0 to 6")
    size, unit = read_unit(entry["unit"], {})
    factor, _ = scale(unit, "dose")
    return tuple(read_number(text) * size * factor for text in entry["values"])


def _as_figure(entry: Mapping[str, Any], where: str) -> Figure:
    """Return recommended rates as a figure that can be shown: of poor, of usual and of rich soil."""
    values = entry["values"]
    words = {
        "low": values[_LOW],
        "likely": values[_LIKELY],
        "high": values[_HIGH],
        "basis": f"nitrogen to give at soil index {_HIGH} (high), {_LIKELY} (likely) and {_LOW} (low)",
        "note": f"Index 0 to 6: {', '.join(values)}. {entry.get('note', '')}".strip(),
    }
    return read_figure({**entry, **words}, "dose", where)


def _dimension(key: str, per_tree: bool) -> str:
    form = next((dimension for ending, dimension in _FORMS.items() if key.endswith(ending)), "")
    return form or ("mass" if per_tree else "dose")


def crop_names() -> tuple[str, ...]:
    """Return the names of all crops."""
    return names_in("crops")


@cache
def crop(name: str) -> CropDemand | None:
    """Return a crop of the catalogue, or None when there is none of that name."""
    entry = load_named("crops", name)
    if entry is None:
        return None
    per_tree = entry.get("per") == "tree"
    figures = {
        key: read_figure(value, _dimension(key, per_tree), f"{name}.{key}")
        for key, value in entry.items()
        if isinstance(value, dict) and key not in _NO_FIGURES
    }
    rates = entry.get("recommended")
    if rates is not None:
        figures["recommended_nitrogen"] = _as_figure(rates, f"{name}.recommended")
    return CropDemand(
        name=name,
        per_tree=per_tree,
        uptake=entry.get("uptake", not per_tree),
        figures=MappingProxyType(figures),
        recommended=None if rates is None else _recommended(rates, f"{name}.recommended"),
        scab=read_number(entry["scab"]["ph"]) if "scab" in entry else None,
        forks="forks" in entry,
        tender="tender" in entry,
        on_soil="on_soil" in entry,
        acid=read_number(entry["acid"]["ph"]) if "acid" in entry else None,
        clubroot="clubroot" in entry,
        fed_picked="fed_picked" in entry,
    )


@cache
def crops() -> Mapping[str, CropDemand]:
    """Return every crop by its name."""
    known = ((name, crop(name)) for name in crop_names())
    return MappingProxyType({name: demand for name, demand in known if demand is not None})


def nitrogen_by_balance(uptake: float, supply: float) -> float:
    """Return the nitrogen [kg/m2] to apply to a crop by what it takes up and what the soil gives it [kg/m2].

    The crop recovers the usual share of it; for a crop without recommended rates.

    >>> nitrogen_by_balance(0.012, 0.006)
    0.01
    """
    return nitrogen_to_apply(uptake, supply, rate("recovery"))
