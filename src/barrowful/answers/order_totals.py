"""What orders come to: by period, by seller, and month by month."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.order_lines import OrderLine
from barrowful.costs.labour import Hours
from barrowful.measures.fixed import fixed
from barrowful.supplies.supply import Payment


@fixed
class Total:
    """What some orders come to, with other payments: of a seller or of a period, whichever ``of`` names."""

    of: str
    orders: int
    trips: int
    delivery: Decimal
    tax: Decimal
    ordered: Decimal
    paid: Decimal
    hours: Hours

    @property
    def cash(self) -> Decimal:
        """Return the money for orders and other payments."""
        return self.ordered + self.paid


def total(of: str, lines: Sequence[OrderLine], payments: Iterable[Payment] = ()) -> Total:
    """Return what orders and payments come to."""
    return Total(
        of=of,
        orders=len(lines),
        trips=sum(line.order.trips for line in lines),
        delivery=sum((line.order.charge.delivery for line in lines), Decimal(0)),
        tax=sum((line.order.charge.tax for line in lines), Decimal(0)),
        ordered=sum((line.order.cash for line in lines), Decimal(0)),
        paid=sum((payment.cash for payment in payments), Decimal(0)),
        hours=sum((line.hours for line in lines), Hours()),
    )


def by_seller(lines: Iterable[OrderLine]) -> list[Total]:
    """Return what each seller's orders come to, in the order of the lines."""
    own: dict[str, list[OrderLine]] = {}
    for line in lines:
        own.setdefault(line.seller, []).append(line)
    return [total(seller, of) for seller, of in own.items()]


class Month(NamedTuple):
    """A month, such as 2027-03: money due for orders and for all else in it, and all since the first."""

    month: str
    ordered: Decimal
    paid: Decimal
    so_far: Decimal

    @property
    def cash(self) -> Decimal:
        """Return all that is due in it."""
        return self.ordered + self.paid


def by_month(lines: Iterable[OrderLine], payments: Iterable[Payment]) -> list[Month]:
    """Return the months in which money is due: of an order, on the day it must be there."""
    ordered, paid = _sums((line.needed, line.order.cash) for line in lines), _sums(_due(payments))
    so_far, months = Decimal(0), []
    for month in sorted({*ordered, *paid}):
        of_month = ordered.get(month, Decimal(0)), paid.get(month, Decimal(0))
        so_far += sum(of_month)
        months.append(Month(month, *of_month, so_far))
    return months


def _due(payments: Iterable[Payment]) -> Iterable[tuple[date, Decimal]]:
    return ((payment.day, payment.cash) for payment in payments)


def _sums(due: Iterable[tuple[date, Decimal]]) -> dict[str, Decimal]:
    """Return the money due by month."""
    sums: dict[str, Decimal] = {}
    for day, cash in due:
        month = f"{day:%Y-%m}"
        sums[month] = sums.get(month, Decimal(0)) + cash
    return {month: cash for month, cash in sums.items() if cash}
