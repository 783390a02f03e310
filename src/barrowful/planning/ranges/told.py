"""What ranges mean for whoever orders, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import floor
from typing import Any

from barrowful.answers.choices import WholeSite
from barrowful.answers.option import Option
from barrowful.costs.order import of_unit, step_of
from barrowful.measures.draws import levels_of, share_within, spread, varies
from barrowful.measures.elementwise import likely
from barrowful.measures.text import in_figures
from barrowful.planning.ranges.bills import DrawnBill
from barrowful.planning.ranges.drivers import TOGETHER, Driver
from barrowful.planning.ranges.figures import RATES
from barrowful.planning.ranges.orders import DrawnOrder
from barrowful.planning.ranges.rows import Cells

#: Shares of the draws are told in so many parts; from the second on all of them count as all.
PARTS, NEARLY_ALL = 10, 0.995
#: Digits that an amount is told to.
DIGITS = 3
#: A need is met where no more than this is lacking of it [%]: rounding.
MET = 99.99


def told_of_bill(whole: WholeSite, bill: DrawnBill) -> list[str]:
    """Return how far cash and hours may lie apart, and of each way how much is enough how often."""
    site = whole.together.answer.site
    if not varies(bill.cash) and not varies(bill.hours):
        return []
    told = [
        f"With the same days all of it comes to {_between(bill.cash, site.currency)} and"
        f" {_between(bill.hours, 'h')} by {site.end} in 8 of 10 cases."
    ]
    if site.limits.cash is not None:
        told.append(f"limits.cash is kept {_often(share_within(bill.cash, float(site.limits.cash)))}.")
    if site.limits.hours is not None:
        told.append(f"limits.hours are kept {_often(share_within(bill.hours, site.limits.hours))}.")
    orders: dict[str, DrawnOrder] = {}
    for order in bill.orders:
        orders.setdefault(order.way.name, order)
    return [*told, *(sentence for order in orders.values() for sentence in _enough(order))]


def _enough(order: DrawnOrder) -> Iterator[str]:
    """Yield how often the first order of a way is enough, and what less or more would be."""
    quantity, unit, ordered = order.quantity, order.way.selling.word, likely(order.quantity)
    if ordered <= 0 or not varies(quantity):
        return
    if not likely(step_of(order.way)):
        between = _between(quantity, unit, DIGITS)
        yield f"{order.way.name}: {_amount(ordered, unit)} likely, {between} in 8 of 10 cases."
        return
    told = f"{_amount(ordered, unit)} of {order.way.name}: enough {_often(share_within(quantity, ordered))}"
    less = [level for level in levels_of(quantity) if level < ordered]
    if less and (often := share_within(quantity, less[-1])) >= 1 / PARTS:
        told += f"; {_amount(less[-1], unit)} {_often(often)}"
    nine = spread(quantity).ninety
    if nine > ordered:
        told += f"; {_amount(nine, unit)} {_often(share_within(quantity, nine))}"
    yield f"{told}."


def told_of_met(rows: Iterable[tuple[Option, Cells]]) -> list[str]:
    """Return of each need that is likely met how often it is, where that is not always."""
    told = []
    for row, cells in rows:
        met = cells.get("met_percent", 100.0)
        short = share_within(met, MET)
        if short >= 1 / PARTS / 2:
            worst = min(99.0, spread(met).ten)
            told.append(
                f"{row.need} by {row.name}: met {_often(1 - short)} on these days; else it stops at a"
                f" ceiling, or at what there is: in 1 of 10 cases {worst:.0f}% of it is met, or less."
            )
    return told


def told_of_drivers(driven: Sequence[Driver], row: str) -> list[str]:
    """Return which figure most of the range of cash and of hours goes by, of the row of the whole."""
    first: dict[str, Driver] = {}
    for driver in driven:
        if driver.row == row and driver.figure != TOGETHER:
            first.setdefault(driver.key, driver)
    parts = [
        f"{key} by {_in_words(first[key].figure)} ({first[key].share:.0%})"
        for key in ("cash", "hours")
        if key in first
    ]
    return [f"Most of the range comes of: {', '.join(parts)}."] if parts else []


def _in_words(figure: str) -> str:
    """Return a figure as one would say it.

    >>> _in_words("material green compost: in_place"), _in_words("rates: barrow_fill")
    ('in place of green compost', 'the rate barrow fill')
    """
    of, _, name = figure.partition(": ")
    word = name.replace("_", " ")
    return f"the rate {word}" if of == RATES else f"{word} of {of.partition(' ')[2]}"


def _often(share: float) -> str:
    """Return in how many of ten cases something holds, never more than it does.

    >>> _often(0.74), _often(1.0), _often(0.02)
    ('in 7 of 10 cases', 'in all 10', 'in fewer than 1 of 10 cases')
    """
    if share >= NEARLY_ALL:
        return f"in all {PARTS}"
    tenths = floor(share * PARTS + 1e-9)
    return f"in {tenths} of {PARTS} cases" if tenths else f"in fewer than 1 of {PARTS} cases"


def _between(draws: Any, unit: str, digits: int = 0) -> str:
    """Return between what draws lie in eight of ten, and the middle where that tells more."""

    def told(amount: float) -> str:
        return in_figures(amount, digits) if digits else f"{amount:,.0f}"

    low, middle, high = map(told, spread(draws))
    if low == high:
        return f"{low} {unit}"
    between = f"{low} to {high} {unit}"
    return between if digits or middle in {low, high} else f"{between} (half of them over {middle})"


def _amount(quantity: float, unit: str) -> str:
    return of_unit(in_figures(quantity, DIGITS), quantity, unit)
