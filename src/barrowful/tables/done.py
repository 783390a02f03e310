"""The table of what was done: every entry of the history, with what it took."""

from __future__ import annotations

from barrowful.answers.done import Done
from barrowful.tables import shared
from barrowful.tables.columns import FINE_SHARE, VOLUME, WARMTH, day, number, percent, text
from barrowful.tables.layout import Layout

LOOSE = "Loose volume put on, used or spoilt; of a heap that was built, what went in."

DONE: Layout[Done] = Layout(
    name="done",
    title="What was done",
    appears="where the site file has a history",
    identifies=("date", "place", "way", "job", "material"),
    repeats="the same may be done twice on one day",
    noted=("note",),
    summed=("hours", "cash"),
    columns=(
        day("date", "date", "Day it was done.", lambda entry: entry.day),
        shared.place(lambda entry: entry.place),
        shared.way(lambda entry: entry.way),
        text("job", "job", "Which job it was, as you wrote it.", lambda entry: entry.job),
        shared.material(lambda entry: entry.material, "What was put on, used or spoilt."),
        number("loose_m3", "loose", VOLUME, LOOSE, lambda entry: entry.loose),
        shared.mass(lambda entry: entry.mass, "Wet mass put on, used or spoilt."),
        number(
            "organic_matter_percent",
            "SOM",
            FINE_SHARE,
            "Soil organic matter that a soil test found.",
            lambda entry: percent(entry.tested),
        ),
        number(
            "temperature_degc",
            "core",
            WARMTH,
            "Temperature in the core of the heap.",
            lambda entry: entry.temperature,
        ),
        shared.hours(lambda entry: entry.hours),
        shared.cash(lambda entry: entry.cash, "Money it cost."),
        text("note", "note", "What you wrote of it.", lambda entry: entry.note or None),
    ),
)
