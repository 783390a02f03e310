"""Working out a raise: how a task comes out on each square metre, from a supply that others share."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cached_property, lru_cache
from math import inf
from typing import Any

from barrowful.catalogue.ceilings import stops_at
from barrowful.measures.dates import DAYS_PER_YEAR, year_after
from barrowful.measures.fixed import fixed
from barrowful.measures.text import in_figures
from barrowful.needs.ceilings import NO_CEILING
from barrowful.needs.decision import CannotServe
from barrowful.needs.raise_forever import level, yearly_to_hold
from barrowful.needs.raise_holding import Reach, reach, why_not_held
from barrowful.needs.raise_later import GivenUp, begun_first, held_longer, ready_day
from barrowful.needs.raise_search import can_be_held, fullest_doses, held_doses, looks
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.needs.settled import IfLate
from barrowful.supplies.stock import FAR_YEARS, MOST_KEPT, Lots, Stock
from barrowful.supplies.supply import Supply

#: How often a raise without a date is put off to a year after its first dose: a setting of the search.
FIRSTS = 3


@fixed
class Raised:
    """How a task comes out on each square metre; days are day numbers.

    ``day`` is when the doses reach it, None where they never do; ``by`` is the day wanted: where none is
    written, a year after the first dose there can be. All else is worked out when it is asked for.
    """

    source: Source
    task: RaiseTask
    by: int
    day: int | None
    doses: Pulses
    area: float  #: m2
    part: float  #: 1/m2, of all that the source brings
    there: Stock  #: what there was before the doses
    if_late: IfLate = "later"  #: was it asked when it would be reached, or what can be put on in time?

    @cached_property
    def most(self) -> Pulses:
        """Return all that can be put on by the day it is due."""
        if self.day is None:
            return self.doses
        return fullest_doses(self.task, self.due, self.there.copy(), self.area)

    @cached_property
    def stopped(self) -> str:
        """Return the ceiling that keeps it from being met in time, or nothing."""
        task, by = self.task, self.by if self.day is None else self.due
        if self.in_time or self.if_late == "nothing" or not task.room.bounds:
            return ""
        if task.cap <= 0:  # it lets nothing on at all, whatever else would keep it from being met
            return task.room.binding(by)
        if not can_be_held(replace(task, room=NO_CEILING), by, self.there, self.area):
            return ""
        last = max((day for day, _ in self.most), default=by)
        return task.room.binding(last, self.most)

    @property
    def due(self) -> int:
        """Return the day the target is due: as written, or a year after the first dose."""
        if self.task.by is not None or not self.doses:
            return self.by
        return max(self.by, year_after(min(day for day, _ in self.doses)))

    @property
    def judged(self) -> int:
        """Return the day it is judged on: when it is reached, but no later than it is due."""
        return self.due if self.day is None else min(self.day, self.due)

    @property
    def reached(self) -> int:
        """Return the day from which it is held; what is put on later keeps it."""
        return max(self.due, self.day or self.due)

    @property
    def in_time(self) -> bool:
        """Say whether the target is reached by the day it is due, that day included."""
        return self.day is not None and self.day <= self.due

    @property
    def ready(self) -> int | None:
        """Return the first day from which the target holds; None where it never does."""
        return None if self.day is None else ready_day(self.task, self.doses, self.day)

    @cached_property
    def matter(self) -> float:
        """Return soil organic matter [share] on the day it is judged on."""
        return self.task.matter(self.by_then, self.judged)

    @property
    def by_then(self) -> Pulses:
        """Return the doses it is judged by: where they come too late, all that can be put on by the day."""
        return self.doses if self.in_time or self.if_late == "nothing" else self.most

    @property
    def not_humus(self) -> float | None:
        """Return the share of the gain that is no humus yet on the day it is judged on."""
        made = self.task.made(self.by_then, self.judged)
        if made <= 0:
            return None
        formed, per_loose = self.task.turnover.forming.at, self.task.per_loose
        before = ((self.judged - on, loose) for on, loose in self.by_then if on <= self.judged)
        humus = sum(loose * formed(days / DAYS_PER_YEAR) for days, loose in before)
        return max(0.0, 1 - float(humus) * per_loose / made)

    @property
    def met_share(self) -> float:
        """Return the share of the gain wanted that there is: 1 where it is reached and held in time."""
        return 1.0 if self.in_time else self._reach.share

    @cached_property
    def _reach(self) -> Reach:
        return reach(self.task, self.most, self.due)

    def why_not(self) -> str:
        """Return why the target is not reached in time or nothing."""
        because = self._why_not()
        return f"{stops_at(self.stopped)}: {because}" if because and self.stopped else because

    def _why_not(self) -> str:
        if self.in_time:
            return ""
        if self.if_late == "nothing":
            return f"not by {date.fromordinal(self.due)}"
        if not_held := why_not_held(self.task, self.most, self.due, self._reach):
            return not_held
        once = len(self.source.stock.lots.days) == 1  # what it would come to in years is of no dose of it
        if self.day is not None or self.if_late == "part" or (once and self.levels_off is None):
            return f"{self.matter:.1%} on {date.fromordinal(self.judged)}"
        if self.levels_off is None:
            return f"not within {FAR_YEARS} years"
        times = self.times_needed
        more = f"; it would take {in_figures(times, 2)} times as much in time" if times and times > 1 else ""
        return f"never: levels off at {self.levels_off:.1%}{more}"

    @cached_property
    def levels_off(self) -> float | None:
        """Return the level [share] that the most that comes tends to, where it stays below the target."""
        if self.day is not None:
            return None
        tends_to = self.task.with_carbon(
            level(self.source.supply, self.task, self.part) - self.task.all_fallen
        )
        return tends_to if tends_to < self.task.target else None

    @cached_property
    def times_needed(self) -> float | None:
        """Return how many times its part of every lot until the day wanted would reach it, and may go on."""
        lots, task = self.source.stock.lots, self.task
        if lots.endless:
            return None
        made = self.part * task.per_loose * lots.counted(task.turnover, self.by)
        times = task.missing(self.by) / made if made > 0 else inf
        return times if times <= 1 or times * self.part * lots.largest_by(self.by) <= task.cap else None

    @property
    def holds_with(self) -> float | None:
        """Return the yearly dose [kg/m2 as delivered] from then on that never lets the target drop.

        Of a target that is not reached it is the dose that levels off there: None where no dose does.
        """
        carbon = yearly_to_hold(self.task, self.doses, self.day)
        return None if carbon is None else carbon / self.source.supply.material.in_each_wet("carbon")


class Source:
    """A supply from which one task after another is served, each square metre of equal ground alike."""

    def __init__(self, supply: Supply[Any], stock: Stock) -> None:
        self.site, self.supply, self.stock, days = supply.site, supply, stock, stock.lots.days
        if not days or days[0] > self.site.end.toordinal():
            raise CannotServe(supply.note or "brings nothing within the horizon")
        self.first = days[0]
        self._known: dict[tuple[RaiseTask, IfLate], Raised] = {}

    def raised(
        self, task: RaiseTask, area: float, whole: float, given_up: GivenUp, if_late: IfLate = "later"
    ) -> Raised:
        """Return how a task comes out on its area [m2] of the whole there is, and take what it needs.

        Where there is no end of the stuff, what was worked out for a square metre holds for equal ones.
        """
        if not self.stock.lots.endless:
            return self._work_out(task, area, 1 / whole, given_up, if_late)
        key = task, if_late
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = self._work_out(task, area, 1 / whole, GivenUp(), if_late)
        return known

    def _work_out(
        self, task: RaiseTask, area: float, part: float, given_up: GivenUp, if_late: IfLate
    ) -> Raised:
        by = task.by or year_after(self.first)
        day, doses = self._held_by(task, by, area) if task.by else self._held_a_year_on(task, by, area)
        by, there = day or by, self.stock
        if day is None and if_late != "nothing" and not there.lots.endless:
            there = self.stock.copy()  # as it is before anything is taken
        if day is None and if_late == "later":
            day, doses = self._first_held(task, by, area, given_up) or (None, [])
        if day is None and if_late != "nothing":
            doses = fullest_doses(task, by, there.copy(), area)
            for on, loose in () if there.lots.endless else doses:
                self.stock.take(on, loose * area)
        return Raised(
            source=self,
            task=task,
            by=by,
            day=day,
            doses=doses,
            area=area,
            part=part,
            there=there,
            if_late=if_late,
        )

    def _held_by(self, task: RaiseTask, by: int, area: float) -> tuple[int | None, Pulses]:
        """Return the day from which the task is held, and the least doses."""
        doses = held_doses(task, by, self.stock, area)
        return (None, []) if doses is None else (by, doses)

    def _held_a_year_on(self, task: RaiseTask, by: int, area: float) -> tuple[int | None, Pulses]:
        """Return the day a year after the first dose from which the task is held, and the least doses.

        A dose on the day itself is a last resort. Where one makes itself the first, nothing is put on between
        the first there can be and the day. Where that does not do, the task is due, and is to be held, from a
        year after it; after a few times it is reached on the first day and held longer.
        """
        first = by
        for _ in range(FIRSTS):
            before = self.stock.state
            early = held_doses(task, by, self.stock, area, range(by, by + 1))
            doses = early if early is not None else held_doses(task, by, self.stock, area)
            if doses is None:
                return None, []
            due = year_after(min(day for day, _ in doses)) if doses else by
            if due <= by and self._holds(task, doses, due):
                return due, doses
            self.stock.put_back(before)
            if due <= by:
                return None, []
            begun = begun_first(task, by, self.first, self.stock, area) if by == first else None
            if begun:
                return by, begun
            by = due
        before, longer = self.stock.state, held_longer(task, first, self.stock, area)
        if longer and self._holds(task, longer, year_after(min(longer)[0])):
            return first, longer
        self.stock.put_back(before)
        return None, []

    def _first_held(
        self, task: RaiseTask, by: int, area: float, given_up: GivenUp
    ) -> tuple[int, Pulses] | None:
        """Return the first day after ``by`` from which the task is held, and the least doses, or None."""
        before = self.stock.state
        while (first := given_up.first_held(task, by, self.stock, area)) is not None and task.by is None:
            day, doses = first
            due = year_after(min((on for on, _ in doses), default=day))
            if day > due or self._holds(task, doses, due):
                break
            self.stock.put_back(before)
            day_held, held = self._held_a_year_on(task, due, area)
            if day_held is not None:
                return day_held, held
            before, by = self.stock.state, due
        return first

    def _holds(self, task: RaiseTask, doses: Pulses, due: int) -> bool:
        """Say whether doses hold the task from the day it is due."""
        return all(task.holds(doses, day) for day in looks(task, due, self.stock.lots))


def source_of(supply: Supply[Any], stock: Stock, apart: bool) -> Source:
    """Return where tasks are served from: a stock, but for what has no end one for all that ask.

    A stock that is ``apart`` is one place's own. Raises :class:`CannotServe` where nothing comes by the end.
    """
    return _endless(supply, stock.lots) if stock.lots.endless and not apart else Source(supply, stock)


@lru_cache(maxsize=MOST_KEPT)
def _endless(supply: Supply[Any], lots: Lots) -> Source:
    return Source(supply, Stock(lots))
