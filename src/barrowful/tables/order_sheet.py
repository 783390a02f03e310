"""The tables of an order sheet, those that are there."""

from __future__ import annotations

from barrowful.answers.asking import asked
from barrowful.answers.orders import Sheet
from barrowful.answers.parts import parts
from barrowful.tables.bags_or_bulk import BAGS_OR_BULK
from barrowful.tables.order_totals import CASH_BY_MONTH, ORDER_TOTALS, SELLERS
from barrowful.tables.orders import ORDER_COSTS, ORDERS
from barrowful.tables.payments import PAYMENTS
from barrowful.tables.questions import QUESTIONS
from barrowful.tables.report import Table
from barrowful.tables.sharing import SHARING
from barrowful.tables.short import SHORT


def tables_of(sheet: Sheet) -> list[Table]:
    """Return the tables of an order sheet, in their order; some only where they have rows."""
    questions, sellers = asked(sheet.orders), sheet.sellers
    tables = [ORDERS.table(sheet.orders)]
    tables += [ORDER_COSTS.table(sheet.orders)] if sheet.orders else []
    tables += [QUESTIONS.table(questions)] if questions else []
    tables.append(SHARING.table(parts(sheet)))
    tables += [SHORT.table(sheet.short)] if sheet.short else []
    tables += [PAYMENTS.table(sheet.payments)] if sheet.payments else []
    tables += [SELLERS.table(sellers)] if len(sellers) < len(sheet.orders) else []
    tables += [CASH_BY_MONTH.table(sheet.months)] if sheet.months else []
    tables += [ORDER_TOTALS.table(sheet.totals)] if any(of.orders or of.paid for of in sheet.totals) else []
    tables += [BAGS_OR_BULK.table(sheet.break_evens)] if sheet.break_evens else []
    return tables
