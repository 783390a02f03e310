"""Rows of the ``orders`` command."""

from __future__ import annotations

import math

from barrowful.plans.sheet import Sheet
from barrowful.tables.report import Row, Table, table

KEYS = (
    "order_by", "needed_on", "way", "material", "order_quantity", "order_unit", "ordered_m3", "mass_kg",
    "leftover_m3", "trips", "cash", "needs_met",
)  # fmt: skip


def order_tables(sheet: Sheet) -> list[Table]:
    """Return the orders, who gets what of them, and bags against bulk."""
    rows: list[Row] = [
        {
            "order_by": line.order_by, "needed_on": line.needed, "way": line.way.name,
            "material": line.way.material.name, "order_quantity": float(line.order.quantity),
            "order_unit": line.order.unit, "ordered_m3": line.order.volume, "mass_kg": line.order.mass,
            "leftover_m3": line.order.leftover, "trips": line.order.trips, "cash": line.order.cash,
            "needs_met": ", ".join(line.needs),
        }
        for line in sheet.orders
    ]  # fmt: skip
    found = [table("orders", KEYS, rows)]
    if sheet.payments:
        paid: list[Row] = [
            {"needed_on": one.day, "way": one.way, "item": one.what, "mass_kg": one.mass, "cash": one.cash}
            for one in sheet.payments
        ]
        found.append(
            table("payments", ("needed_on", "way", "item", "mass_kg", "cash"), paid, (), "Also to pay")
        )
    barrow = sheet.decisions.answer.site.labour.barrow
    shares: list[Row] = [
        {
            "way": line.way, "place": line.dose.place.name, "need": line.dose.need.kind,
            "needed_on": line.dose.day, "loose_m3": line.dose.loose,
            "barrows": math.ceil(line.dose.loose / barrow - 1e-9),
        }
        for line in sheet.shares
    ]  # fmt: skip
    keys = ("way", "place", "need", "needed_on", "loose_m3", "barrows")
    found.append(table("sharing", keys, shares, (), "Who gets what"))
    if sheet.break_evens:
        evens: list[Row] = [
            {
                "bags": one.bags.name,
                "bulk": one.bulk.name,
                "material": one.bulk.material.name,
                "break_even_m3": one.volume,
                "remark": _advice(one.volume),
            }
            for one in sheet.break_evens
        ]
        names = ("bags", "bulk", "material", "break_even_m3", "remark")
        found.append(table("bags_or_bulk", names, evens, (), "Bags or bulk, before steps and minimum orders"))
    return found


def _advice(volume: float | None) -> str:
    if volume is None:
        return "bags are never dearer by volume"
    return "bulk is cheaper from the first barrow" if volume == 0 else "bags are cheaper below it"
