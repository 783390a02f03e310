"""Rows of the ``figures`` command: the catalogue's contents, and figures with their sources."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from barrowful.catalogue.crops import crops
from barrowful.catalogue.figures import Figure, sources
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.plants import plant, plant_names
from barrowful.catalogue.rates import heap_figures, rates
from barrowful.measures.problems import CannotMeet, did_you_mean
from barrowful.tables.columns import Column
from barrowful.tables.report import Report, Row, table

LIST_KEYS = ("name", "sort", "class", "figures", "about")
FIGURE_KEYS = (
    "of",
    "figure",
    "low",
    "likely",
    "high",
    "unit",
    "basis",
    "grade",
    "source",
    "place_in_source",
    "note",
)
_WORDS = {
    "name": "Name to use in the site file.",
    "sort": "material, plant or crop.",
    "class": "What sort of stuff or plant it is.",
    "figures": "How many figures there are.",
    "about": "In a sentence.",
    "of": "What the figure is of.",
    "figure": "Name of the figure.",
    "low": "Low value as printed.",
    "likely": "Likely value as printed.",
    "high": "High value as printed.",
    "unit": "Unit of the three.",
    "basis": "What it refers to.",
    "grade": "How it is known: read, second-hand, from memory, derived, judgement, or stated.",
    "source": "Where it is from.",
    "place_in_source": "Where in the source.",
    "note": "Anything to know about it.",
}
COLUMNS: list[Column[Any]] = [
    Column(key, "text", key.replace("_", " "), meaning) for key, meaning in _WORDS.items()
]


def figure_report(name: str | None, own: Mapping[str, Material]) -> Report:
    """Return the list of everything, or every figure of one name or kind."""
    if name is None:
        found = table("figures", LIST_KEYS, [*_materials(own), *_plants(), *_crops()], extra=COLUMNS)
        return Report("figures", "", "", [found])
    rows = _of(name, own)
    if not rows:
        known = [*own, *names(), *plant_names(), *crops(), "materials", "plants", "crops", "rates"]
        raise CannotMeet(f'nothing in the catalogue is called "{name}"{did_you_mean(name, known)}')
    shown = ("of", "figure", "low", "likely", "high", "unit", "basis", "grade", "source")
    return Report("figures", "", "", [table("figures", FIGURE_KEYS, rows, shown, extra=COLUMNS)])


def _materials(own: Mapping[str, Material]) -> list[Row]:
    everything = {one: material(one) for one in names()} | dict(own)
    return [
        {
            "name": key,
            "sort": "material",
            "class": one.class_,
            "figures": len(one.figures),
            "about": one.about,
        }
        for key, one in sorted(everything.items())
        if one is not None
    ]


def _plants() -> list[Row]:
    found = [plant(one) for one in plant_names()]
    return [
        {
            "name": one.name,
            "sort": "plant",
            "class": one.habit,
            "figures": len(one.figures),
            "about": one.about,
        }
        for one in found
        if one is not None
    ]


def _crops() -> list[Row]:
    return [
        {"name": one.name, "sort": "crop", "class": "tree" if one.per_tree else "ground",
         "figures": len(one.figures),
         "about": "Wants: " + ", ".join(key.replace("_", " ") for key in one.figures)}
        for one in crops().values()
    ]  # fmt: skip


def _of(name: str, own: Mapping[str, Material]) -> list[Row]:
    groups: dict[str, Mapping[str, Figure]] = {}
    if name in {"rates", "rate"}:
        groups = {"rates": rates(), "heaps": heap_figures()}
    for key in [*names(), *own] if name == "materials" else [name]:
        stuff = own.get(key) or material(key)
        if stuff is not None:
            groups[f"material {key}"] = stuff.figures
    for key in plant_names() if name == "plants" else [name]:
        grown = plant(key)
        if grown is not None:
            groups[f"plant {key}"] = grown.figures
    for key in crops() if name == "crops" else [name]:
        if key in crops():
            groups[f"crop {key}"] = crops()[key].figures
    return [_row(of, key, figure) for of, figures in groups.items() for key, figure in figures.items()]


def _row(of: str, key: str, figure: Figure) -> Row:
    known = sources()
    return {
        "of": of, "figure": key, "low": figure.texts[0], "likely": figure.texts[1], "high": figure.texts[2],
        "unit": figure.unit, "basis": figure.basis, "grade": figure.grade,
        "source": "; ".join(str(known[one]) for one in figure.sources) or f"the site file, {figure.place}",
        "place_in_source": figure.place, "note": figure.note or None,
    }  # fmt: skip
