"""Plants that grow biomass on the site: one file each, read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from barrowful.catalogue.figures import Figure, folder, load, read_figure

#: Name of a plant's figure -> its dimension.
PLANT_FIGURES = {
    "dry_yield_per_plant": "mass rate", "dry_yield_per_metre": "row yield",
    "dry_yield_per_area": "area yield", "spacing": "length", "cuts_per_year": "count",
    "cut_interval": "time", "first_cut": "time", "full_yield": "time", "strike_rate": "share",
    "cuttings_per_plant": "count", "cycle": "time", "height": "length",
    "killed_below": "temperature", "stops_below": "temperature", "life": "time",
    "shade_diameter": "length", "dry_matter": "dose", "full_term": "time", "seed_rate": "feed",
    "fixed_share": "share", "plant_back": "time", "late_loss": "share",
    "roots_in_water": "time",
}  # fmt: skip


@dataclass(frozen=True)
class Plant:
    """A plant, the material it yields, and its figures."""

    name: str
    material: str
    habit: str
    fixes_nitrogen: bool
    weed_risk: bool
    frost_tender: bool
    sown_in: tuple[str, ...]
    about: str
    figures: Mapping[str, Figure]

    def get(self, name: str) -> float | None:
        """Return the likely value in SI units, or None when the figure is not known."""
        figure = self.figures.get(name)
        return figure.likely if figure else None


@cache
def plant_names() -> tuple[str, ...]:
    """Return the names of all plants."""
    return tuple(
        sorted(path.name.removesuffix(".toml").replace("-", " ") for path in folder("plants").iterdir())
    )


@cache
def plant(name: str) -> Plant | None:
    """Return a plant of the catalogue, or None when there is none of that name."""
    if name not in plant_names():
        return None
    entry: dict[str, Any] = load(folder("plants").joinpath(name.replace(" ", "-") + ".toml"))
    figures = {
        key: read_figure(entry[key], dimension, f"{name}.{key}")
        for key, dimension in PLANT_FIGURES.items()
        if key in entry
    }
    return Plant(
        entry["name"], entry["material"], entry["habit"], entry["fixes_nitrogen"],
        entry["weed_risk"], entry["frost_tender"], tuple(entry.get("sown_in", ())),
        entry["about"], figures,
    )  # fmt: skip
