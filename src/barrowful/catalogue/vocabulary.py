"""The words of the catalogue: figures, classes of material, nutrients, and what else things are called."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from barrowful.catalogue.classes import classes
from barrowful.catalogue.figures import load
from barrowful.measures.problems import did_you_mean

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
#: How much of two names is to be alike, as a share: rock phosphate is no help to who wrote superphosphate.
NAMES_ALIKE = 0.75
#: What is no sort of what it is called like.
_NO_SORT = frozenset[str](_WORDS["unlike"]["no_sort"])
#: Words that a place on public ground is told by.
PUBLIC_GROUND = frozenset[str](_WORDS["places"]["public_ground"])


def also_said(word: str, known: Iterable[str], sorts: bool = False) -> str:
    """Return a hint with the known name of what growers call so, else with the one most like it; or nothing.

    Where names may be of ``sorts`` of the known, else with all that it may be a sort of.

    >>> also_said("Wood chip", ["arborist chip", "wood ash"]), also_said("wod ash", ["wood ash"])
    ('; did you mean "arborist chip"?', '; did you mean "wood ash"?')
    """
    names = list(known)
    plain = " ".join(word.split()).casefold()
    meant, sorts = _WORDS["said"].get(plain), sorts and plain not in _NO_SORT
    return f'; did you mean "{meant}"?' if meant in names else did_you_mean(word, names, NAMES_ALIKE, sorts)
