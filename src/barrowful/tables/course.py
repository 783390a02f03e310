"""Rows of the ``course`` command."""

from __future__ import annotations

from typing import Any

from barrowful.answers.course import Course
from barrowful.soil.trajectory import Point
from barrowful.tables.columns import INCH, Column, Shown
from barrowful.tables.report import Row, Table, grams, percent, table

_DEPTH = (Shown("cm", 100.0, 1), Shown("in", INCH, 1))
EXTRA: tuple[Column[Any], ...] = (
    Column("date", "date", "date", "The day."),
    Column("period", "text", "", "past or planned."),
    Column("mulch_m", "number", "mulch", "Settled depth of mulch lying there.", "m", *_DEPTH),
    Column(
        "fresh_carbon_kg",
        "number",
        "fresh C",
        "Carbon not yet decayed, dug in or on top.",
        "kg",
        Shown("kg", 1, 1),
    ),
    Column("humus_carbon_kg_low", "number", "humus low", "Humus carbon, low.", "kg", Shown("kg", 1, 1)),
    Column(
        "humus_carbon_kg",
        "number",
        "humus C",
        "Humus carbon formed of what was put on.",
        "kg",
        Shown("kg", 1, 1),
    ),
    Column("humus_carbon_kg_high", "number", "humus high", "Humus carbon, high.", "kg", Shown("kg", 1, 1)),
    Column(
        "organic_matter_percent_low", "number", "SOM low", "Soil organic matter, low.", "%", Shown("%", 1, 2)
    ),
    Column(
        "organic_matter_percent_high",
        "number",
        "SOM high",
        "Soil organic matter, high.",
        "%",
        Shown("%", 1, 2),
    ),
    Column(
        "if_mixed_percent",
        "number",
        "SOM if mixed in",
        "Soil organic matter if the mulch and its humus were mixed in; it is not counted otherwise.",
        "%",
        Shown("%", 1, 2),
    ),
    Column(
        "expected_percent",
        "number",
        "expected",
        "What was reckoned for the day of a soil test before it was known.",
        "%",
        Shown("%", 1, 2),
    ),
    Column("tested_percent", "number", "tested", "What a soil test found that day.", "%", Shown("%", 1, 2)),
    Column("next_topup_on", "date", "next top-up", "Next day the mulch is topped up."),
    Column("model", "text", "model", "Which model."),
    Column("som_percent", "number", "SOM", "Soil organic matter by that model.", "%", Shown("%", 1, 2)),
)
KEYS = (
    "way", "place", "date", "period", "mulch_m", "fresh_carbon_kg", "humus_carbon_kg",
    "humus_carbon_kg_low", "humus_carbon_kg_high", "organic_matter_percent", "organic_matter_percent_low", "organic_matter_percent_high",
    "if_mixed_percent", "expected_percent", "tested_percent", "available_nitrogen_g", "next_topup_on",
)  # fmt: skip
SHOWN = (
    "way", "place", "date", "mulch_m", "fresh_carbon_kg", "humus_carbon_kg", "organic_matter_percent",
    "organic_matter_percent_low", "organic_matter_percent_high", "if_mixed_percent", "expected_percent", "tested_percent",
    "available_nitrogen_g", "next_topup_on",
)  # fmt: skip


def course_tables(found: list[Course]) -> tuple[list[Table], list[str]]:
    """Return the course, other models' opinions, and the sentences under them."""
    rows = [_row(course, point) for course in found for point in course.points]
    tables = [table("course", KEYS, rows, SHOWN, extra=EXTRA)]
    opinions: list[Row] = [
        {
            "way": course.title,
            "place": course.place.name,
            "model": name,
            "date": day,
            "som_percent": percent(share),
        }
        for course in found
        for name, (day, share) in course.others.items()
    ]
    if opinions:
        keys = ("way", "place", "model", "date", "som_percent")
        title = "Second opinion on what is dug in, ten years on"
        tables.append(table("opinions", keys, opinions, (), title, extra=EXTRA))
    return tables, [sentence for course in found for sentence in _sentences(course)]


def _row(course: Course, point: Point) -> Row:
    matter = point.matter or (None, None, None)
    return {
        "way": course.title, "place": point.place.name, "date": point.day,
        "period": "past" if point.past else "planned", "mulch_m": point.mulch, "fresh_carbon_kg": point.fresh,
        "humus_carbon_kg": point.humus[1], "humus_carbon_kg_low": point.humus[0], "humus_carbon_kg_high": point.humus[2],
        "organic_matter_percent": percent(matter[1]), "organic_matter_percent_low": percent(matter[0]),
        "organic_matter_percent_high": percent(matter[2]), "if_mixed_percent": percent(point.if_mixed),
        "expected_percent": percent(point.expected), "tested_percent": percent(point.tested), "available_nitrogen_g": grams(point.nitrogen),
        "next_topup_on": point.next_top_up,
    }  # fmt: skip


def _sentences(course: Course) -> list[str]:
    """Say where a target is never met, and where what was gained is on its way down again."""
    found = [f"{course.title}, {course.place.name}: {course.remark}."] if course.remark else []
    gains = [point.matter[1] for point in course.points if point.matter is not None and not point.past]
    if gains and max(gains) > gains[-1] + 1e-4 and course.place.need("raise"):
        found.append(
            f"{course.title}, {course.place.name}: soil organic matter peaks at {max(gains):.1%} and is back to "
            f"{gains[-1]:.1%} at the end; a dose put on once does not last."
        )
    return found
