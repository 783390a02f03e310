"""The tables of a season: its jobs, and the weeks they take."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import NamedTuple

from barrowful.answers.cautions import ends_after
from barrowful.catalogue.cautions import Caution, cautions
from barrowful.jobs.job import Job
from barrowful.jobs.levelling import Week, week_of
from barrowful.measures.elementwise import round_up
from barrowful.site.records import Site
from barrowful.supplies.lot import YEAR
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.columns import Column
from barrowful.tables.layout import Layout
from barrowful.tables.report import Head

#: Jobs that people see at least and at most, where they do not ask for others.
LEAST_SHOWN, MOST_SHOWN = 15, 60

#: What is to be said of a job beside its columns.
TOLD = (
    "What is to be said of its window, and how much is done; of a job begun amounts and hours are the rest."
)


class JobLine(NamedTuple):
    """A job with the barrow it is moved by [m3] and the first day of its week."""

    job: Job
    barrow: float
    week: date


def job_lines(jobs: Iterable[Job], site: Site) -> list[JobLine]:
    """Return a line for each job."""
    return [JobLine(job, site.labour.barrow, week_of(job.on, site.start)) for job in jobs]


@cache
def _by_key() -> dict[str, Caution]:
    """Return each caution by its key."""
    return {caution.key: caution for caution in cautions()}


def _caution(job: Job) -> str | None:
    """Return the gravest caution of a job, and of what it puts on those with a wait."""
    told = job_cautions(job)
    return " ".join(told if job.stuff is not None else told[:1]) or None


def job_cautions(job: Job) -> list[str]:
    """Return the gravest caution of a job and those with a wait, reckoned from its own day."""
    known = [_by_key()[key] for key in job.cautions]
    return [_told_of(job, one) for one in (*known[:1], *(of for of in known[1:] if of.days_after))]


def _told_of(job: Job, caution: Caution) -> str:
    waits = ends_after(job.on, caution) if job.stuff is not None else ""
    return f"Caution: {caution.text} {waits}".strip()


def _short(job: Job) -> str | None:
    """Return the words of the jobs it waits for, each once."""
    return ", ".join(dict.fromkeys(before.job for before in job.after)) or None


def _told(job: Job) -> str | None:
    return " ".join(job.told) or None


COLUMNS: tuple[Column[JobLine], ...] = (
    c.day("on", "on", "Day it is begun on, levelled.", lambda line: line.job.on),
    c.day("until", "until", "Day it is done.", lambda line: _seen(line.job.until)),
    c.text("job", "job", "What is to be done.", lambda line: line.job.job),
    shared.place(lambda line: line.job.place or None),
    shared.need(lambda line: line.job.need or None),
    shared.way(lambda line: line.job.way or None),
    shared.material(lambda line: line.job.material or None),
    c.text(
        "amount",
        "amount",
        "Of an order, in the seller's unit; of a soil test, what it finds.",
        lambda line: line.job.amount or None,
    ),
    shared.cash(lambda line: line.job.cash),
    c.text("what", "what", "How much, of what, in words.", lambda line: line.job.what or None),
    shared.loose(lambda line: line.job.left),
    shared.barrows(lambda line: None if line.job.left is None else round_up(line.job.left / line.barrow)),
    shared.hours(lambda line: line.job.hours.likely if line.job.hours else None),
    shared.hours_low(lambda line: line.job.hours.low if line.job.hours else None),
    shared.hours_high(lambda line: line.job.hours.high if line.job.hours else None),
    c.day("from", "from", "First day of its window.", lambda line: line.job.first),
    c.day("to", "to", "Last day of its window.", lambda line: line.job.last),
    c.day("by", "by", "Last day that still does.", lambda line: line.job.by),
    c.text("after", "after", "What it waits for, in short.", lambda line: _short(line.job)),
    c.text(
        "waits_for",
        "waits for",
        "Names of the jobs it waits for, with ; between them.",
        lambda line: "; ".join(before.name for before in line.job.after) or None,
    ),
    c.text("told", "told", TOLD, lambda line: _told(line.job)),
    c.text(
        "caution",
        "caution",
        "The gravest caution that belongs to it, and those with a wait.",
        lambda line: _caution(line.job),
    ),
    c.text(
        "caution_keys",
        "cautions",
        "Keys of all its cautions, the gravest first.",
        lambda line: ", ".join(line.job.cautions) or None,
    ),
    c.count(
        "late_days",
        "late, days",
        "Days it is done after the last day that does.",
        lambda line: _late(line.job),
    ),
    c.day("done_on", "done", "Day it was done, as your history has it.", lambda line: line.job.done),
    c.day("week", "week of", "First day of its week, counted from the start.", lambda line: line.week),
    c.text("month", "month", "Month it is begun in.", lambda line: f"{line.job.on:%Y-%m}"),
    c.text("name", "name", "Its name, for barrowful log --done.", lambda line: line.job.name),
)


def _seen(day: date) -> date | None:
    """Return a day, where it is one of the calendar that is meant."""
    return None if day == date.max else day


def _late(job: Job) -> int | None:
    return job.slips if job.slips and job.until != date.max else None


#: What people see; the texts of notes are numbers.
_SHOWN = (
    *("on", "until", "job", "way", "place", "amount", "loose_m3", "barrows", "hours", "by", "after"),
    *("what", "told", "caution", "done_on"),
)

SEASON: Layout[JobLine] = Layout(
    name="season",
    title="Jobs",
    identifies=("name",),
    shown=_SHOWN,
    always_shown=("on", "job", "hours"),
    noted=("what", "told", "caution"),
    first_to_go=("after", "loose_m3", "until", "amount"),
    summed=("hours",),
    columns=COLUMNS,
)
#: How rows go together -> the table.
BY = {
    "week": SEASON,
    "month": replace(
        SEASON,
        shown=("month", *_SHOWN),
        first_to_go=("after", "loose_m3", "until", "by", "amount"),
    ),
    "place": replace(SEASON, shown=("place", *(key for key in _SHOWN if key != "place"))),
}

WEEKS: Layout[Week] = Layout(
    name="weeks",
    title="Hours by week",
    identifies=("week",),
    always_shown=("hours",),
    for_people=False,
    columns=(
        c.day("week", "week of", "First day of the week, counted from the start.", lambda week: week.first),
        c.number("hours", "hours", c.HOURS, "Likely hours of all jobs in it.", lambda week: week.hours),
        c.number("limit_hours", "there are", c.HOURS, "Hours there are in a week.", lambda week: week.limit),
        c.number(
            "lacking_hours",
            "lacking",
            c.HOURS,
            "Hours lacking for what is due by its end.",
            lambda week: week.lacking or None,
        ),
    ),
)


def year_on(first: date) -> date:
    """Return the day twelve months after another, or the calendar's last.

    >>> year_on(date(2027, 3, 1)), year_on(date(9999, 3, 1))
    (datetime.date(2028, 3, 1), datetime.date(9999, 12, 31))
    """
    return YEAR.after(first) if first.year < date.max.year else date.max


def head_of(lines: Sequence[JobLine], first: date) -> Head | None:
    """Return which jobs people see first, of jobs in order: about those of twelve months."""
    end = year_on(first)
    soon = sum(line.job.on < end for line in lines)
    shown = min(max(soon, LEAST_SHOWN), MOST_SHOWN)
    if shown >= len(lines):
        return None
    month = f"{lines[shown].job.on:%Y-%m}"
    told = f"The first {shown} of {len(lines)} jobs; --table season shows all, --month {month} one month."
    return Head(shown, told)
