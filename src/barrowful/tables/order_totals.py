"""The tables of what orders come to: by period, by seller and by month."""

from __future__ import annotations

from barrowful.answers.order_totals import Month, Total
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.layout import Layout

_SUMS: tuple[c.Column[Total], ...] = (
    shared.orders(lambda of: of.orders),
    shared.trips(lambda of: of.trips),
    shared.delivery(lambda of: of.delivery),
    shared.tax(lambda of: of.tax),
)
_HOURS: tuple[c.Column[Total], ...] = (
    shared.hours(lambda of: of.hours.likely),
    shared.hours_low(lambda of: of.hours.low),
    shared.hours_high(lambda of: of.hours.high),
)
_SHOWN = ("orders", "trips", "delivery", "tax")

ORDER_TOTALS: Layout[Total] = Layout(
    name="order_totals",
    title="In all",
    appears="where something is ordered or paid for",
    identifies=("period",),
    shown=("period", *_SHOWN, "order_cash", "other_cash", "cash", "hours"),
    always_shown=("orders", "order_cash", "cash", "hours"),
    ranged=("cash",),
    shown_ranged=("period", *_SHOWN, "order_cash", "other_cash", "cash", "cash_10", "cash_90", "hours"),
    columns=(
        c.text(
            "period",
            "period",
            "What is to be ordered in the first twelve months, or to the end of the horizon.",
            lambda of: of.of,
        ),
        *_SUMS,
        shared.order_cash(lambda of: of.ordered),
        shared.other_cash(lambda of: of.paid),
        shared.cash(lambda of: of.cash, "All of it: orders and other payments."),
        *_HOURS,
    ),
)
SELLERS: Layout[Total] = Layout(
    name="sellers",
    title="By seller",
    appears="where several orders are of one seller",
    identifies=("seller",),
    shown=("seller", *_SHOWN, "cash", "hours"),
    summed=(*_SHOWN, "cash", "hours"),
    columns=(
        c.text("seller", "seller", "Who sells it, else the name of the way.", lambda of: of.of),
        *_SUMS,
        shared.cash(lambda of: of.cash),
        *_HOURS,
    ),
)
CASH_BY_MONTH: Layout[Month] = Layout(
    name="cash_by_month",
    title="Cash by month",
    appears="where money is due",
    identifies=("month",),
    summed=("order_cash", "other_cash", "cash"),
    columns=(
        c.text("month", "month", "Month in which the stuff must be there, year-month.", lambda of: of.month),
        shared.order_cash(lambda of: of.ordered),
        shared.other_cash(lambda of: of.paid),
        shared.cash(lambda of: of.cash),
        c.money(
            "cash_so_far",
            "so far",
            "Money to pay from the start to the end of the month.",
            lambda of: of.so_far,
        ),
    ),
)
