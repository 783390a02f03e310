"""Searching for the least doses of a raise and the first day it can be reached; days are day numbers here."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from math import inf

from barrowful.measures.dates import Step
from barrowful.needs.raise_least import SLACK, least_doses, lots_to, without_specks
from barrowful.needs.raise_peaks import first_counting
from barrowful.needs.raise_task import Pulses, RaiseTask
from barrowful.supplies.stock import Lots, Stock

#: Settings of the search, none of the trade: days between those on which a target that is reached is
#: looked at, and after how many in vain spans are looked at instead.
LOOKS, FEW_VAIN = 30, 10
#: Doses so many days apart are never within one twelve months.
LONG_YEAR = 367
#: Lots from which on the least doses are not worth their time: a setting of the search.
MANY_LOTS = 100
#: What rounding may take off what could be made.
NEAR = 1e-6
NO_DAY = range(0)


def held_doses(task: RaiseTask, by: int, stock: Stock, area: float, spared: range = NO_DAY) -> Pulses | None:
    """Return the least doses that reach the task on a day and hold it from then on; takes them for an area.

    No dose is put on days that are ``spared``. Where many lots come it is looked at from day to day, and
    where something is missing the most effective lots so far are filled first, which may take more than the
    least; what is too much in the end is taken back. None where no doses do.
    """
    days = looks(task, by, stock.lots)
    if not _might(task, stock, area, days):
        return None
    lots = lots_to(stock, max(days), spared)
    if len(lots) > MANY_LOTS:
        return _filled(task, days, stock, area, spared)
    doses = without_specks(task, stock, area, days, lots)
    if doses is None or stock.lots.endless:
        return doses
    return [(lot, stock.take(lot, loose * area) / area) for lot, loose in doses]


def can_be_held(task: RaiseTask, by: int, stock: Stock, area: float) -> bool:
    """Say whether any doses reach the task on a day and hold it from then on; nothing is taken."""
    days = looks(task, by, stock.lots)
    might = _might(task, stock, area, days)
    if not might or (stock.lots.endless and task.alone(stock)):
        return might
    lots = lots_to(stock, max(days), NO_DAY)
    if len(lots) > MANY_LOTS:
        return _filled(task, days, stock.copy(), area, NO_DAY) is not None
    return least_doses(task, stock, area, days, lots) is not None


def last_failing(task: RaiseTask, by: int, stock: Stock, area: float) -> int:
    """Return the last of the days a task is looked at on which nothing would do, or the day it is due."""
    days = sorted(looks(task, by, stock.lots), reverse=True)
    return next((day for day in days if not _could(task, stock, area, day, day, SLACK)), by)


def _might(task: RaiseTask, stock: Stock, area: float, days: tuple[int, ...]) -> bool:
    """Say whether the most there can be does on some days: of what has no end, each dose alone, just that."""

    def does(day: int) -> bool:
        return most_there_can_be(task, stock, area, day, day) >= task.missing(day) * (1 - SLACK)

    if task.plain:  # what doses can make is least where they count least, what there is on the first day
        return does(min(days)) and does(stock.lots.least_counting(task.turnover, days))
    return all(map(does, days))


def _filled(task: RaiseTask, days: Sequence[int], stock: Stock, area: float, spared: range) -> Pulses | None:
    """Return doses that hold a task on some days, filled in their order, with nothing too much."""
    before, doses, due = stock.state, dict[int, float](), min(days)
    for day in days:
        wanted = task.missing(day)
        lacking = wanted - task.made(list(doses.items()), day)
        held = () if day == due else (day,)  # what is held is not made up on the day itself
        if lacking > SLACK * wanted and not _fill(task, stock, area, day, lacking, doses, (spared, held)):
            stock.put_back(before)
            return None
    _trim(task, days, stock, area, doses)
    return [(lot, loose) for lot, loose in doses.items() if loose > 0]


def _trim(task: RaiseTask, days: Sequence[int], stock: Stock, area: float, doses: dict[int, float]) -> None:
    """Give back what is too much on every day that is looked at, of the earliest doses first."""
    surplus = [max(0.0, task.made(list(doses.items()), day) - task.missing(day)) for day in days]
    for lot in sorted(doses):
        effects = [task.made([(lot, 1.0)], day) for day in days]
        overs = [much / effect for much, effect in zip(surplus, effects, strict=True) if effect > 0]
        over = min([doses[lot], *overs])
        if over > SLACK * doses[lot]:
            doses[lot] -= over
            stock.give_back(lot, over * area)
            surplus = [much - over * effect for much, effect in zip(surplus, effects, strict=True)]


def looks(task: RaiseTask, by: int, lots: Lots) -> tuple[int, ...]:
    """Return the days a task is looked at: when it is due, each first of a month, eves of lots, the last.

    Of what comes between two lots the end is first: on it what rots is least.
    """
    return _looks(by, task.held_to(by), lots)


@lru_cache(maxsize=4096)
def _looks(by: int, last: int, lots: Lots) -> tuple[int, ...]:
    if last <= by:
        return (by,)
    coming = lots.days[bisect_right(lots.days, by) : bisect_right(lots.days, last)]
    ends = [*(lot - 1 for lot in coming), last]
    days, begin = list[int](), by
    for end in ends:
        days += [end, *(day for day in (by, *months_between(by, last)) if begin <= day < end)]
        begin = end + 1
    return tuple(days)


@lru_cache(maxsize=4096)
def months_between(first: int, last: int) -> tuple[int, ...]:
    """Return the first days of months after a day and before another."""
    day, step, found = date.fromordinal(first).replace(day=1), Step(months=1), list[int]()
    while (day := step.after(day)).toordinal() < last:
        found.append(day.toordinal())
    return tuple(found)


def _fill(
    task: RaiseTask,
    stock: Stock,
    area: float,
    day: int,
    missing: float,
    doses: dict[int, float],
    spared: Sequence[Sequence[int]] = (),
) -> bool:
    """Add to doses [loose m] what is missing on a day, the most effective lots first; say if it is enough."""
    enough, alone = SLACK * missing if missing < inf else 0.0, task.alone(stock)
    for counted, lot in stock.best_first(task.turnover, day, day):
        effect = counted * task.per_loose
        if missing <= enough or effect <= 0:
            break
        if any(lot in days for days in spared):
            continue
        there = doses.get(lot, 0.0)
        most = task.cap - there
        if not alone and most > 0:
            most = min(most, task.room.left(lot, _beside(task, lot, doses)))
        if most <= SLACK * task.cap:  # what rounding leaves of a ceiling is no dose
            continue
        wanted = min(most, missing / effect)
        taken = wanted if stock.lots.endless else stock.take(lot, wanted * area) / area
        if taken > 0:
            doses[lot] = there + taken
            missing -= taken * effect
    return missing <= enough


def _beside(task: RaiseTask, lot: int, doses: dict[int, float]) -> Pulses:
    """Return the doses that may share twelve months with a lot; all where the first dressing is apart."""
    if not task.room.alike:
        return list(doses.items())
    return [(day, loose) for day, loose in doses.items() if abs(day - lot) < LONG_YEAR]


def fullest_doses(task: RaiseTask, by: int, stock: Stock, area: float) -> Pulses:
    """Return all that can be put on by a day, the most effective lots first; takes it for an area [m2]."""
    doses = dict[int, float]()
    _fill(task, stock, area, by, inf, doses)
    return [(lot, loose) for lot, loose in doses.items() if lot <= by]


def _best_filled(
    task: RaiseTask, stock: Stock, area: float, days: tuple[int, int], missing: float
) -> tuple[Pulses, float]:
    """Return doses on the days of lots, and what they lack; takes them for an area [m2].

    Each counts as much as it does on whichever of some days, from a first to a last, is best for it; on one
    day they keep to the ceilings, on more only to the most there can be at one time.
    """
    if days[0] == days[1]:
        filled = dict[int, float]()
        _fill(task, stock, area, days[0], missing, filled)
        made = task.made(list(filled.items()), days[0])
        return list(filled.items()), missing - made
    whole = missing
    doses: Pulses = []
    for counted, day in stock.best_first(task.turnover, *days):
        effect = counted * task.per_loose
        if missing <= SLACK * whole or effect <= 0:
            break
        wanted = min(task.cap, missing / effect)
        taken = wanted if stock.lots.endless else stock.take(day, wanted * area) / area
        if taken > 0:
            doses.append((day, taken))
            missing -= taken * effect
    return doses, missing


def most_there_can_be(task: RaiseTask, stock: Stock, area: float, first: int, last: int) -> float:
    """Return no less carbon [kg/m2] than doses can make on any day from a first to a last one.

    It is what the deepest doses on every day make, or all there is where that is less.
    """
    every_day = task.cap * stock.lots.most_counted(task.turnover, first, last)
    if stock.lots.endless or not every_day:
        return every_day * task.per_loose
    all_there_is = stock.left_by(last) * task.turnover.most_counted(0, last - stock.lots.days[0])
    return min(every_day, all_there_is / area) * task.per_loose


def _could(task: RaiseTask, stock: Stock, area: float, first: int, last: int, slack: float) -> bool:
    """Say whether doses may reach the task on a day from a first to a last one; the stock is left as it was.

    On one day it is whether they do.
    """
    missing = task.least_missing(first, last)
    if most_there_can_be(task, stock, area, first, last) < missing * (1 - slack):
        return False
    alone, lots, per_m2 = task.alone(stock), stock.lots, task.per_loose / area
    if lots.endless and (first < last or alone):
        return True
    if alone and not lots.keeps:  # each lot goes on by itself
        each = stock.up_to(task.cap * area)
        return lots.at_most(each, task.turnover, first, last) * per_m2 >= missing * (1 - slack)
    might = lots.endless or lots.all_at_best(task.turnover, first, last) * per_m2 >= missing * (1 - slack)
    if not might or (first < last and not alone):
        return might
    before = stock.state
    _, lacking = _best_filled(task, stock, area, (first, last), missing)
    stock.put_back(before)
    return lacking <= slack * missing


def first_day(task: RaiseTask, by: int, stock: Stock, area: float) -> int | None:
    """Return the first day after ``by`` on which the task can be reached, or None.

    What can be reached rises and falls between lots, as what was dug in before and the humus there was
    fall, and as wood and greens turn to humus and rot: so days are halved, and a half on which even what
    each dose counts on its own best day would not do is left out. Where many days look as if they would do
    and do not, only days of lots and last days of longer and longer spans are looked at. Where nothing falls,
    peaks tell it of what has no end.
    """
    lots, deepest = stock.lots, task.cap * task.per_loose
    if task.plain and lots.endless and task.alone(stock) and deepest > 0:
        return first_counting(lots, task.turnover, task.wanted * (1 - SLACK) / deepest, by + 1)
    return _Spans(task, stock, area).first(by + 1, lots.until)


class _Spans:
    """A search through spans of days, which knows how many days it looked at in vain."""

    def __init__(self, task: RaiseTask, stock: Stock, area: float) -> None:
        self.task, self.stock, self.area, self.in_vain = task, stock, area, 0
        self.alone = task.alone(stock)

    def first(self, first: int, last: int) -> int | None:
        """Return the first day, from a first to a last one, on which the task can be reached, or None."""
        if first > last or not self._could(first, last):
            return None
        if first == last:
            return first
        if last - first < LOOKS * (self.in_vain // FEW_VAIN):
            return self._of_lots(first, last)
        middle = _split(first, last)
        early = self.first(first, middle)
        return early if early is not None else self.first(middle + 1, last)

    def _of_lots(self, first: int, last: int) -> int | None:
        """Return the first day of a lot in a span, or its last day, on which the task can be reached."""
        lots = self.stock.lots.days
        coming = lots[bisect_left(lots, first) : bisect_right(lots, last)]
        return next((day for day in (*coming[:1], last) if self._could(day, day)), None)

    def _could(self, first: int, last: int) -> bool:
        slack = NEAR if first < last else SLACK
        could = _could(self.task, self.stock, self.area, first, last, slack)
        self.in_vain += first == last and not could and not self.alone
        return could


def _split(first: int, last: int) -> int:
    """Return where some days are parted: on the roundest number, so that other tasks ask for the same parts.

    >>> _split(5, 18), _split(16, 18), _split(17, 18)
    (15, 17, 17)
    """
    lowest = (first ^ last).bit_length() - 1
    return (last >> lowest << lowest) - 1
