"""The axes of a chart: from where to where they go, and round ticks on them, for numbers and for days."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import NamedTuple

from barrowful.measures.fixed import fixed

#: Values that differ by a smaller share of themselves are drawn as equal.
APART = Decimal("1e-6")
#: Digits of a tick that is told by a power of ten, which tell such values apart; and from where it is.
TICK_DIGITS, LONG_TICK, LONG_DECIMALS = 8, 10**12, 6
#: What a step may be of a power of ten.
ROUND_STEPS = (1, 2, 5, 10)
#: Steps between the ticks of days [days, months, years].
DAY_STEPS, MONTH_STEPS = (1, 2, 7, 14), (1, 2, 3, 6)
YEAR_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
#: The fewest days of a month, and of a year.
SHORT_MONTH, SHORT_YEAR = 28, 365
#: Days kept free on either side: a share of all, and where all is a single day.
MARGIN, MARGIN_OF_A_DAY = 0.04, 15
#: Columns between the labels of two ticks.
TICK_GAP = 2


class Tick(NamedTuple):
    """A tick: where it stands on its axis, and what it says."""

    at: Decimal
    label: str


@fixed(kw_only=False, eq=True)
class Axis:
    """An axis from a least to a most, days as day numbers, with its ticks in order."""

    least: Decimal
    most: Decimal
    ticks: tuple[Tick, ...]

    def share(self, at: Decimal | float) -> float:
        """Return how far along the axis something is [share]."""
        return float((Decimal(at) - self.least) / (self.most - self.least))


def value_axis(values: Iterable[Decimal | float], intervals: int) -> Axis:
    """Return an axis for numbers with about so many intervals, in steps of 1, 2 or 5 of a power of ten.

    >>> [tick.label for tick in value_axis([980, 1420], 4).ticks]
    ['800', '1,000', '1,200', '1,400', '1,600']
    """
    least, most = _ends([Decimal(value) for value in values])
    step = _round_step((most - least) / intervals)
    first = int((least / step).to_integral_value(ROUND_FLOOR))
    last = int((most / step).to_integral_value(ROUND_CEILING))
    ticks = tuple(Tick(count * step, _told(count * step, step)) for count in range(first, last + 1))
    return Axis(ticks[0].at, ticks[-1].at, ticks)


def _ends(values: Sequence[Decimal]) -> tuple[Decimal, Decimal]:
    """Return the ends of an axis: nought is one unless all values are close together and far from it."""
    least, most = min(values), max(values)
    equal = most - least <= APART * max(abs(least), abs(most))
    if equal or 0 < least < most / 2:
        least = min(least, Decimal(0))
    if equal or least / 2 < most < 0:
        most = max(most, Decimal(0))
    return least, most if most > least else Decimal(1)


def _round_step(least: Decimal) -> Decimal:
    """Return the smallest round step that is no less."""
    power = Decimal(1).scaleb(least.adjusted())
    return next(power * times for times in ROUND_STEPS if power * times >= least)


def _told(tick: Decimal, step: Decimal) -> str:
    """Return a tick as text with the decimals of its step."""
    decimals = max(0, -step.adjusted())
    if abs(tick) >= LONG_TICK or decimals > LONG_DECIMALS:
        return f"{tick.normalize():.{TICK_DIGITS}g}"
    return f"{tick:,.{decimals}f}"


def day_axis(days: Sequence[date], columns: int) -> Axis:
    """Return an axis for days with ticks of days, months or years whose labels have room side by side.

    >>> [tick.label for tick in day_axis([date(2027, 5, 1), date(2028, 3, 1)], 60).ticks]
    ['2027-05', '2027-07', '2027-09', '2027-11', '2028-01', '2028-03']
    """
    first, last = min(days), max(days)
    span = (last - first).days
    margin = max(1, round(span * MARGIN)) if span else MARGIN_OF_A_DAY
    least, most = first.toordinal() - margin, last.toordinal() + margin
    ticks = next(_scales(least, most, columns), ())
    if len(ticks) <= 1:
        ticks = tuple(_tick(day, day.isoformat()) for day in sorted({first, last}))
    return Axis(Decimal(least), Decimal(most), ticks)


def _scales(least: int, most: int, columns: int) -> Iterator[tuple[Tick, ...]]:
    """Yield the ticks of each step that leaves room for its labels, the closest first."""

    def has_room(shortest: int, label: int) -> bool:
        return shortest * columns >= (label + TICK_GAP) * (most - least)

    top = date.max.toordinal()
    for step in DAY_STEPS:
        if has_room(step, len("2027-03-01")):
            numbers = range(max(least, 1), min(most, top) + 1)
            yield tuple(
                _tick(day, day.isoformat())
                for day in map(date.fromordinal, numbers)
                if (day.toordinal() - 1) % step == 0
            )
    begin, end = date.fromordinal(max(least, 1)), date.fromordinal(min(most, top))
    for step in MONTH_STEPS:
        if has_room(step * SHORT_MONTH, len("2027-03")):
            yield tuple(_tick(day, f"{day.year:04}-{day.month:02}") for day in _firsts(begin, end, step))
    for step in YEAR_STEPS:
        if has_room(step * SHORT_YEAR, len("2027")):
            months = 12 * step
            yield tuple(_tick(day, f"{day.year:04}") for day in _firsts(begin, end, months))


def _firsts(begin: date, end: date, step: int) -> Iterator[date]:
    """Yield the first day of every so-manieth month from one day to another."""
    latest = end.year * 12 + end.month - 1
    earliest = begin.year * 12 + begin.month - 1
    for months in range(-(-earliest // step) * step, latest + 1, step):
        if months >= 12 and (day := date(months // 12, months % 12 + 1, 1)) >= begin:
            yield day


def _tick(day: date, label: str) -> Tick:
    return Tick(Decimal(day.toordinal()), label)
