"""The table of what there is too little of: who wants it, who gets it, and what is lacking."""

from __future__ import annotations

from barrowful.answers.shortages import Allotment
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.layout import Layout

SHORT: Layout[Allotment] = Layout(
    name="short",
    title="Too little for all",
    appears="where a stock, a heap, a crop or a limit leaves a need out",
    identifies=("need", "way", "place"),
    noted=("why_not",),
    always_shown=("wanted_m3", "given_m3", "short_m3"),
    shown=("need", "way", "place", "priority", "wanted_m3", "given_m3", "short_m3", "layer_m", "why_not"),
    columns=(
        shared.need(lambda of: of.need),
        shared.way(lambda of: of.way, "Way, or ways that serve jointly, that there is too little of."),
        shared.place(lambda of: of.place.name),
        c.count(
            "priority",
            "priority",
            "Who comes first: 1 before 2 before 3.",
            lambda of: of.place.priority,
        ),
        c.number("wanted_m3", "wanted", c.VOLUME, "Loose volume that is wanted of it.", lambda of: of.wanted),
        c.number("given_m3", "given", c.VOLUME, "Loose volume that goes there.", lambda of: of.given),
        c.number("short_m3", "short", c.VOLUME, "Loose volume that is lacking.", lambda of: of.short),
        c.number("layer_m", "layer", c.DEPTH, "Depth of what goes there, as spread.", lambda of: of.layer),
        c.number(
            "useful_m",
            "least layer",
            c.DEPTH,
            "The thinnest layer worth spreading there; a thinner one goes to the next place.",
            lambda of: of.useful,
        ),
        shared.why_not(lambda of: of.why or None),
    ),
)
