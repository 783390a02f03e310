"""Plants that grow biomass on the site: one file each, read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from barrowful.catalogue.figures import Figure, load_named, names_in, read_figure
from barrowful.catalogue.vocabulary import PLANT_FIGURES


class Plant(NamedTuple):
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


def plant_names() -> tuple[str, ...]:
    """Return the names of all plants."""
    return names_in("plants")


@cache
def plant(name: str) -> Plant | None:
    """Return a plant of the catalogue, or None when there is none of that name."""
    entry = load_named("plants", name)
    if entry is None:
        return None
    figures = {
        key: read_figure(entry[key], dimension, f"{name}.{key}")
        for key, dimension in PLANT_FIGURES.items()
        if key in entry
    }
    return Plant(
        name=entry["name"],
        material=entry["material"],
        habit=entry["habit"],
        fixes_nitrogen=entry["fixes_nitrogen"],
        weed_risk=entry["weed_risk"],
        frost_tender=entry["frost_tender"],
        sown_in=tuple(entry.get("sown_in", ())),
        about=entry["about"],
        figures=MappingProxyType(figures),
    )
