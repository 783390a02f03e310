"""The table of second opinions: what other models make of what is dug in."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from barrowful.answers.course import Course
from barrowful.measures.fixed import fixed
from barrowful.tables import shared
from barrowful.tables.columns import FINE_SHARE, day, number, percent, text
from barrowful.tables.layout import Layout


@fixed(eq=True)
class Opinion:
    """What one model makes of a course: soil organic matter [share] on a day."""

    course: Course
    model: str
    day: date
    matter: float


def opinions(courses: Iterable[Course]) -> list[Opinion]:
    """Return every model's opinion on some courses."""
    return [
        Opinion(course=course, model=model, day=when, matter=matter)
        for course in courses
        for model, (when, matter) in course.others.items()
    ]


OPINIONS: Layout[Opinion] = Layout(
    name="opinions",
    title="Second opinion on what is dug in, ten years on",
    appears="where something is dug into soil of known organic matter",
    identifies=("way", "place", "model"),
    columns=(
        shared.way(lambda opinion: opinion.course.title, shared.FOLLOWED),
        shared.place(lambda opinion: opinion.course.place.name),
        text("model", "model", "Which model.", lambda opinion: opinion.model),
        day("date", "date", "The day.", lambda opinion: opinion.day),
        number(
            "som_percent",
            "SOM",
            FINE_SHARE,
            "Soil organic matter by that model.",
            lambda opinion: percent(opinion.matter),
        ),
    ),
)
