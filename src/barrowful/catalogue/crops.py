"""Crops and fruit trees by name, and what they want of each nutrient; read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from barrowful.catalogue.figures import Figure, folder, load, read_figure

_FORMS = {"_per_trunk": "per trunk", "_per_year_of_age": "mass rate", "_per_yield": "share", "_cap": "mass"}


@dataclass(frozen=True)
class CropDemand:
    """A crop: figures by area, or by tree when ``per_tree``."""

    name: str
    per_tree: bool
    figures: Mapping[str, Figure]


def _dimension(key: str, per_tree: bool) -> str:
    form = next((dimension for ending, dimension in _FORMS.items() if key.endswith(ending)), "")
    return form or ("mass" if per_tree else "dose")


@cache
def _entries() -> Mapping[str, Mapping[str, Any]]:
    """Return every crop as it is written, by its name."""
    paths = sorted(folder("crops").iterdir(), key=lambda path: path.name)
    return {entry["name"]: entry for path in paths for entry in load(path)["crop"]}


def crop_names() -> tuple[str, ...]:
    """Return the names of all crops."""
    return tuple(_entries())


@cache
def crop(name: str) -> CropDemand | None:
    """Return a crop of the catalogue, or None when there is none of that name."""
    entry = _entries().get(name)
    if entry is None:
        return None
    per_tree = entry.get("per") == "tree"
    figures = {
        key: read_figure(value, _dimension(key, per_tree), f"{name}.{key}")
        for key, value in entry.items()
        if isinstance(value, dict)
    }
    return CropDemand(name, per_tree, MappingProxyType(figures))


@cache
def crops() -> Mapping[str, CropDemand]:
    """Return every crop by its name."""
    known = ((name, crop(name)) for name in crop_names())
    return MappingProxyType({name: demand for name, demand in known if demand is not None})
