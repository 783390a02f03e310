"""The words of the catalogue: names of figures, classes of material, nutrients."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from barrowful.catalogue.classes import classes
from barrowful.catalogue.figures import load

NUTRIENTS = ("nitrogen", "phosphorus", "potassium")
CLASSES = tuple(classes())


class FigureName(NamedTuple):
    """The dimension, limits and meaning of one figure of a material."""

    dimension: str
    help: str
    example: str
    least: str = ""
    most: str = ""
    of_dry_mass: bool = False


_WORDS = load("vocabulary.toml")
FIGURES: Mapping[str, FigureName] = {name: FigureName(**entry) for name, entry in _WORDS["material"].items()}
#: Name of a plant's figure -> its dimension.
PLANT_FIGURES: Mapping[str, str] = _WORDS["plant"]
#: Words that a place on public ground is told by.
PUBLIC_GROUND = frozenset[str](_WORDS["places"]["public_ground"])
