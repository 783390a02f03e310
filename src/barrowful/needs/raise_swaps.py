"""The same raise with less: what is too much is taken back, and doses move to days that serve better."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from barrowful.needs.raise_task import RaiseTask
from barrowful.supplies.stock import Stock

#: Settings of the search, none of the trade: rounds of swaps, lots that are tried beside those with a dose,
#: halvings by which the size of a swap is found, and the share of all that a swap must save.
ROUNDS, FEW_LOTS, HALVINGS, LEAST_SAVED = 8, 12, 50, 1e-5
#: What rounding may leave over of a dose.
SLACK = 1e-9


@dataclass
class Doses:
    """Doses [loose m] by the day of their lot that hold a task on some days, and the stock they are of."""

    task: RaiseTask
    stock: Stock
    area: float
    days: Sequence[int]
    loose: dict[int, float]
    spared: frozenset[int] = frozenset()  #: days of lots that get none

    def trim(self) -> None:
        """Give back what is too much on every day that is looked at, of the earliest doses first."""
        surplus = [max(0.0, slack) for slack in self._slacks()]
        for lot in sorted(self.loose):
            effects = self._effects(lot)
            overs = [much / effect for much, effect in zip(surplus, effects, strict=True) if effect > 0]
            over = min([self.loose[lot], *overs])
            if over > SLACK * self.loose[lot]:
                self.loose[lot] -= over
                self.stock.give_back(lot, over * self.area)
                surplus = [much - over * effect for much, effect in zip(surplus, effects, strict=True)]

    def swap(self) -> None:
        """Move doses to other lots wherever less of those does for more of these, as long as that saves."""
        effects = {lot: self._effects(lot) for lot in self._lots()}
        for _ in range(ROUNDS):
            before = sum(self.loose.values())
            for less in sorted(self.loose):
                for more in effects:
                    if less != more and self.loose.get(less, 0.0) > 0:
                        self._try(effects, less, more)
            if sum(self.loose.values()) > before * (1 - LEAST_SAVED):
                return

    def _lots(self) -> list[int]:
        """Return the days of lots that doses may be moved to."""
        coming = [lot for lot in self.stock.lots.days if lot <= max(self.days) and lot not in self.spared]
        return coming if len(coming) <= FEW_LOTS else [lot for lot in coming if lot in self.loose]

    def _effects(self, lot: int) -> list[float]:
        """Return what a m of a lot makes on each of the days."""
        return [self.task.made([(lot, 1.0)], day) if lot <= day else 0.0 for day in self.days]

    def _slacks(self) -> list[float]:
        """Return what is made beyond what is missing on each of the days."""
        doses = list(self.loose.items())
        return [
            self.task.made([dose for dose in doses if dose[0] <= day], day) - self.task.missing(day)
            for day in self.days
        ]

    def _try(self, effects: dict[int, list[float]], less: int, more: int) -> None:
        """Swap as much of one lot for another as saves most, where anything is saved."""
        whole = sum(self.loose.values())
        lines = list(zip(self._slacks(), effects[less], effects[more], strict=True))
        if any(slack <= SLACK * self.task.utmost and lost >= gained > 0 for slack, lost, gained in lines):
            return
        most = min(self._room(less, more), self._there(less, more))
        off = min(
            [
                self.loose[less],
                *((most * gained + max(0.0, slack)) / lost for slack, lost, gained in lines if lost > 0),
            ]
        )
        off = _best(lines, off)
        on = _wanted(lines, off)
        if off - on > LEAST_SAVED * whole and self._move(less, off, more, on):
            self.loose[less] -= off
            self.loose[more] = self.loose.get(more, 0.0) + on

    def _room(self, less: int, more: int) -> float:
        """Return how much deeper the dose of a lot may be when another is made smaller by no less."""
        there = self.loose.get(more, 0.0)
        if self.task.alone(self.stock):
            return max(0.0, self.task.cap - there)
        others = [(lot, loose) for lot, loose in self.loose.items() if lot != less]
        return max(0.0, min(self.task.most - there, self.task.room.left(more, others)))

    def _there(self, less: int, more: int) -> float:
        """Return how much [m] there is of a lot when another is given back."""
        if self.stock.lots.endless:
            return inf
        before = self.stock.state
        self.stock.give_back(less, self.loose[less] * self.area)
        there = self.stock.take(more, inf) / self.area
        self.stock.put_back(before)
        return there

    def _move(self, less: int, off: float, more: int, on: float) -> bool:
        """Move it in the stock; say if there is enough of the other lot."""
        if self.stock.lots.endless:
            return True
        before = self.stock.state
        self.stock.give_back(less, off * self.area)
        if self.stock.take(more, on * self.area) >= on * self.area * (1 - SLACK):
            return True
        self.stock.put_back(before)
        return False


#: On each day what is made beyond what is missing, and what a m of the one lot and of the other makes.
Lines = Sequence[tuple[float, float, float]]


def _wanted(lines: Lines, off: float) -> float:
    """Return how much of the other lot is wanted for so much less of the one."""
    wanted = ((lost * off - max(0.0, slack)) / gained for slack, lost, gained in lines if gained > 0)
    return max(0.0, *wanted, 0.0)


def _best(lines: Lines, most: float) -> float:
    """Return how much less of the one lot, up to the most, saves most: what is saved rises and then falls."""
    low, high = 0.0, most
    for _ in range(HALVINGS):
        third = (high - low) / 3
        if (low + third) - _wanted(lines, low + third) < (high - third) - _wanted(lines, high - third):
            low += third
        else:
            high -= third
    return high if high == most else low
