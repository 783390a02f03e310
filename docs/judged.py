"""Write the page of figures that are judged or from memory, with what would settle them; generate.py asks."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from barrowful.catalogue.contents import FIGURE_KINDS, figures_of_kind
from barrowful.catalogue.crops import crops
from barrowful.catalogue.figures import Figure
from barrowful.catalogue.materials import material, names
from barrowful.catalogue.plants import plant, plant_names

DATA: Mapping[str, Any] = tomllib.loads(Path(__file__).with_name("judged.toml").read_text("utf-8"))
NAMED: Mapping[str, str] = {name: group["settled_by"] for group in DATA["named"] for name in group["names"]}
GRADES = ("judgement", "from memory")
#: Subjects whose figures have names that many things share.
SHARED = {
    "materials": lambda: {name: material(name) for name in names()},
    "plants": lambda: {name: plant(name) for name in plant_names()},
    "crops": crops,
}

PAGE = """# Figures that are judged

This page is generated from the catalogue. It has every figure graded `judgement`, which this project chose
for want of a published one, or `from memory`, which was recalled and not looked up; and it says what would
settle each. {count} of {all} figures stand here, {memory} of them from memory. All others were read, read in
a copy, or derived from what was read. `barrowful figures NAME` shows any of them with its source.

State a figure of your own in the site file and none of this stands in its way.
"""


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A figure that is judged or recalled: its subject, what it is of, its name, and what would settle it."""

    subject: str
    of: str
    name: str
    figure: Figure

    @property
    def settled_by(self) -> str:
        """Return what would settle it: by the catalogue, by its name, or by what it measures."""
        by_name = DATA["by_figure"].get(self.subject, NAMED).get(self.name)
        return self.figure.settled_by or by_name or str(DATA["by_dimension"][self.figure.dimension])


def everything() -> Iterator[Judged]:
    """Yield every figure of the catalogue, subject by subject."""
    for subject, things in SHARED.items():
        for of, thing in things().items():
            for name, figure in thing.figures.items():
                yield Judged(subject=subject, of=of, name=name, figure=figure)
    for kind in FIGURE_KINDS:
        for subject, figures in figures_of_kind(kind).items():
            for name, figure in figures.items():
                yield Judged(subject=subject, of=name, name=name, figure=figure)


def judged() -> list[Judged]:
    """Return the figures that are judged or from memory, those settled alike side by side."""
    subjects = list(dict.fromkeys(each.subject for each in everything()))
    listed = [each for each in everything() if each.figure.grade in GRADES]
    return sorted(
        listed, key=lambda each: (subjects.index(each.subject), each.settled_by, each.name, each.of)
    )


def page() -> str:
    """Return the page."""
    listed, whole = judged(), list(everything())
    memory = sum(each.figure.grade == "from memory" for each in listed)
    text = PAGE.format(count=len(listed), all=len(whole), memory=memory)
    for subject, of_subject in groupby(listed, key=lambda each: each.subject):
        text += f"\n## {subject.capitalize()}\n"
        for settled, group in groupby(of_subject, key=lambda each: each.settled_by):
            text += section(settled, list(group))
    return text


def section(settled: str, group: list[Judged]) -> str:
    """Return the figures that one thing would settle."""
    head = "| of | figure | low | likely | high | unit | grade | what it rests on |\n" + "| --- " * 8 + "|\n"
    return f"\n**{settled}**\n\n{head}" + "".join(map(line, group))


def line(each: Judged) -> str:
    """Return the line of one figure; what it rests on is its place in its source."""
    figure = each.figure
    name = each.name.replace("_", " ")
    cells = [each.of.replace("_", " "), name, *figure.texts, figure.unit, figure.grade, figure.place]
    return f"| {' | '.join(cells)} |\n"
