"""The least doses that hold a raise on some days: a linear programme over the lots, solved exactly.

Days are day numbers here, doses loose depths in m.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from math import floor, frexp, inf, ldexp
from operator import mul, truediv

from barrowful.catalogue.judgements import judgement
from barrowful.ground.linear import AtLeast, Corner, Growing, NoAnswer
from barrowful.needs.bounds import Bound
from barrowful.needs.raise_limits import Ceilings, Limit, first_broken
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.soil.turnover import Turnover
from barrowful.supplies.stock import MOST_KEPT, Stock

#: What rounding may leave over, as a share.
SLACK = 1e-9
#: Programmes that are kept for others to begin at, and how many of them there are at most from an amount to
#: twice as much: settings of the search.
KEPT, NOTCHES = 1024, 8


def least_doses(
    task: RaiseTask, stock: Stock, area: float, days: Sequence[int], lots: Sequence[int]
) -> Pulses | None:
    """Return the least doses on the days of lots, in order, that hold a task on some days, or None.

    They keep to what goes on at once, to the ceilings, and to what is left of a stock for an area [m2].
    Where the first dressing may be deeper, each lot is tried as the first.
    """
    programme = _least(task, stock, area, days, lots)
    return None if programme is None else programme.doses


def without_specks(
    task: RaiseTask, stock: Stock, area: float, days: Sequence[int], lots: Sequence[int]
) -> Pulses | None:
    """Return the least doses, or others with as few as can be that are no more than a speck of all.

    Nobody orders a load to put on a shovel of it: a little more goes on with the rest. A speck on another
    day in its place is no better: that day is left out too.
    """
    programme = _least(task, stock, area, days, lots)
    if programme is None:
        return None
    fewest = programme.doses
    most, specks = _whole(fewest) * (1 + judgement("speck_made_up")), _specks(fewest)
    few, left = len(specks), lots
    while specks:
        if task.room.first_apart:
            left = [lot for lot in left if lot not in specks]
            programme = _least(task, stock, area, days, left)
        elif not programme.does_without(specks):
            break
        if programme is None or _whole(programme.doses) > most:
            break
        specks = _specks(programme.doses)
        if len(specks) < few:
            fewest, few = programme.doses, len(specks)
    return fewest


def _least(
    task: RaiseTask, stock: Stock, area: float, days: Sequence[int], lots: Sequence[int]
) -> _Programme | None:
    """Return the programme of the least doses, solved, or None."""
    best: _Programme | None = None
    for first in range(len(lots)) if lots and task.room.first_apart else (0,):
        programme = _Programme(task, stock, area, days, lots[first:])
        if not programme.solved():
            continue
        if task.room.first_apart and programme.doses and programme.doses[0][0] != lots[first]:
            continue  # the twelve months of the first dressing begin later
        if best is None or _whole(programme.doses) < _whole(best.doses) * (1 - SLACK):
            best = programme
    return best


def _specks(doses: Pulses) -> set[int]:
    """Return the days of doses that are no more than a speck of all."""
    speck = judgement("speck") * _whole(doses)
    return {lot for lot, loose in doses if loose < speck}


def _whole(doses: Pulses) -> float:
    return sum(loose for _, loose in doses)


class _Wanted:
    """What the doses of lots are to come to on some days, in m of a dose that counts as a whole."""

    def __init__(
        self, turnover: Turnover, lots: Sequence[int], days: tuple[int, ...], wanted: Sequence[float]
    ) -> None:
        self.days, self.wanted, self.rows = days, wanted, _rows(turnover, tuple(lots), days)
        self.alike = len(set(wanted)) == 1  #: is the same wanted on every day?
        self.enough = (1 - SLACK) * (wanted[0] if self.alike else 1.0)

    def lacking(self, loose: list[float]) -> Growing | None:
        """Return the row of the day on which the largest share is lacking."""
        made = [sum(map(mul, row, loose)) for row in self.rows]
        shares = made if self.alike else list(map(truediv, made, self.wanted))
        least = min(shares, default=inf)
        if least >= self.enough:
            return None
        worst = shares.index(least)
        return self.rows[worst], self.wanted[worst], 1.0


@lru_cache(maxsize=MOST_KEPT)
def _rows(turnover: Turnover, lots: tuple[int, ...], days: tuple[int, ...]) -> list[list[float]]:
    """Return what a m of each lot comes to, day by day."""
    counted = turnover.counted_by_days
    return [[counted[day - lot] for lot in lots] for day in days]


@lru_cache(maxsize=KEPT)
def _of_one(turnover: Turnover, lots: tuple[int, ...], days: tuple[int, ...]) -> Corner | None:
    """Return the least doses that come to one on some days, of lots that nothing bounds, or None."""
    every = _Wanted(turnover, lots, days, [1.0] * len(days))
    return _last(Corner([1.0] * len(lots), [inf] * len(lots)), every, Ceilings((), lots))


@lru_cache(maxsize=KEPT)
def _within(
    turnover: Turnover,
    lots: tuple[int, ...],
    days: tuple[int, ...],
    cap: float,
    bounds: tuple[Bound, ...],
    wanted: float,
) -> Corner | None:
    """Return the least doses that come to so much on some days, of lots without end but ceilings, or None."""
    one = _of_one(turnover, lots, days)
    if one is None:
        return None
    every = _Wanted(turnover, lots, days, [wanted] * len(days))
    return _last(one.asked(wanted - 1, [cap] * len(lots)), every, Ceilings(bounds, lots))


def _last(corner: Corner, wanted: _Wanted, ceilings: Ceilings) -> Corner | None:
    """Return a corner walked on until it holds what is wanted within ceilings; None where none does."""
    try:
        corner.walked(lambda loose: wanted.lacking(loose) or first_broken(ceilings.limits(loose), loose))
    except NoAnswer:
        return None
    return corner


def notch(wanted: float) -> float:
    """Return what is little less than is wanted, and of few values: many tasks begin at one of them.

    >>> notch(0.9), notch(1.0), notch(1.2)
    (0.875, 1.0, 1.125)
    """
    mantissa, exponent = frexp(wanted)
    return ldexp(floor(mantissa * 2 * NOTCHES) / (2 * NOTCHES), exponent)


class _Programme:
    """Doses on the days of lots as unknowns, and the rows they keep to."""

    def __init__(
        self, task: RaiseTask, stock: Stock, area: float, days: Sequence[int], lots: Sequence[int]
    ) -> None:
        self.task, self.stock, self.lots = task, stock, lots
        days = sorted(set(days))
        if task.plain and not task.turnover.peak_days:
            days = telling(days, lots)
        missing = [(day, task.missing(day)) for day in days]
        lacking = tuple([day for day, carbon in missing if carbon > 0])
        wanted = [carbon / task.per_loose for _, carbon in missing if carbon > 0]
        self.wanted = _Wanted(task.turnover, lots, lacking, wanted)
        self.ceilings = Ceilings(() if task.alone(stock) else task.room.bounds, lots)
        self.there = [_there_on(stock, lot, area) for lot in lots]
        self.corner: Corner | None = None
        self.doses: Pulses = []

    def solved(self) -> bool:
        """Find the doses and say whether any do."""
        self.corner = self._start()
        return self.corner is not None and self._walked(self.corner)

    def does_without(self, lots: Collection[int]) -> bool:
        """Find the doses with nothing on some lots, from where those stand, and say whether any do."""
        assert self.corner, "only what is solved goes on"
        for number, lot in enumerate(self.lots):
            if lot in lots:
                self.corner.bar(number)
        return self._walked(self.corner)

    def _walked(self, corner: Corner) -> bool:
        try:
            doses = corner.walked(self.broken)
        except NoAnswer:
            return False
        dust = SLACK * sum(doses)
        self.doses = [(lot, loose) for lot, loose in zip(self.lots, doses, strict=True) if loose > dust]
        return True

    def _start(self) -> Corner | None:
        """Return where to begin, None where no doses do.

        Where the same is wanted on every day, it is where others that want it end.
        """
        task, wanted = self.task, self.wanted
        most = [min(task.cap, there) for there in self.there]
        if not task.plain or not wanted.days:
            return Corner([1.0] * len(most), most)
        each, of = wanted.wanted[0], (task.turnover, tuple(self.lots), wanted.days)
        if self.stock.lots.endless and self.ceilings.bounds and task.room.alike:
            begin = notch(each)
            corner = _within(*of, task.cap, self.ceilings.bounds, begin)
        else:
            begin = 1.0
            corner = _of_one(*of)
        return None if corner is None else corner.asked(each - begin, most)

    def broken(self, loose: list[float]) -> AtLeast | Growing | None:
        """Return the row that doses break most: of what is wanted, else of what is let on, or there."""
        return self.wanted.lacking(loose) or first_broken(self._limits(loose), loose)

    def _limits(self, loose: list[float]) -> Iterator[Limit]:
        yield from self.ceilings.limits(loose)
        if self.stock.lots.keeps and not self.stock.lots.endless:
            yield from self._of_stock(loose)

    def _of_stock(self, loose: list[float]) -> Iterator[Limit]:
        """Yield the limits of stuff that keeps: all that is there up to each lot."""
        for number, (each, there) in enumerate(zip(loose, self.there, strict=True)):
            if each > 0:
                yield 0, number + 1, there


def _there_on(stock: Stock, lot: int, area: float) -> float:
    """Return how deep [m] what is there on the day of a lot would lie on an area [m2]."""
    if stock.lots.endless:
        return inf
    return (stock.left_by(lot) if stock.lots.keeps else stock.left_on(lot)) / area


def telling(days: Sequence[int], lots: Sequence[int]) -> list[int]:
    """Return the first and the last of some days in order between one lot and the next.

    Where doses do nothing but fade and the same is wanted on every day, most is lacking on the last of
    them; where nothing was put on before, as much on the first.

    >>> telling([10, 20, 30, 40, 50], [5, 35])
    [10, 30, 40, 50]
    """
    told = list[int]()
    for _, between in groupby(days, key=lambda day: bisect_right(lots, day)):
        first, *later = between
        told += [first, *later[-1:]]
    return told


def lots_to(stock: Stock, last: int, spared: range) -> list[int]:
    """Return the days of lots up to a last one on which something may be left, without those spared."""
    coming = stock.lots.days[: bisect_right(stock.lots.days, last)]
    if stock.lots.endless or stock.lots.keeps:
        return [lot for lot in coming if lot not in spared]
    return [lot for lot in coming if lot not in spared and stock.left_on(lot) > 0]
