"""The charts of options, courses, heaps and seasons: what is drawn of each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from barrowful.answers.course import Course
from barrowful.answers.heaps import BatchLine
from barrowful.answers.option import Option
from barrowful.answers.options import Answer
from barrowful.jobs.levelling import WEEK, Week
from barrowful.measures.money import currencies, rounded
from barrowful.soil.trajectory import Point as CourseDay
from barrowful.tables.columns import DEPTH, FINE_SHARE, HOURS, VOLUME, Display, Scale
from barrowful.tables.writers.chart import Bar, Chart, Limit, Point, Reach, Span

#: Charts of courses, and batches of heaps, that are drawn: what is more is told.
MOST_CHARTS, MOST_SPANS = 8, 40
#: Names that a title has room for.
MOST_NAMES = 3
BEATEN = "another costs no more cash, hours and time, and less of one; or it does not meet the need"


def _seen(scale: Scale, measures: str) -> Display:
    """Return how people see what is in a scale."""
    return scale.customary if measures == "customary" and scale.customary else scale.metric


def option_charts(answer: Answer) -> tuple[Chart, ...]:
    """Return a chart for each kind of need: the cash of each way against the day the need is met."""
    by_need: dict[str, list[Option]] = {}
    for row in answer.options:
        by_need.setdefault(row.need, []).append(row)
    return tuple(_options_of(answer, need, rows) for need, rows in by_need.items())


def _options_of(answer: Answer, need: str, rows: Sequence[Option]) -> Chart:
    currency = answer.site.currency
    ready = [(row.ready_on, row) for row in rows if row.acts and row.ready_on is not None]
    points = tuple(
        Point(
            label=row.name,
            day=day,
            value=rounded(row.cash, currency),
            hollow=bool(row.beaten_by) or not row.feasible,
        )
        for day, row in ready
    )
    return Chart(
        title=f"{answer.site.name}, {need}: cash against the day it is met",
        about=_about_options(need, points, len(rows) - len(points), currency),
        days="met on",
        values="cash to the end",
        unit=currency,
        decimals=currencies()[currency],
        points=points,
        hollow_means=BEATEN,
    )


def _about_options(need: str, points: Sequence[Point], others: int, currency: str) -> str:
    """Return what a chart of options shows, in a sentence or two."""
    solid = [point for point in points if not point.hollow]
    more = f" {others} more {'ways have' if others > 1 else 'way has'} no day." if others else ""
    if not solid:
        return f"No way meets {need} everywhere.{more}"
    cheap = min(solid, key=lambda point: (point.value, point.day))
    soon = min(solid, key=lambda point: (point.day, point.value))
    told = f"{need}: least cash is {cheap.value:,} {currency} by {cheap.label}, met on {cheap.day}"
    sooner = f"; soonest is {soon.label} on {soon.day} for {soon.value:,} {currency}" if soon != cheap else ""
    return f"{told}{sooner}.{more}"


def course_charts(courses: Iterable[Course], measures: str = "metric") -> tuple[Chart, ...]:
    """Return the charts of courses, equal ones once: soil organic matter with its range, and mulch."""
    alike: dict[tuple[object, ...], list[Course]] = {}
    for course in courses:
        key = tuple((of.day, of.matter, of.mulch, of.tested) for of in course.points)
        alike.setdefault((course.title, key), []).append(course)
    charts = [chart for group in alike.values() for chart in _charts_of(group, measures)]
    more = len(charts) - MOST_CHARTS
    if more > 0:
        charts[MOST_CHARTS - 1] = replace(charts[MOST_CHARTS - 1], note=f"{more} more charts are not drawn.")
    return tuple(charts[:MOST_CHARTS])


def _charts_of(group: Sequence[Course], measures: str) -> Iterable[Chart]:
    course, more = group[0], len(group) - MOST_NAMES
    names = ", ".join(of.place.name for of in group[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    title = f"{names}, {course.title}"
    known = [(of.day, of.matter) for of in course.points if of.matter is not None]
    changes = len({matter for _, matter in known}) > 1 or any(of.tested is not None for of in course.points)
    if known and changes:
        yield _matter_chart(title, known, course.points)
    if any(of.mulch > 0 for of in course.points):
        yield _mulch_chart(title, course.points, _seen(DEPTH, measures))


def _matter_chart(
    title: str, known: Sequence[tuple[date, tuple[float, float, float]]], days: Sequence[CourseDay]
) -> Chart:
    line = tuple(Reach(day, *(100 * value for value in matter)) for day, matter in known)
    first, last = line[0], line[-1]
    reach = f" (from {last.low:.2f} to {last.high:.2f})" if last.low < last.high else ""
    return Chart(
        title=f"{title}: soil organic matter",
        about=f"{title}: soil organic matter goes from {first.likely:.2f} % on {first.day} to"
        f" {last.likely:.2f} %{reach} on {last.day}.",
        days="day",
        values="soil organic matter of dry soil",
        unit=FINE_SHARE.unit,
        points=tuple(
            Point(label="soil test", day=of.day, value=100 * of.tested)
            for of in days
            if of.tested is not None
        ),
        line=line,
        line_means="likely",
        band_means="from low to high" if any(of.low < of.high for of in line) else "",
    )


def _mulch_chart(title: str, days: Sequence[CourseDay], seen: Display) -> Chart:
    line = tuple(Reach(of.day, *(of.mulch * seen.factor,) * 3) for of in days)
    deepest = max(line, key=lambda of: of.likely)
    return Chart(
        title=f"{title}: mulch lying there",
        about=f"{title}: on the days shown mulch is deepest with {deepest.likely:.{seen.digits}f} {seen.unit}"
        f" on {deepest.day}, and {line[-1].likely:.{seen.digits}f} {seen.unit} on {line[-1].day}.",
        days="day; what happens between the days shown is not drawn",
        values="settled depth of mulch",
        unit=seen.unit,
        decimals=seen.digits,
        line=line,
    )


def heap_chart(site_name: str, lines: Sequence[BatchLine], measures: str = "metric") -> Chart:
    """Return the chart of batches by time: each from the day it is built to the day it is compost."""
    seen = _seen(VOLUME, measures)
    spans = tuple(
        Span(
            label=f"{line.heap.way.name}, {line.batch.volume[1] * seen.factor:.{seen.digits}f} {seen.unit}",
            first=line.batch.built,
            last=line.batch.ready[1],
            latest=line.batch.ready[2],
        )
        for line in lines[:MOST_SPANS]
    )
    more = f"The first {MOST_SPANS} of {len(lines)} batches are drawn." if len(lines) > MOST_SPANS else ""
    ready = min((span.last for span in spans), default=None)
    about = (
        f"{len(lines)} batches; the first is ready on {ready}. {more}".rstrip()
        if ready
        else "There is no batch."
    )
    return Chart(
        title=f"{site_name}: batches by time, with what each yields",
        about=about,
        days="day",
        spans=spans,
        span_means="from building to ready, as is likely",
        latest_means="to the latest day it should be ready",
        note=more,
    )


def season_chart(site_name: str, weeks: Iterable[Week], first: date, last: date) -> Chart:
    """Return the chart of the hours of each week between two days, with the hours there are."""
    shown = [week for week in weeks if week.first <= last and week.first + WEEK > first]
    bars = tuple(Bar(week.first, week.first + WEEK, week.hours) for week in shown)
    limits = [week.limit for week in shown if week.limit is not None]
    limit = Limit(limits[0], "the hours there are in a week") if limits else None
    most = max(bars, key=lambda bar: bar.value, default=None)
    about = "There is no work in these days."
    if most:
        hours = sum(bar.value for bar in bars)
        about = f"{hours:,.1f} h in {len(bars)} weeks; most is {most.value:,.1f} h in that of {most.first}."
    return Chart(
        title=f"{site_name}: hours of work by week, {first} to {last}",
        about=about,
        days="week",
        values="hours of all jobs",
        unit=HOURS.unit,
        decimals=HOURS.metric.digits,
        bars=bars,
        limit=limit,
    )
