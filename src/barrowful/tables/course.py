"""The table of the course: one place on one day, under what is followed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from barrowful.answers.course import Course
from barrowful.measures.fixed import fixed
from barrowful.soil.trajectory import Point
from barrowful.tables import shared
from barrowful.tables.columns import DEPTH, FINE_SHARE, SMALL_MASS, day, grams, number, percent, text
from barrowful.tables.layout import Layout

MIXED = "Soil organic matter if the mulch and its humus were mixed in; it is not counted otherwise."
SEASON = "Nitrogen usable in the season of the day, of all put on so far; negative is tied up."
EXPECTED = "What was reckoned for the day of a soil test before it was known."
CARBON = SMALL_MASS


@fixed(kw_only=False, eq=True)
class CoursePoint:
    """A point of a course, and the course."""

    course: Course
    point: Point


def course_points(courses: Iterable[Course]) -> Iterator[CoursePoint]:
    """Yield every point of some courses."""
    return (CoursePoint(course, point) for course in courses for point in course.points)


def _matter(end: int) -> Callable[[CoursePoint], float | None]:
    """Return what reads soil organic matter [%] at an end of its range: low, likely or high."""
    return lambda row: None if row.point.matter is None else percent(row.point.matter[end])


COURSE: Layout[CoursePoint] = Layout(
    name="course",
    identifies=("way", "place", "date"),
    shown=(
        *("way", "place", "date", "mulch_m", "fresh_carbon_kg", "humus_carbon_kg"),
        *("organic_matter_percent", "organic_matter_percent_low", "organic_matter_percent_high"),
        *("if_mixed_percent", "expected_percent", "tested_percent", "available_nitrogen_g", "next_topup_on"),
    ),
    ranged=(
        *("mulch_m", "fresh_carbon_kg", "humus_carbon_kg", "organic_matter_percent", "if_mixed_percent"),
        "available_nitrogen_g",
    ),
    shown_ranged=(
        *("way", "place", "date", "mulch_m", "mulch_m_10", "mulch_m_90"),
        *("organic_matter_percent", "organic_matter_percent_10", "organic_matter_percent_90"),
        *("tested_percent", "available_nitrogen_g", "available_nitrogen_g_10", "available_nitrogen_g_90"),
        "next_topup_on",
    ),
    first_to_go=("if_mixed_percent", "fresh_carbon_kg", "available_nitrogen_g"),
    columns=(
        shared.way(lambda row: row.course.title, shared.FOLLOWED),
        shared.place(lambda row: row.course.place.name),
        day("date", "date", "The day.", lambda row: row.point.day),
        text("period", "", "past or planned.", lambda row: "past" if row.point.past else "planned"),
        number("mulch_m", "mulch", DEPTH, "Settled depth of mulch lying there.", lambda row: row.point.mulch),
        number(
            "fresh_carbon_kg",
            "fresh C",
            CARBON,
            "Carbon not yet decayed, dug in or on top.",
            lambda row: row.point.fresh,
        ),
        number(
            "humus_carbon_kg",
            "humus C",
            CARBON,
            "Humus carbon formed of what was put on.",
            lambda row: row.point.humus[1],
        ),
        number(
            "humus_carbon_kg_low",
            "humus low",
            CARBON,
            "Humus carbon, low.",
            lambda row: row.point.humus[0],
        ),
        number(
            "humus_carbon_kg_high",
            "humus high",
            CARBON,
            "Humus carbon, high.",
            lambda row: row.point.humus[2],
        ),
        shared.organic_matter_percent(_matter(1), "Soil organic matter on the day."),
        number("organic_matter_percent_low", "SOM low", FINE_SHARE, "Soil organic matter, low.", _matter(0)),
        number(
            "organic_matter_percent_high", "SOM high", FINE_SHARE, "Soil organic matter, high.", _matter(2)
        ),
        number(
            "if_mixed_percent",
            "SOM if mixed in",
            FINE_SHARE,
            MIXED,
            lambda row: percent(row.point.if_mixed),
        ),
        number("expected_percent", "expected", FINE_SHARE, EXPECTED, lambda row: percent(row.point.expected)),
        number(
            "tested_percent",
            "tested",
            FINE_SHARE,
            "What a soil test found that day.",
            lambda row: percent(row.point.tested),
        ),
        shared.available_nitrogen(lambda row: grams(row.point.nitrogen), SEASON),
        day(
            "next_topup_on",
            "next top-up",
            "Next day the mulch is topped up.",
            lambda row: row.point.next_top_up,
        ),
    ),
)
