"""The course as a drawing for PNG: soil organic matter with its range, and mulch, readable in grey."""

from __future__ import annotations

from typing import Any

from barrowful.answers.course import Course
from barrowful.tables.writers.png import pyplot, saved

STYLES = ("-", "--", "-.", ":")


def draw(found: list[Course], site: str) -> bytes:
    """Return the drawing as PNG; :class:`WrongUse` without the extra."""
    drawing = pyplot()
    figure, (upper, lower) = drawing.subplots(2, 1, sharex=True, figsize=(8, 6), layout="constrained")
    for index, course in enumerate(found):
        _line(upper, lower, course, STYLES[index % len(STYLES)], 0.15 * (index // len(STYLES)))
    upper.set_ylabel("soil organic matter, % of dry soil")
    lower.set_ylabel("mulch lying there, cm")
    lower.set_xlabel("date")
    upper.set_title(site)
    for axes in (upper, lower):
        axes.grid(color="0.85", linewidth=0.5)
        if axes.get_legend_handles_labels()[1]:
            axes.legend(fontsize=7, frameon=False)
    return saved(figure, drawing)


def _line(upper: Any, lower: Any, course: Course, style: str, grey: float) -> None:
    """Draw one course: a line with its band above, mulch below."""
    label = f"{course.place.name}, {course.title}"
    matter = [(point.day, point.matter) for point in course.points if point.matter is not None]
    colour = str(min(0.6, grey))
    if matter:
        days = [day for day, _ in matter]
        low, likely, high = ([100 * one[index] for _, one in matter] for index in range(3))
        upper.plot(days, likely, style, color=colour, label=label)
        upper.fill_between(days, low, high, color="0.9", linewidth=0)
    tests = [(point.day, 100 * point.tested) for point in course.points if point.tested is not None]
    if tests:
        upper.plot(*zip(*tests, strict=True), "x", color="0")
    if any(point.mulch > 0 for point in course.points):
        days = [point.day for point in course.points]
        lower.plot(days, [100 * point.mulch for point in course.points], style, color=colour, label=label)
