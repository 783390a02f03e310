"""A job that is done as an entry of the history: what a grower would write of it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from barrowful.costs.order import WORDS
from barrowful.jobs.job import BRINGS, Job
from barrowful.measures.problems import WrongUse, did_you_mean
from barrowful.site.job_names import base_of

#: Jobs of a heap or of what is grown, whose entry names it.
OF_A_WAY = frozenset({"build", "turn", "temperature", "plant", "strike", "sow", "cut", "end"})


def job_named(jobs: Sequence[Job], name: str) -> Job:
    """Return the job of a name, or of a name without its number the first that is not done.

    What is only taken as done, for what came after it, may be told of. Raises :class:`WrongUse` for a name
    that there is not, and for a job that is logged as done already.
    """
    named = [job for job in jobs if job.name == name] or [job for job in jobs if job.base == name]
    named.sort(key=lambda job: job.number)
    waiting = [job for job in named if job.done is None] or [job for job in named if not job.entries]
    if waiting:
        return waiting[0]
    if named:
        told = "to log it otherwise, change its line under history"
        raise WrongUse(f'"{name}" is done already, on {named[-1].done}; {told}')
    names = [job.name for job in jobs if job.done is None]
    near = did_you_mean(name, names) or did_you_mean(base_of(name), names)
    told = '"barrowful season SITE --format csv" has each name'
    raise WrongUse(f'there is no job "{name}" to do{near}; {told}')


def entry_of(job: Job, currency: str) -> dict[str, str]:
    """Return the entry of a job that is done as it was planned; what is not known of it is left out.

    What an order costs is written once, with what comes of it.
    """
    entry = {"job": job.name}
    if job.place:
        entry["place"] = job.place
    if job.place and job.left is not None:
        entry |= {"way": job.way, "amount": f"{job.left:.9g} m3", "dug": str(bool(job.dug)).lower()}
    elif job.job in BRINGS and job.left is not None:
        entry |= {"way": job.way, "amount": _by_the_piece(job) or f"{job.left:.9g} m3"}
    elif job.job in OF_A_WAY:
        entry["way"] = job.way
    cash = _owed(job)
    if cash is not None:
        entry["cash"] = f"{cash:f} {currency}"
    return entry


def _by_the_piece(job: Job) -> str:
    """Return the bags or loads that come, where all of the order is still to come and they are whole ones."""
    ordered = next((before.amount for before in job.after if before.amount), "").replace(",", "")
    number, _, word = ordered.partition(" ")
    return ordered if word in WORDS and number.isdecimal() and not job.entries else ""


def _owed(job: Job) -> Decimal | None:
    """Return what is paid with a delivery, where nothing logged of it or of its order says it yet."""
    ordered = next((before for before in job.after if before.cash is not None), None)
    if job.job not in BRINGS or ordered is None:
        return None
    paid = any(entry.cash is not None for of in (job, ordered) for entry in of.entries)
    return None if paid else ordered.cash
