"""The report of a course: year by year, what is left, and what other models make of it."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import plan_hint
from barrowful.answers.course import Course, CourseRequest
from barrowful.answers.course import course as reckon
from barrowful.answers.lasting import lasting
from barrowful.answers.orders import Selection
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite
from barrowful.tables.cautions import caution_notes
from barrowful.tables.course import COURSE, course_points
from barrowful.tables.opinions import OPINIONS, opinions
from barrowful.tables.report import Report


def course(loaded: LoadedSite, asked: CourseRequest, *, sources: bool = True) -> Report:
    """Return each place followed over time, as is asked."""
    said, lines = reckon(loaded.site, asked)
    return of_courses(loaded, asked, said, lines, sources)


def of_courses(
    loaded: LoadedSite, asked: CourseRequest, said: Selection, lines: Sequence[Course], sources: bool
) -> Report:
    """Return the report of courses that are reckoned."""
    follows = [] if asked.every_way else [f"Follows: {said.title}.", *plan_hint(said.whole)]
    return report_of(
        "course",
        loaded,
        [COURSE.table(course_points(lines)), OPINIONS.table(opinions(lines))],
        said.warnings,
        sentences=[*follows, *lasting(lines)],
        cautions=caution_notes(cautions_for(said.answer, said.chosen), sources),
    )
