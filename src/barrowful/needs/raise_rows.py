"""What a plan asks of amounts so that soil organic matter is raised by a day and held from then on.

Days are day numbers here, carbon is in kg/m2.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set

from barrowful.catalogue.judgements import judgement
from barrowful.ground.amount import without_allowance
from barrowful.measures.dates import year_after
from barrowful.needs.ceilings import NO_CEILING
from barrowful.needs.raise_search import months_between
from barrowful.needs.raise_task import RaiseTask, dug_in, task_of
from barrowful.needs.raise_there import there_already
from barrowful.needs.rows import LET_OFF, Asked, Manner, Row
from barrowful.site.needs import Raise


def raise_manners(asked: Asked, need: Raise) -> list[Manner]:
    """Return the manner of raising a place by its date, or one a year after each day it may begin on.

    It begins with what is put on for it, and where nothing is, with what is dug in for other needs. All that
    is dug in counts but what the place was filled with. Where the target is there already, and
    stays, nothing is dug in for it.
    """
    rising, there = _Rising(asked, need), there_already(asked.site, asked.place, need)
    if there and (not rising.carbon or not asked.place.soil.managed):
        return [Manner(without=frozenset(number for number, _ in asked.of(need.kind)))]
    if not rising.carbon:
        return []
    if need.by is not None:
        return [rising.by(need.by.toordinal())]
    return [
        rising.begun(day, begun)
        for begun in (rising.own, rising.carbon.keys() - rising.own)
        for day in sorted({asked.portions[number].number for number in begun})
        if day <= asked.last(need.kind)
    ]


class _Rising:
    """What portions that are dug in make of a place's soil organic matter."""

    def __init__(self, asked: Asked, need: Raise) -> None:
        self.asked, self.need = asked, need
        #: Carbon of each m3 of a portion.
        self.carbon: Mapping[int, float] = {
            number: asked.dose(number).carbon
            * (without_allowance(1.0, need.allowance) if of.kind == need.kind else 1.0)
            for number, of in enumerate(asked.portions)
            if dug_in([asked.dose(number)])
        }

    @property
    def _task(self) -> RaiseTask:
        """Return the task, for what is missing of it: that is the same whatever is dug in."""
        any_stuff = self.asked.portions[next(iter(self.carbon))].material
        return task_of(self.asked.site, self.asked.place, self.need, any_stuff, NO_CEILING)

    def by(self, due: int) -> Manner:
        """Return the manner of being raised by a day and held from then on."""
        task = self._task
        last, held_from = task.held_to(due), min(due, self.asked.ready_by or due)
        too_late = frozenset(number for number, of in self.asked.of(self.need.kind) if of.number > last)
        return Manner(rows=tuple(self._rows(task, held_from, last)), without=too_late)

    @property
    def own(self) -> frozenset[int]:
        """Return the portions that are put on for it."""
        return frozenset(number for number, _ in self.asked.of(self.need.kind)) & self.carbon.keys()

    def begun(self, day: int, begun: Set[int]) -> Manner:
        """Return the manner of beginning on a day with some of its portions, and being raised a year after.

        Where these are not its own, none of its own is put on. A way that might have begun sooner does not
        wait for it. Of its own a good part of all that is put on in the year comes with the first: a handful
        only sets the day from which the year is counted.
        """
        held, soonest, portions = self.by(year_after(day)), self.asked.soonest, self.asked.portions
        later = {
            number
            for number in self.own
            if soonest.get((self.need.kind, portions[number].supply.name), day) < day
        }
        return Manner(
            rows=(*held.rows, *(self._first_part(day) if begun == self.own else ())),
            without=held.without
            | {number for number in begun if portions[number].number < day}
            | (later if begun == self.own else self.own),
            begins_with=tuple(number for number in sorted(begun) if portions[number].number == day),
        )

    def _first_part(self, day: int) -> Iterator[Row]:
        """Yield the row by which a share of what is put on for it in a year comes on the first day."""
        share, due = judgement("raise_begins"), year_after(day)
        in_year = [of for of in self.own if day <= self.asked.portions[of].number <= due]
        at_first = {of for of in in_year if self.asked.portions[of].number == day}
        if len(at_first) < len(in_year):
            yield Row({of: self.carbon[of] * ((of in at_first) - share) for of in sorted(in_year)}, least=0.0)

    def _rows(self, task: RaiseTask, first: int, last: int) -> Iterator[Row]:
        """Yield the rows of the days it is looked at: the first, months, the eves of doses, and the last."""
        dosed = (self.asked.portions[number].number for number in self.carbon)
        eves = (day - 1 for day in dosed if first < day <= last)
        for day in sorted({first, *months_between(first, last), *eves, last}):
            missing = task.missing(day)
            if missing > 0:
                yield Row(self._made_on(day), least=missing * (1 - LET_OFF))

    def _made_on(self, day: int) -> dict[int, float]:
        """Return what counts on a day of each m3 of portions put on by then."""
        asked, made = self.asked, dict[int, float]()
        for number, carbon in self.carbon.items():
            put_on = asked.portions[number].number
            if put_on <= day:
                counted = asked.dose(number).response(asked.site).turnovers.likely.counted_by_days
                made[number] = carbon * counted[day - put_on]
        return made
