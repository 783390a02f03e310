"""The page of a site: the answer first, then what is followed, orders, jobs, courses, cautions, figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

from barrowful import __version__
from barrowful.answers.advice import all_advice
from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import WholeSite, plan_hint
from barrowful.answers.course import CourseRequest, course_of
from barrowful.answers.heaps import batch_lines, first_recipes, heap_sentences
from barrowful.answers.lasting import lasting
from barrowful.answers.lines import option_lines
from barrowful.answers.orders import Sheet, told
from barrowful.answers.used import figures_followed, general_figures
from barrowful.catalogue import CATALOGUE_VERSION
from barrowful.jobs.later import later_of
from barrowful.jobs.season import Season
from barrowful.jobs.season_told import sentences
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet
from barrowful.planning.sharing import line_costs
from barrowful.supplies.heap.heaps import heaps_of
from barrowful.supplies.lot import YEAR
from barrowful.tables.answer_pictures import course_charts, heap_chart, option_charts, season_chart
from barrowful.tables.batches import BATCHES
from barrowful.tables.cautions import caution_notes
from barrowful.tables.columns import Value
from barrowful.tables.course import COURSE, course_points
from barrowful.tables.figures import FIGURES
from barrowful.tables.heap import HEAP
from barrowful.tables.options import OPTIONS
from barrowful.tables.order_sheet import tables_of
from barrowful.tables.page import Groups, Page, Section
from barrowful.tables.plan import PLAN, in_order
from barrowful.tables.report import Head, Report, Table
from barrowful.tables.season import SEASON, job_lines

#: Rows of a table that a page holds.
MOST_ROWS = 400
#: What people see of jobs and of figures here: what they go by stands above them.
JOBS = (
    *("on", "job", "way", "place", "amount", "barrows", "hours", "by", "what", "told", "caution"),
    "done_on",
)
FIGURE = ("figure", "low", "likely", "high", "unit", "basis", "grade", "source")


@fixed(kw_only=False)
class Answers:
    """What a page is made of: the order sheet of what is followed, its season, and what was warned of.

    Charts are drawn in ``measures``.
    """

    orders: Sheet
    season: Season
    warnings: list[str]
    measures: str

    @property
    def whole(self) -> WholeSite:
        """Return what is followed."""
        return self.orders.selection.whole

    def report(self, tables: Sequence[Table] = (), **more: Any) -> Report:
        """Return a report about the site."""
        site = self.orders.selection.answer.site
        return Report("report", site.name, site.currency, list(tables), **more)


def site_page(orders: Sheet, season: Season, warnings: Iterable[str], measures: str = "metric") -> Page:
    """Return the page of what an order sheet follows, with the season of that."""
    site = orders.selection.answer.site
    answers = Answers(orders, season, [*warnings, *orders.selection.warnings], measures)
    above = (
        f"From {site.start} to {site.end}. Follows: {orders.selection.title}.",
        f"By barrowful {__version__} with its catalogue of figures {CATALOGUE_VERSION}.",
    )
    return Page(site.name, above, tuple(_sections(answers)))


def _sections(answers: Answers) -> Iterator[Section]:
    yield _what_to_do(answers)
    yield _what_goes_where(answers)
    yield _orders(answers)
    yield _jobs(answers)
    yield _ways(answers)
    yield from _heaps(answers)
    yield _courses(answers)
    yield _cautions(answers)
    yield _figures(answers)


def _what_to_do(answers: Answers) -> Section:
    """Return what to do in a few lines, and what is to be said of it."""
    selection = answers.orders.selection
    answer, untold = all_advice(selection.whole, later_of(answers.season))
    more = [*untold, *sentences(answers.season), *plan_hint(selection.whole), *selection.remarks]
    return Section(
        title="What to do", report=answers.report(answer=answer, sentences=more, warnings=answers.warnings)
    )


def _what_goes_where(answers: Answers) -> Section:
    lines = in_order(line_costs(answers.whole))
    table = replace(PLAN.table(lines), title="What is put on, or planted")
    return Section(title="What goes where", report=answers.report([_short(table, "plan")]))


def _orders(answers: Answers) -> Section:
    """Return every order of the horizon, and all that is to be known of them that has rows."""
    tables = [table for table in tables_of(answers.orders) if table.rows]
    titled = [replace(table, title=table.title or "What to order") for table in tables]
    report = answers.report([_short(table, "orders") for table in titled], answer=tuple(told(answers.orders)))
    return Section(title="Orders", report=report)


def _jobs(answers: Answers) -> Section:
    """Return the jobs of twelve months as a list to tick, by weeks."""
    site, season = answers.orders.selection.answer.site, answers.season
    end = YEAR.after(site.start)
    lines = job_lines((job for job in season.jobs if job.on < end), site)
    hours = {week.first: f": {week.hours:.1f} h" for week in season.weeks if week.hours}
    titles: dict[Value, str] = {line.week: f"Week of {line.week}{hours.get(line.week, '')}" for line in lines}
    table = replace(SEASON.table(lines), title=f"Jobs to {end}", shown=JOBS)
    drawn = season_chart(site.name, season.weeks, site.start, end - timedelta(days=1))
    return Section(
        title="Jobs of the first twelve months",
        report=answers.report([_short(table, "season")], charts=(drawn,) if drawn.bars else ()),
        groups={table.name: Groups("week", titles, "done_on")},
        new_page=True,
    )


def _ways(answers: Answers) -> Section:
    """Return the ways side by side, drawn where there are several to choose from."""
    answer = answers.orders.selection.answer
    table = replace(OPTIONS.table(option_lines(answer)), title="Each way by itself")
    charts = tuple(chart for chart in option_charts(answer) if len(chart.points) > 1)
    return Section(
        title="Ways side by side",
        report=answers.report([_short(table, "options")], charts=charts),
        new_page=True,
    )


def _heaps(answers: Answers) -> Iterator[Section]:
    """Yield the heaps that are followed, where there are any."""
    together = answers.whole.together
    followed = dict.fromkeys(part for row in together.parts for part in row.source.parts)
    heaps = heaps_of(followed)
    if heaps:
        batches = batch_lines(heaps)
        recipes = replace(HEAP.table(first_recipes(heaps)), title="Recipes")
        tables = [_short(table, "heap") for table in (recipes, BATCHES.table(batches))]
        charts = (heap_chart(together.answer.site.name, batches, answers.measures),) if batches else ()
        report = answers.report(tables, sentences=heap_sentences(heaps), charts=charts)
        yield Section(title="Heaps", report=report)


def _courses(answers: Answers) -> Section:
    title = "Year by year"
    try:
        said, courses = course_of(answers.orders.selection, CourseRequest())
    except CannotMeet as nothing:
        return Section(title=title, report=answers.report(sentences=[f"{str(nothing).capitalize()}."]))
    title_of_table = "Mulch, humus and soil organic matter"
    table = replace(COURSE.table(course_points(courses)), title=title_of_table, shown=COURSE.shown[1:])
    new = [warning for warning in said.warnings if warning not in answers.warnings]
    report = answers.report(
        [_short(table, "course")],
        sentences=lasting(courses),
        warnings=new,
        charts=course_charts(courses, answers.measures),
    )
    return Section(title=title, report=report)


def _cautions(answers: Answers) -> Section:
    followed, found = answers.orders.selection, answers.season
    notes = caution_notes(cautions_for(followed.answer, followed.chosen, found.put_on, found.as_built))
    none = [] if notes else ["No caution belongs to what is followed."]
    return Section(title="Cautions", report=answers.report(cautions=notes, sentences=none))


def _figures(answers: Answers) -> Section:
    """Return the figures of what is followed, and those that hold on any site."""
    kinds = (
        (f"{FIGURES.name} followed", "Figures of what is followed", figures_followed(answers.whole)),
        (f"{FIGURES.name} anywhere", "Figures that hold on any site", general_figures()),
    )
    tables = [
        replace(FIGURES.table(lines), name=name, title=title, shown=FIGURE) for name, title, lines in kinds
    ]
    groups = {name: Groups("of", {line.of: line.of for line in lines}) for name, _, lines in kinds}
    return Section(title="Figures", report=answers.report(tables), groups=groups, new_page=True)


def _short(table: Table, command: str) -> Table:
    """Return a table with no more rows than a page holds."""
    if len(table.rows) <= MOST_ROWS:
        return table
    shown = f"The first {MOST_ROWS} of {len(table.rows):,} rows; barrowful {command} has all."
    return replace(table, head=Head(MOST_ROWS, shown))
