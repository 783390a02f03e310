"""The tables of figures: the catalogue's contents, and figures with their sources."""

from __future__ import annotations

from dataclasses import replace

from barrowful.answers.figures import Entry, FigureLine
from barrowful.tables import shared
from barrowful.tables.columns import count, text
from barrowful.tables.layout import Layout

SORT = "material, plant, crop, kind of figure, class or flag."
GRADE = "How it is known: read, second-hand, from memory, derived, judgement, or stated."

CONTENTS: Layout[Entry] = Layout(
    name="figures",
    appears="where neither a NAME nor --all is given",
    identifies=("sort", "name"),
    columns=(
        text("name", "name", "Name to use in the site file.", lambda entry: entry.name),
        text("sort", "sort", SORT, lambda entry: entry.sort),
        text("class", "class", "What sort of stuff or plant it is.", lambda entry: entry.class_),
        replace(
            count("figures", "figures", "How many figures there are.", lambda entry: entry.figures), left=True
        ),
        text("about", "about", "In a sentence.", lambda entry: entry.about),
    ),
)

FIGURES: Layout[FigureLine] = Layout(
    name="figures",
    appears="where a NAME or --all is given",
    identifies=("of", "figure"),
    shown=("of", "figure", "low", "likely", "high", "unit", "basis", "grade", "source"),
    noted=("source",),
    first_to_go=("basis",),
    columns=(
        text("of", "of", "What the figure is of.", lambda line: line.of),
        text("figure", "figure", "Name of the figure.", lambda line: line.name),
        text("low", "low", "Low value as printed.", lambda line: line.figure.texts[0]),
        text("likely", "likely", "Likely value as printed.", lambda line: line.figure.texts[1]),
        text("high", "high", "High value as printed.", lambda line: line.figure.texts[2]),
        text("unit", "unit", "Unit of the three.", lambda line: line.figure.unit),
        text("basis", "basis", "What it refers to.", lambda line: line.figure.basis),
        text("grade", "grade", GRADE, lambda line: line.figure.grade),
        text("source", "source", "Where it is from.", lambda line: line.source),
        text("place_in_source", "place in source", "Where in the source.", lambda line: line.figure.place),
        text("note", "note", "Anything to know about it.", lambda line: line.figure.note or None),
        shared.material(lambda line: line.material, "The material it is of, if it is one."),
    ),
)
