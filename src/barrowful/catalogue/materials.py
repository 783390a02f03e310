"""Materials of the catalogue: one file each, read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType

from barrowful.catalogue.figures import Figure, folder, load, read_figure
from barrowful.catalogue.vocabulary import CLASSES, FIGURES


@dataclass(frozen=True)
class Material:
    """A material and its figures; shares of dry mass are of elements, never oxides."""

    name: str
    class_: str
    about: str
    figures: Mapping[str, Figure]

    def __getitem__(self, name: str) -> float:
        """Return the likely value in SI units; KeyError when the figure is not known."""
        return self.figures[name].likely

    def get(self, name: str) -> float | None:
        """Return the likely value in SI units, or None when the figure is not known."""
        figure = self.figures.get(name)
        return figure.likely if figure else None

    def lacks(self, *names: str) -> list[str]:
        """Return those of the names that have no figure."""
        return [name for name in names if name not in self.figures]

    def with_figures(self, figures: Mapping[str, Figure]) -> Material:
        """Return the same material with some figures replaced."""
        return replace(self, figures=MappingProxyType({**self.figures, **figures}))

    @property
    def dry_share(self) -> float:
        """Return the dry mass in each wet mass."""
        return 1.0 - self["moisture"]

    @property
    def finished(self) -> bool:
        """Say whether its fresh part counts as soil organic matter once dug in."""
        return self.class_ in {"compost", "manure"}


def _path(name: str) -> str:
    return name.replace(" ", "-") + ".toml"


@cache
def names() -> tuple[str, ...]:
    """Return the names of all materials."""
    return tuple(
        sorted(path.name.removesuffix(".toml").replace("-", " ") for path in folder("materials").iterdir())
    )


@cache
def material(name: str) -> Material | None:
    """Return a material of the catalogue, or None when there is none of that name."""
    if name not in names():
        return None
    entry = load(folder("materials").joinpath(_path(name)))
    figures = {
        key: read_figure(entry[key], FIGURES[key].dimension, f"{name}.{key}")
        for key in FIGURES
        if key in entry
    }
    assert entry["class"] in CLASSES, name
    return Material(entry["name"], entry["class"], entry["about"], MappingProxyType(figures))
