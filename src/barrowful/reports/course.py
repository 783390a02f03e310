"""The report of a course: year by year, what is left, and what other models make of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import plan_hint
from barrowful.answers.course import Course, CourseRequest, site_followed
from barrowful.answers.course import course as reckon
from barrowful.answers.headlines import course_headline
from barrowful.answers.lasting import lasting
from barrowful.answers.orders import Selection
from barrowful.reports.ranges import RangesAsked, table_of, with_drivers
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.site.records import Site
from barrowful.tables.cautions import caution_notes
from barrowful.tables.course import COURSE, course_points
from barrowful.tables.opinions import OPINIONS, opinions
from barrowful.tables.report import Report

if TYPE_CHECKING:
    from barrowful.planning.ranges.answers import Ranges


def course(
    loaded: ReadSite, asked: CourseRequest, *, sources: bool = True, ranges: RangesAsked | None = None
) -> Report:
    """Return each place followed over time, as is asked; with ranges if asked."""
    said, lines = reckon(loaded.site, asked)
    return of_courses(loaded, asked, said, lines, sources=sources, ranges=ranges)


def of_courses(
    loaded: ReadSite,
    asked: CourseRequest,
    said: Selection,
    lines: Sequence[Course],
    *,
    sources: bool,
    ranges: RangesAsked | None = None,
) -> Report:
    """Return the report of courses that are reckoned."""
    drawn = None if ranges is None else _ranges(ranges, site_followed(said), lines)
    follows = [] if asked.every_way else [f"Follows: {said.title}.", *plan_hint(said.whole)]
    points = table_of(COURSE, course_points(lines), drawn, loaded.site.currency)
    report = report_of(
        "course",
        loaded,
        [points, OPINIONS.table(opinions(lines))],
        said.warnings,
        sentences=[*follows, *lasting(lines)],
        answer=(course_headline(lines),),
        cautions=caution_notes(cautions_for(said.answer, said.chosen), sources),
    )
    return with_drivers(report, drawn)


def _ranges(asked: RangesAsked, site: Site, lines: Sequence[Course]) -> Ranges:
    """Return the ranges of courses."""
    from barrowful.planning.ranges.answers import of_courses
    from barrowful.planning.ranges.figures import Draws

    return of_courses(Draws(*asked), site, lines)
