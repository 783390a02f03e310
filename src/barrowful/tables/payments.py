"""The table of payments: what is paid beside the orders."""

from __future__ import annotations

from barrowful.supplies.supply import Payment
from barrowful.tables import shared
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout

ITEM = "What is paid for beside the orders: seed, planting, stuff for a heap."

PAYMENTS: Layout[Payment] = Layout(
    name="payments",
    title="Also to pay",
    appears="where something is paid beside the orders",
    identifies=("needed_on", "way", "item"),
    repeats="two ingredients of a heap may be one material; a crop may serve a heap beside the places",
    summed=("mass_kg", "cash"),
    columns=(
        shared.needed_on(lambda payment: payment.day),
        shared.way(lambda payment: payment.way),
        text("item", "for", ITEM, lambda payment: payment.what),
        shared.mass(lambda payment: payment.mass, "Mass of what is paid for, where it is weighed."),
        shared.cash(lambda payment: payment.cash),
    ),
)
