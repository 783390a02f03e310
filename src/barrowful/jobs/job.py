"""A job of the season: what is to be done where, in which days, how long it takes and what it waits for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from barrowful.costs.labour import Hours
from barrowful.needs.decision import Serving

JOINT = ", "


@dataclass(eq=False, kw_only=True)
class Job:
    """A job; its day is the plan's, its window the days it may be done in.

    What levelling decides, ``on`` and ``until``, is the window's first day until then. ``lag`` days go by
    after it before what waits for it.
    """

    job: str
    place: str = ""
    need: str = ""
    way: str = ""
    material: str = ""
    day: date
    first: date
    last: date
    due: date | None = None  #: last day that still does
    loose: float | None = None  #: m3
    hours: Hours | None = None
    amount: str = ""  #: in the seller's unit, of what is ordered
    cash: Decimal | None = None
    what: str = ""
    came: date | None = None  #: of what is put on, the day its lot is there from
    after: list[Job] = field(default_factory=list)
    lag: int = 0
    told: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()  #: keys, the gravest first
    serves: tuple[Serving, ...] = ()  #: what it meets first, where it does
    number: int = 1
    goes_on: bool = False  #: on every day of its window
    on: date = date.max
    until: date = date.max  #: the calendar's last day where no end is in sight
    done: date | None = None
    spent: float | None = None  #: h, of what is done

    @property
    def name(self) -> str:
        """Return its name, which no other job of a season has: job, place, need, way, number."""
        parts = (self.job, self.place, self.need, self.way, str(self.number))
        return JOINT.join(part for part in parts if part)

    @property
    def by(self) -> date:
        """Return the last day that still does; before its window where that is too late."""
        return self.last if self.due is None else min(self.due, self.last)

    @property
    def likely(self) -> float:
        """Return its likely hours."""
        return self.hours.likely if self.hours else 0.0

    @property
    def slips(self) -> int:
        """Return the days it is done after the last day that still does."""
        return max(0, (self.until - self.by).days)


def numbered(jobs: Iterable[Job]) -> list[Job]:
    """Return jobs by their days, alike ones numbered in that order: a name stays when a day moves."""
    counts: dict[tuple[str, str, str, str], int] = {}
    listed = sorted(jobs, key=lambda job: (job.day, job.job, job.place, job.need, job.way))
    for job in listed:
        key = job.job, job.place, job.need, job.way
        job.number = counts[key] = counts.get(key, 0) + 1
    return listed
