"""A job of the season: what is to be done where, in which days, how long it takes and what it waits for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours
from barrowful.needs.decision import Serving
from barrowful.site.job_names import JOINT
from barrowful.site.records import HistoryEntry

DIG, BUILD = "dig in", "build"
#: Jobs that bring what is bought.
BRINGS = ("delivery", "collect")
#: Tasks after which there is stuff to put on.
MAKES = frozenset({"screen", "empty", "cut", "end"})


class Drawn(NamedTuple):
    """What is drawn [m3] of the stuff that a job makes."""

    of: Job
    loose: float


@dataclass(eq=False, kw_only=True)
class Job:
    """A job; its day is the plan's, its window the days it may be done in.

    Levelling decides ``on`` and ``until``. ``lag`` days go by after it before what waits for it.
    """

    job: str
    place: str = ""
    need: str = ""
    priority: int = 1  #: of its place, the lowest first
    way: str = ""
    material: str = ""
    day: date
    first: date
    last: date
    due: date | None = None  #: last day that still does
    loose: float | None = None  #: m3
    brings: float | None = None  #: m3, of a heap that is emptied: what may be put on of it
    drawn: Sequence[Drawn] = ()  #: of what is put on, which jobs make it
    stuff: Material | None = None  #: what is put on
    dug: bool | None = None  #: is what is put on dug in?
    hours: Hours | None = None
    amount: str = ""  #: in the seller's unit, of what is ordered
    cash: Decimal | None = None
    sold_by: tuple[str, str] | None = None  #: of what is brought, who brings it
    trips: int = 0  #: of what is brought; what comes with something else has none
    what: str = ""
    label: str = ""  #: its name, where that is the grower's own
    came: date | None = None  #: of what is put on, the day its lot is there from
    after: list[Job] = field(default_factory=list)
    lag: int = 0
    gap: int = 0  #: days from what it waits for to it
    paced: bool = False  #: are they counted from the day that is begun on?
    bought: bool = False
    told: tuple[str, ...] = ()
    barred: tuple[str, ...] = ()  #: what keeps it from the plan's day
    untested: int = 0  #: days of a test that there is no time for
    cautions: tuple[str, ...] = ()  #: keys, the gravest first
    serves: tuple[Serving, ...] = ()  #: what it meets first, where it does
    opens: Callable[[date], date] | None = None  #: of what a harvest bars: the first safe day from one on
    wait_told: str = ""  #: what is said of such a harvest
    dropped: str = ""  #: why no safe day is left that serves, where none is
    left_off: str = ""  #: why the rest of what was begun is not done, where it is not
    number: int = 1
    goes_on: bool = False  #: on every day of its window
    on: date = date.max
    until: date = date.max  #: the calendar's last day where no end is in sight
    done: date | None = None
    entries: list[HistoryEntry] = field(default_factory=list)  #: what the history tells of it

    @property
    def base(self) -> str:
        """Return its name without its number."""
        return JOINT.join(part for part in (self.job, self.place, self.need, self.way) if part)

    @property
    def name(self) -> str:
        """Return its name, which no other job of a season has: job, place, need, way, number."""
        return self.label or f"{self.base}{JOINT}{self.number}"

    @property
    def share_done(self) -> float:
        """Return the share of it that the history tells of; all of it where no entry has an amount.

        Only what is put on or brought is done in parts; beside a part hours or a note are of that.
        """
        amounts = [entry.loose for entry in self.entries]
        if self.loose and (self.place or self.job in BRINGS) and (any(amounts) or self.ended):
            return sum(amounts) / self.loose
        return float(bool(amounts))

    @property
    def begun(self) -> bool:
        """Say whether a part of it is done, and not all."""
        return bool(self.entries) and self.done is None

    @property
    def ended(self) -> bool:
        """Say whether the history says that no more of it comes."""
        return any(entry.ends for entry in self.entries)

    @property
    def left(self) -> float | None:
        """Return what is to be put on or brought of it [m3]: where it is begun the rest, else all of it.

        Where no more comes it is what came, and where the rest is left off what was put on.
        """
        if self.loose and (self.ended or self.left_off):
            return self.loose * self.share_done
        return self.loose * (1 - self.share_done) if self.loose and self.begun else self.loose

    @property
    def by(self) -> date:
        """Return the last day that still does; before its window where that is too late."""
        return self.last if self.due is None else min(self.due, self.last)

    def put_off(self, by: timedelta) -> None:
        """Move its window and the last day that still does."""
        self.first, self.last = self.first + by, self.last + by
        self.due = None if self.due is None else self.due + by

    def not_before(self, day: date) -> None:
        """Move its window to a day or later; the last day that still does stays."""
        self.due = self.by if self.first < day else self.due
        self.first, self.last = max(self.first, day), max(self.last, day)

    @property
    def likely(self) -> float:
        """Return its likely hours."""
        return self.hours.likely if self.hours else 0.0

    @property
    def slips(self) -> int:
        """Return the days it is done after the last day that still does."""
        return 0 if self.goes_on else max(0, (self.until - self.by).days)


def steps_of(built: Job, jobs: Iterable[Job]) -> list[Job]:
    """Return the later steps of a heap that was built, of jobs that come in their turn."""
    steps = [built]
    for job in jobs:
        of_heap = job.way == built.way and job.job not in {BUILD, "test"} and not job.place
        if of_heap and any(of in steps for of in job.after):
            steps.append(job)
    return steps[1:]
