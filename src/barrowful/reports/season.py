"""The report of a season: its jobs, each with its window, and the weeks they take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import plan_hint
from barrowful.answers.orders_told import unmet_headline
from barrowful.jobs.season import Season
from barrowful.jobs.season import season as reckon
from barrowful.jobs.season_told import headline, sentences
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.tables.cautions import caution_notes
from barrowful.tables.report import Report
from barrowful.tables.season import BY, WEEKS, JobLine, head_of, job_lines


def season(
    loaded: ReadSite,
    first: date,
    last: date,
    *,
    by: str = "week",
    way: str = "",
    partial: bool = False,
    today: date | None = None,
    sources: bool = True,
) -> Report:
    """Return the jobs between two days of what is followed, or of one way by its name, and all weeks."""
    found = reckon(loaded.site, way, partial, today)
    return of_jobs(loaded, found, lines_of(loaded, found, first, last), by, (first, last), sources)


def lines_of(loaded: ReadSite, found: Season, first: date, last: date) -> list[JobLine]:
    """Return the lines of the jobs that are done between two days."""
    jobs = [job for job in found.jobs if job.on <= last and min(job.until, job.last) >= first]
    return job_lines(jobs, loaded.site)


def of_jobs(
    loaded: ReadSite,
    found: Season,
    lines: Iterable[JobLine],
    by: str,
    days: tuple[date, date],
    sources: bool,
) -> Report:
    """Return the report of a season: what is to be said first, its jobs, the weeks between two days."""
    selection = found.selection
    rows = sorted(lines, key=lambda line: line.job.place or line.job.way) if by == "place" else list(lines)
    weeks = [week for week in found.weeks if week.first <= days[1] and week.last >= days[0]]
    told = [headline([line.job for line in rows]), *sentences(found)]
    told += [*unmet_headline(selection.whole), f"Follows: {selection.title}."]
    return report_of(
        "season",
        loaded,
        [replace(BY[by].table(rows), head=head_of(rows, days[0])), WEEKS.table(weeks)],
        selection.warnings,
        sentences=[*told, *plan_hint(selection.whole), *selection.remarks],
        answer=tuple(told),
        cautions=caution_notes(
            cautions_for(selection.answer, selection.chosen, found.put_on, found.as_built), sources
        ),
    )
