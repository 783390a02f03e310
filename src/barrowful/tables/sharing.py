"""The table of shares: who gets what."""

from __future__ import annotations

from barrowful.answers.parts import Part
from barrowful.tables import shared
from barrowful.tables.layout import Layout

SHARING: Layout[Part] = Layout(
    name="sharing",
    title="Who gets what",
    appears="where something is put on a place",
    identifies=("way", "place", "need", "needed_on"),
    noted=("origin",),
    summed=("loose_m3", "barrows"),
    repeats="two lines of a plan may bring the same on the same day",
    columns=(
        shared.way(lambda part: part.way),
        shared.place(lambda part: part.place),
        shared.need(lambda part: part.need),
        shared.needed_on(lambda part: part.day),
        shared.loose(lambda part: part.loose),
        shared.barrows(lambda part: part.barrows),
        shared.origin(lambda part: part.origin or None, "Where stock on hand comes from."),
    ),
)
