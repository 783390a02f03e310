"""The tables of an order sheet, those that are there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from barrowful.answers.asking import asked
from barrowful.answers.orders import Sheet
from barrowful.answers.parts import parts
from barrowful.tables.bags_or_bulk import BAGS_OR_BULK
from barrowful.tables.layout import Layout
from barrowful.tables.order_totals import CASH_BY_MONTH, ORDER_TOTALS, SELLERS
from barrowful.tables.orders import ORDER_COSTS, ORDERS
from barrowful.tables.payments import PAYMENTS
from barrowful.tables.questions import QUESTIONS
from barrowful.tables.report import Table
from barrowful.tables.sharing import SHARING
from barrowful.tables.short import SHORT


def _plain(layout: Layout[Any], rows: Iterable[Any]) -> Table:
    return layout.table(rows)


def tables_of(sheet: Sheet, table: Callable[[Layout[Any], Iterable[Any]], Table] = _plain) -> list[Table]:
    """Return the tables of an order sheet, in their order; those that tell nothing more have no rows.

    ``table`` makes those of its lines and totals, which may have ranges.
    """
    sellers = sheet.sellers
    paid = any(of.orders or of.paid for of in sheet.totals)
    return [
        table(ORDERS, sheet.orders),
        ORDER_COSTS.table(sheet.orders),
        QUESTIONS.table(asked(sheet.orders)),
        SHARING.table(parts(sheet)),
        SHORT.table(sheet.short),
        PAYMENTS.table(sheet.payments),
        SELLERS.table(sellers if len(sellers) < len(sheet.orders) else ()),
        CASH_BY_MONTH.table(sheet.months),
        table(ORDER_TOTALS, sheet.totals) if paid else ORDER_TOTALS.table(()),
        BAGS_OR_BULK.table(sheet.break_evens),
    ]
