"""Rows of the ``orders`` command."""

from __future__ import annotations

from barrowful.answers.orders import OrderLine, Sheet
from barrowful.costs.order import round_up
from barrowful.tables.report import Row, Table, table

KEYS = (
    "order_by", "needed_on", "earliest_on", "way", "material", "order_quantity", "order_unit", "ordered_m3",
    "mass_kg", "leftover_m3", "trips", "cash", "needs_met",
)  # fmt: skip


def order_tables(sheet: Sheet) -> list[Table]:
    """Return the orders, what else is paid, who gets what, and bags against bulk."""
    found = [table("orders", KEYS, [_order(line) for line in sheet.orders])]
    if sheet.payments:
        keys = ("needed_on", "way", "item", "mass_kg", "cash")
        paid: list[Row] = [
            {"needed_on": one.day, "way": one.way, "item": one.what, "mass_kg": one.mass, "cash": one.cash}
            for one in sheet.payments
        ]
        found.append(table("payments", keys, paid, (), "Also to pay"))
    found.append(_sharing(sheet))
    if sheet.break_evens:
        found.append(_bags_or_bulk(sheet))
    return found


def _order(line: OrderLine) -> Row:
    return {
        "order_by": line.order_by, "needed_on": line.needed, "earliest_on": line.earliest,
        "way": line.way.name,
        "material": line.way.material.name, "order_quantity": float(line.order.quantity),
        "order_unit": line.order.unit, "ordered_m3": line.order.volume, "mass_kg": line.order.mass,
        "leftover_m3": line.order.leftover, "trips": line.order.trips, "cash": line.order.cash,
        "needs_met": ", ".join(line.needs),
    }  # fmt: skip


def _sharing(sheet: Sheet) -> Table:
    barrow = sheet.selection.answer.site.labour.barrow
    shares: list[Row] = [
        {
            "way": line.way, "place": line.place.name, "need": line.kind,
            "needed_on": line.day, "loose_m3": line.loose,
            "barrows": round_up(line.loose / barrow),
        }
        for line in sheet.shares
    ]  # fmt: skip
    keys = ("way", "place", "need", "needed_on", "loose_m3", "barrows")
    return table("sharing", keys, shares, (), "Who gets what")


def _bags_or_bulk(sheet: Sheet) -> Table:
    evens: list[Row] = [
        {
            "bags": one.bags.name, "bulk": one.bulk.name, "material": one.bulk.material.name,
            "break_even_m3": one.volume, "remark": _advice(one.volume),
        }
        for one in sheet.break_evens
    ]  # fmt: skip
    names = ("bags", "bulk", "material", "break_even_m3", "remark")
    return table("bags_or_bulk", names, evens, (), "Bags or bulk, before steps and minimum orders")


def _advice(volume: float | None) -> str:
    if volume is None:
        return "bags are never dearer by volume"
    return "bulk is cheaper from the first barrow" if volume == 0 else "bags are cheaper below it"
