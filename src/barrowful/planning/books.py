"""What a plan's columns come to: money, hours by month, and what is drawn of each way by day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from barrowful.planning.columns import TOLERANCE
from barrowful.planning.solver import Programme

#: What columns count, each: money, hours or m3.
Counts = dict[int, float]


def counts() -> Counts:
    """Return nothing counted yet."""
    return defaultdict(float)


@dataclass(kw_only=True)
class Books:
    """The programme, and what each of its columns counts."""

    programme: Programme = field(default_factory=Programme)
    year_end: int  #: day number from which money is no longer of the first year
    sure_of_leftovers: bool = False  #: is only used of them what is sure to have kept, not all that may have?
    years_apart: bool = False  #: is what the first year orders no order of the second, however soon after?
    cash: Counts = field(default_factory=counts)
    cash_first_year: Counts = field(default_factory=counts)
    hours: Counts = field(default_factory=counts)
    orders: Counts = field(default_factory=counts)
    #: What each order brings [m3]: its column, by that of whether it is placed.
    brings: dict[int, int] = field(default_factory=dict)
    by_month: dict[date, Counts] = field(default_factory=lambda: defaultdict(counts))
    #: What is drawn [m3] of each way on each day number.
    drawn: dict[str, dict[int, Counts]] = field(
        default_factory=lambda: defaultdict(lambda: defaultdict(counts))
    )

    def pay(self, column: int, money: float, day: int) -> None:
        """Count money for a column, due on a day."""
        if money:
            self.cash[column] += money
            if day < self.year_end:
                self.cash_first_year[column] += money

    def work(self, column: int, hours: float) -> None:
        """Count hours for a column."""
        if hours:
            self.hours[column] += hours

    def order(self, placed: int, volume: int) -> None:
        """Count an order, by the columns of whether it is placed and of what it brings."""
        self.orders[placed] += 1.0
        self.brings[placed] = volume

    def orders_at(self, values: Sequence[float]) -> int:
        """Return how many orders bring something at some values: one that is placed need not."""
        return sum(values[volume] > TOLERANCE for volume in self.brings.values())

    def draw(self, way: str, day: int, column: int, loose: float) -> None:
        """Count what a column draws [m3] of a way on a day."""
        if loose:
            self.drawn[way][day][column] += loose

    def drawn_on(self, way: str, days: Iterable[int]) -> Counts:
        """Return what each column draws [m3] of a way on some day numbers together."""
        drawn = counts()
        for day in days:
            for column, loose in self.drawn[way].get(day, {}).items():
                drawn[column] += loose
        return drawn


def total(values: Mapping[int, float] | tuple[float, ...], of: Mapping[int, float]) -> float:
    """Return what columns count in all at some values."""
    return sum(values[column] * each for column, each in of.items())
