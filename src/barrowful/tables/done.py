"""The table of what was done: every entry of the history, with what it took."""

from __future__ import annotations

from barrowful.answers.done import Done
from barrowful.tables import shared
from barrowful.tables.columns import FINE_SHARE, VOLUME, day, number, percent, text
from barrowful.tables.layout import Layout

DONE: Layout[Done] = Layout(
    name="done",
    title="What was done",
    appears="where the site file has a history",
    identifies=("date", "place", "material"),
    repeats="the same may be put on twice on one day",
    noted=("note",),
    columns=(
        day("date", "date", "Day it was done.", lambda entry: entry.day),
        shared.place(lambda entry: entry.place),
        shared.material(lambda entry: entry.material, "What was put on."),
        number("loose_m3", "loose", VOLUME, "Loose volume put on.", lambda entry: entry.loose),
        shared.mass(lambda entry: entry.mass, "Wet mass put on."),
        number(
            "organic_matter_percent",
            "SOM",
            FINE_SHARE,
            "Soil organic matter that a soil test found.",
            lambda entry: percent(entry.tested),
        ),
        shared.hours(lambda entry: entry.hours),
        shared.cash(lambda entry: entry.cash, "Money it cost."),
        text("note", "note", "What you wrote of it.", lambda entry: entry.note or None),
    ),
)
