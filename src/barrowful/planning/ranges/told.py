"""What ranges mean for whoever orders, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import floor

from barrowful.answers.choices import WholeSite
from barrowful.answers.option import Option
from barrowful.measures.draws import Spread, levels_of, share_within, spread, varies
from barrowful.measures.elementwise import likely
from barrowful.measures.text import in_figures
from barrowful.planning.ranges.bills import DrawnBill
from barrowful.planning.ranges.orders import DrawnOrder
from barrowful.planning.ranges.rows import Cells

#: Shares of the draws are told in so many parts; from the second on all of them count as all.
PARTS, NEARLY_ALL = 10, 0.995
#: Units of sellers that are words, and have a plural.
WORDS = ("bag", "load")
#: A need is met where no more than this is lacking of it [%]: rounding.
MET = 99.99


def told_of_bill(whole: WholeSite, bill: DrawnBill) -> list[str]:
    """Return how far cash and hours may lie apart, and of each way how much is enough how often."""
    currency = whole.together.answer.site.currency
    cash, hours = spread(bill.cash), spread(bill.hours)
    first = f"In 8 of 10 cases it comes to {_between(cash)} {currency} and {_between(hours)} h."
    orders: dict[str, DrawnOrder] = {}
    for order in bill.orders:
        orders.setdefault(order.way.name, order)
    return [first, *(told for order in orders.values() for told in _enough(order))]


def _enough(order: DrawnOrder) -> Iterator[str]:
    """Yield how often the first order of a way is enough, and what less or more would be."""
    quantity, unit, ordered = order.quantity, order.way.selling.word, likely(order.quantity)
    if ordered <= 0 or not varies(quantity):
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
            told.append(
                f"{row.need} by {row.name}: met {_often(1 - short)}; else it stops at a ceiling, or at what"
                f" there is: in 1 of 10 cases {min(99.0, spread(met).ten):.0f}% of it is met, or less."
            )
    return told


def _often(share: float) -> str:
    """Return in how many of ten cases something holds, never more than it does.

    >>> _often(0.74), _often(1.0), _often(0.02)
    ('in 7 of 10 cases', 'in all', 'in fewer than 1 of 10')
    """
    if share >= NEARLY_ALL:
        return "in all"
    tenths = floor(share * PARTS + 1e-9)
    return f"in {tenths} of {PARTS} cases" if tenths else f"in fewer than 1 of {PARTS}"


def _between(told: Spread) -> str:
    low, high = f"{told.ten:,.0f}", f"{told.ninety:,.0f}"
    return low if low == high else f"{low} to {high}"


def _amount(quantity: float, unit: str) -> str:
    many = "s" if unit in WORDS and quantity != 1 else ""
    return f"{in_figures(quantity, 3)} {unit}{many}"
