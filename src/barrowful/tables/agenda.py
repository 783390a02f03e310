"""A season as events of a calendar, and as a sheet of boxes to tick."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from itertools import groupby
from uuid import NAMESPACE_URL, uuid5

from barrowful.catalogue.cautions import Caution, cautions
from barrowful.jobs.job import Job
from barrowful.measures.elementwise import round_up
from barrowful.site.records import Site
from barrowful.tables.columns import VOLUME
from barrowful.tables.season import JobLine, job_cautions
from barrowful.tables.writers.ics import Event
from barrowful.tables.writers.markdown import escaped

#: Hours of no week.
NOT_KNOWN: Mapping[date, float] = {}
#: What is told of a job when it is to be ordered.
ORDER = "order"


def events(lines: Iterable[JobLine], site: Site, stamp: datetime, measures: str = "metric") -> list[Event]:
    """Return the events of jobs that are not done; what a job is, not when, makes its name in a calendar."""
    return [
        _event(line, site, stamp, measures) for line in lines if line.job.done is None and _ends(line.job)
    ]


def _ends(job: Job) -> bool:
    return job.until < date.max


def _event(line: JobLine, site: Site, stamp: datetime, measures: str) -> Event:
    job = line.job
    ordering = job.job == ORDER
    return Event(
        uid=f"{uuid5(NAMESPACE_URL, f'barrowful:{site.name}:{job.name}')}@barrowful",
        summary=_summary(job),
        first=job.on,
        last=max(job.on, job.by) if ordering else job.until,
        description="\n".join(_details(line, site, measures)),
        location=job.place,
        alarm=f"Last day: {_summary(job)}" if ordering else "",
        sequence=stamp.date().toordinal() + len(site.history),
    )


def _summary(job: Job) -> str:
    """Return a job in a line: what, of what, where."""
    about = job.way or ("" if job.place else job.amount)
    of = f": {about}" if about else ""
    return f"{job.job}{of}{', ' + job.place if job.place else ''}"


def _details(line: JobLine, site: Site, measures: str) -> Iterator[str]:
    job = line.job
    if job.cash is not None:
        yield f"{job.amount}, {job.cash:,} {site.currency}"
    if job.what:
        yield job.what
    if job.left is not None:
        yield _volume(line, measures)
    if job.hours:
        yield f"{job.hours.likely:.1f} h ({job.hours.low:.1f} to {job.hours.high:.1f})"
    yield f"{job.first} to {job.last}, by {job.by}"
    if job.after:
        yield "after " + "; ".join(before.name for before in job.after)
    yield from job.told
    yield from job_cautions(job)
    yield job.name


def _volume(line: JobLine, measures: str) -> str:
    """Return the loose volume of a job and its barrows, or nothing."""
    if line.job.left is None:
        return ""
    seen = VOLUME.customary if measures == "customary" and VOLUME.customary else VOLUME.metric
    count = round_up(line.job.left / line.barrow)
    return f"{line.job.left * seen.factor:.2f} {seen.unit}, {count} {'barrow' if count == 1 else 'barrows'}"


def checklist(
    lines: Sequence[JobLine],
    site: Site,
    by: str,
    measures: str = "metric",
    told: Sequence[str] = (),
    hours: Mapping[date, float] = NOT_KNOWN,
) -> str:
    """Return jobs as a sheet of markdown for the wall: boxes to tick under their week, month or place.

    ``told`` stands above them; ``hours`` are those of weeks, in which a job may take a part of its own.
    """
    notes = _Notes()
    parts = [f"# {escaped(site.name)}: what to do", *map(escaped, told)]
    parts += [] if lines else ["Nothing to do in these days."]
    for title, group in groupby(_sorted(lines, by), key=lambda line: _title(line, by)):
        jobs = list(group)
        plain = sum(line.job.likely for line in jobs if line.job.done is None)
        taken = hours.get(jobs[0].week, plain) if by == "week" else plain
        parts.append(f"## {escaped(title)}" + (f" ({taken:.1f} h)" if taken else ""))
        parts.append("\n".join(_box(line, site.currency, measures, notes) for line in jobs))
    if notes.listed:
        parts.append("## Take care")
        parts.append("\n".join(f"{number}. {text}" for number, text in enumerate(notes.listed, 1)))
    return "\n\n".join(parts) + "\n"


class _Notes:
    """Cautions by number, each once."""

    def __init__(self) -> None:
        self.known: dict[str, Caution] = {caution.key: caution for caution in cautions()}
        self.listed: list[str] = []

    def number(self, key: str) -> int:
        """Return the number of a caution, which is listed with its source."""
        caution = self.known[key]
        text = escaped(f"{caution.text} [{caution.source}, {caution.place}]")
        if text not in self.listed:
            self.listed.append(text)
        return self.listed.index(text) + 1


def _sorted(lines: Sequence[JobLine], by: str) -> list[JobLine]:
    return sorted(lines, key=lambda line: _title(line, by)) if by == "place" else list(lines)


def _title(line: JobLine, by: str) -> str:
    if by == "place":
        return line.job.place or line.job.way or "The whole site"
    return f"{line.job.on:%Y-%m}" if by == "month" else f"Week of {line.week}"


def _box(line: JobLine, currency: str, measures: str, notes: _Notes) -> str:
    """Return a job as a line with a box, ticked where it is done."""
    job = line.job
    days = f"{job.on}" + (f" to {job.until}" if _ends(job) and job.until > job.on else "")
    amounts = [
        job.amount,
        f"{job.cash:,} {currency}" if job.cash is not None else "",
        job.what,
        _volume(line, measures),
        f"{job.hours.likely:.1f} h" if job.hours else "",
        f"by {job.by}" if job.by > job.on else "",
        *job.told,
    ]
    told = "; ".join(escaped(amount) for amount in amounts if amount)
    numbers = ", ".join(str(notes.number(key)) for key in job.cautions)
    care = f" (take care: {numbers})" if numbers else ""
    tick = "x" if job.done else " "
    return f"- [{tick}] {days} **{escaped(_summary(job))}**" + (f": {told}" if told else "") + care
