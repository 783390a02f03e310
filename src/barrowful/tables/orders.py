"""The table of orders: what to order of whom by when."""

from __future__ import annotations

from barrowful.answers.orders import OrderLine
from barrowful.tables import shared
from barrowful.tables.columns import day, text
from barrowful.tables.layout import Layout

EARLIEST = "Of an order that cannot be there in time, the earliest day it can."

ORDERS: Layout[OrderLine] = Layout(
    name="orders",
    identifies=("way", "needed_on"),
    always_shown=("order_by", "order_quantity", "order_unit", "cash"),
    noted=("seller", "origin", "notes"),
    first_to_go=("leftover_m3", "mass_kg"),
    columns=(
        day("order_by", "order by", "Last day to place the order.", lambda line: line.order_by),
        shared.needed_on(lambda line: line.needed),
        day("earliest_on", "late: earliest", EARLIEST, lambda line: line.earliest),
        shared.way(lambda line: line.way.name),
        text("seller", "seller", "Who sells it, where you say so.", lambda line: line.way.seller or None),
        shared.material(lambda line: line.way.material.name),
        shared.order_quantity(lambda line: float(line.order.quantity)),
        shared.order_unit(lambda line: line.order.unit),
        shared.ordered(lambda line: line.order.volume),
        shared.mass(lambda line: line.order.mass, "Wet mass ordered."),
        shared.leftover(lambda line: line.order.leftover),
        shared.trips(lambda line: line.order.trips),
        shared.cash(lambda line: line.order.cash),
        shared.needs_met(lambda line: ", ".join(line.needs), "Needs the order is for."),
        shared.origin(lambda line: line.way.origin or None),
        text("notes", "notes", "What you noted of the seller.", lambda line: line.way.notes or None),
    ),
)
