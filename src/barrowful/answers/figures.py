"""What the catalogue and a site hold: everything in a line each, and the figures of one name or kind."""

from __future__ import annotations

from collections.abc import Mapping

from barrowful.catalogue.contents import FIGURE_KINDS, figures_of_kind, words
from barrowful.catalogue.crops import crops
from barrowful.catalogue.figures import Figure, sources
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.plants import plant, plant_names
from barrowful.catalogue.vocabulary import also_said
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet

#: The sort of a material.
MATERIAL = "material"


@fixed(eq=True)
class Entry:
    """What there is by a name: its sort and class, how many figures it has, and a sentence."""

    name: str
    sort: str
    class_: str | None = None
    figures: int | None = None
    about: str


@fixed(eq=True)
class FigureLine:
    """One figure of something, with its sources in words; of a material by its name, if it is one."""

    of: str
    name: str
    figure: Figure
    source: str

    @property
    def material(self) -> str | None:
        """Return the name of the material it is of."""
        sort, _, name = self.of.partition(" ")
        return name if sort == MATERIAL else None


def entries(own: Mapping[str, Material]) -> list[Entry]:
    """Return everything the catalogue holds, with a site's own materials."""
    return [*_materials(own), *_plants(), *_crops(), *_kinds(), *_words()]


def _materials(own: Mapping[str, Material]) -> list[Entry]:
    stuffs = {name: material(name) for name in names()} | dict(own)
    return [
        Entry(name=name, sort=MATERIAL, class_=stuff.class_, figures=len(stuff.figures), about=stuff.about)
        for name, stuff in sorted(stuffs.items())
        if stuff is not None
    ]


def _plants() -> list[Entry]:
    plants = (plant(name) for name in plant_names())
    return [
        Entry(name=one.name, sort="plant", class_=one.habit, figures=len(one.figures), about=one.about)
        for one in plants
        if one is not None
    ]


def _crops() -> list[Entry]:
    return [
        Entry(
            name=crop.name,
            sort="crop",
            class_="tree" if crop.per_tree else "ground",
            figures=len(crop.figures),
            about="Wants: " + ", ".join(key.replace("_", " ") for key in crop.figures),
        )
        for crop in crops().values()
    ]


def _kinds() -> list[Entry]:
    return [
        Entry(
            name=name,
            sort="kind of figure",
            figures=sum(len(figures) for figures in figures_of_kind(name).values()),
            about=about,
        )
        for name, about in FIGURE_KINDS.items()
    ]


def _words() -> list[Entry]:
    return [Entry(name=name, sort=sort, about=about) for name, (sort, about) in words().items()]


def figures_of(name: str, own: Mapping[str, Material]) -> list[FigureLine]:
    """Return every figure of one material, plant, crop or kind of rate.

    Raises :class:`CannotMeet` where nothing is called so.
    """
    lines = lines_of(_groups(name, own))
    if not lines:
        if name in words():
            raise CannotMeet(f'"{name}" is a {": ".join(words()[name])} It has no figures of its own')
        known = [*own, *names(), *plant_names(), *crops(), "materials", "plants", "crops", *FIGURE_KINDS]
        raise CannotMeet(f'nothing in the catalogue is called "{name}"{also_said(name, known)}')
    return lines


def all_figures(own: Mapping[str, Material]) -> list[FigureLine]:
    """Return every figure of everything: each material, plant and crop, and each kind of figure."""
    return [
        line for name in ("materials", "plants", "crops", *FIGURE_KINDS) for line in figures_of(name, own)
    ]


def lines_of(groups: Mapping[str, Mapping[str, Figure]]) -> list[FigureLine]:
    """Return a line for each figure, by what they are of."""
    return [
        FigureLine(of=of, name=key, figure=figure, source=_source(figure))
        for of, figures in groups.items()
        for key, figure in figures.items()
    ]


def _groups(name: str, own: Mapping[str, Material]) -> dict[str, Mapping[str, Figure]]:
    """Return the figures asked for, by what they are of."""
    groups = figures_of_kind("rates" if name == "rate" else name)
    for key in [*names(), *own] if name == "materials" else [name]:
        stuff = own.get(key) or material(key)
        if stuff is not None:
            groups[f"{MATERIAL} {key}"] = stuff.figures
    for key in plant_names() if name == "plants" else [name]:
        grown = plant(key)
        if grown is not None:
            groups[f"plant {key}"] = grown.figures
    for key in crops() if name == "crops" else [name]:
        if key in crops():
            groups[f"crop {key}"] = crops()[key].figures
    return groups


def _source(figure: Figure) -> str:
    known = sources()
    return "; ".join(str(known[key]) for key in figure.sources) or f"the site file, {figure.place}"
