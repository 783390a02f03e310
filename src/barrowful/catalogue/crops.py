"""Crops and fruit trees by name, and what they want of each nutrient."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

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
def crops() -> dict[str, CropDemand]:
    """Return every crop by its name."""
    found = {}
    for path in sorted(folder("crops").iterdir(), key=lambda path: path.name):
        for entry in load(path)["crop"]:
            name, per_tree = entry["name"], entry.get("per") == "tree"
            figures = {
                key: read_figure(value, _dimension(key, per_tree), f"{name}.{key}")
                for key, value in entry.items()
                if isinstance(value, dict)
            }
            found[name] = CropDemand(name, per_tree, figures)
    return found
