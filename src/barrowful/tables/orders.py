"""The tables of orders: what to say to the seller, and what each order costs and takes."""

from __future__ import annotations

from dataclasses import replace

from barrowful.answers.buying import Minded
from barrowful.answers.order_lines import OrderLine
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.columns import day, flag, money, percent, text
from barrowful.tables.layout import Layout

EARLIEST = "Of an order that cannot be there in time, the earliest day it can."


def _unit_price(line: OrderLine) -> str:
    """Return the price of one of the seller's units in words, as many digits as were typed."""
    return f"{line.way.price:f} {line.currency}/{line.order.unit}"


def _questions(line: OrderLine) -> str | None:
    return " ".join(question.text for question in line.questions) or None


def _cautions(line: OrderLine) -> str | None:
    return "; ".join(map(_caution, line.cautions)) or None


def _gravest(line: OrderLine) -> str | None:
    """Return the text of the gravest caution of an order, and by when to begin where it says so."""
    if not line.cautions:
        return None
    caution, begin = line.cautions[0]
    return f"Caution: {caution.text}" + (f" {begin[0].upper()}{begin[1:]}." if begin else "")


def _caution(minded: Minded) -> str:
    caution, begin = minded
    return f"{caution.key} [{caution.source}]" + (f", {begin}" if begin else "")


ORDERS: Layout[OrderLine] = Layout(
    name="orders",
    identifies=("way", "needed_on"),
    shown=(
        *("seller", "order_by", "needed_on", "earliest_on", "way", "material"),
        *("order_quantity", "order_unit", "ordered_m3", "cash", "needs_met"),
        *("drop_at", "origin", "notes", "caution"),
    ),
    always_shown=("order_by", "order_quantity", "order_unit", "cash"),
    noted=("drop_at", "origin", "notes", "caution"),
    first_to_go=("needs_met", "material"),
    ranged=("order_quantity", "ordered_m3", "mass_kg", "leftover_m3", "cash", "trips", "hours"),
    shown_ranged=(
        *("seller", "order_by", "needed_on", "earliest_on", "way", "material"),
        *("order_quantity", "order_quantity_10", "order_quantity_90", "order_unit"),
        *("cash", "cash_10", "cash_90", "needs_met", "drop_at", "origin", "notes", "caution"),
    ),
    joined=(("order_quantity", "order_unit"),),
    summed=("ordered_m3", "cash"),
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
        c.number(
            "allowance_percent",
            "extra",
            c.SHARE,
            "Share ordered on top for spills and uneven ground, as the needs ask it.",
            lambda line: percent(line.allowance),
        ),
        shared.leftover(lambda line: line.order.leftover),
        money("price", "price", "Price of one of the seller's unit.", lambda line: line.way.price),
        text("unit_price", "price", "The same with the seller's unit, as it is typed.", _unit_price),
        money(
            "goods",
            "goods",
            "Quantity times price, as the seller charges it.",
            lambda line: line.order.charge.goods,
        ),
        shared.delivery(lambda line: line.order.charge.delivery),
        shared.tax(lambda line: line.order.charge.tax if line.way.tax else None),
        flag(
            "tax_included",
            "tax in price",
            "Do goods and delivery hold the tax already? Else it comes on top of them.",
            lambda line: line.way.tax_included if line.way.tax else None,
        ),
        shared.cash(lambda line: line.order.cash),
        shared.trips(lambda line: line.order.trips),
        shared.hours(lambda line: line.hours.likely),
        shared.hours_low(lambda line: line.hours.low),
        shared.hours_high(lambda line: line.hours.high),
        shared.needs_met(lambda line: ", ".join(line.needs), "Needs the order is for."),
        text(
            "drop_at",
            "tipped:",
            "Where it is tipped: road or pavement where that is so, then the place in your words.",
            lambda line: line.drop or None,
        ),
        shared.origin(lambda line: line.way.origin or None),
        text("notes", "notes", "What you noted of the seller.", lambda line: line.way.notes or None),
        text("questions", "ask", "What to ask the seller before you order.", _questions),
        text("caution", "caution", "The gravest caution on buying and fetching it.", _gravest),
        text(
            "cautions",
            "cautions",
            "Cautions on buying and fetching it, and what must be done before it is spread: keys of the"
            " cautions, in brackets those of their sources.",
            _cautions,
        ),
    ),
)
ORDER_COSTS: Layout[OrderLine] = Layout(
    name="order_costs",
    title="What each order costs and takes",
    appears="where something is ordered",
    identifies=("way", "needed_on"),
    always_shown=("cash",),
    first_to_go=("leftover_m3", "mass_kg", "tax_included", "allowance_percent"),
    summed=("goods", "delivery", "tax", "cash", "trips", "hours", "mass_kg"),
    columns=(
        *ORDERS.pick("way", "needed_on", "unit_price", "goods", "delivery", "tax", "tax_included", "cash"),
        *ORDERS.pick("trips"),
        replace(
            *ORDERS.pick("hours"),
            meaning="Hours of one person to fetch it, barrow it out, spread it and dig it in.",
        ),
        *ORDERS.pick("allowance_percent", "mass_kg", "leftover_m3"),
    ),
)
