"""The ranges of each answer: what its rows come to, what drives them, and what that means for an order."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from barrowful.answers.choices import WholeSite
from barrowful.answers.costs import placing_hours
from barrowful.answers.course import Course
from barrowful.answers.options import Answer
from barrowful.answers.orders import Sheet
from barrowful.answers.sizes import SizeRow
from barrowful.measures.draws import width
from barrowful.needs.registry import NEEDS
from barrowful.planning.ranges.amounts import Amounts, Drawn
from barrowful.planning.ranges.bills import DrawnBill, collecting
from barrowful.planning.ranges.courses import course_cells
from barrowful.planning.ranges.drivers import KEYS, Driver, drivers
from barrowful.planning.ranges.figures import Draws
from barrowful.planning.ranges.rows import Cells, option_cells, size_cells, whole_cells
from barrowful.planning.ranges.told import told_of_bill, told_of_drivers, told_of_met
from barrowful.site.records import Site
from barrowful.supplies.registry import supplies


class Ranges(NamedTuple):
    """What the rows of some tables come to, by the names of the tables; what drives them, and sentences."""

    cells: dict[str, list[Cells]]
    drivers: list[Driver]
    sentences: list[str]


def of_options(draws: Draws, answer: Answer, rows: Sequence[WholeSite], whole: WholeSite | None) -> Ranges:
    """Return the ranges of options and of totals over the site, and what drives those of what is followed."""
    amounts = Amounts(answer.site, draws, answer.supplies)
    with draws.reckoning():
        options = [option_cells(amounts, row) if row.acts else {} for row in answer.options]
        sites = [whole_cells(amounts, row)[0] if row.together.parts else {} for row in rows]
        cells = {"options": options, "whole_site": sites}
        if whole is None or not whole.together.parts:
            return Ranges(cells, [], [])
        own, bill, _ = whole_cells(amounts, whole)
        chosen = {(part.need, part.way) for part in whole.together.parts}
        followed = [
            (row, its)
            for row, its in zip(answer.options, options, strict=True)
            if its and (row.need, row.name) in chosen
        ]
        named = [
            ("options", f"{row.need}, {row.name}", {"loose_m3": its["loose_m3"]}) for row, its in followed
        ]
        driven = drivers(draws, [("whole_site", whole.title, _sums(own)), *named])
        told = [*told_of_bill(whole, bill), *told_of_met(followed)]
    return Ranges(cells, driven, [*told, *told_of_drivers(driven, whole.title)])


def _sums(cells: Cells) -> Cells:
    return {key: cells[key] for key in ("loose_m3", "cash", "hours")}


def of_sizes(draws: Draws, site: Site, tables: dict[str, list[SizeRow]]) -> Ranges:
    """Return the ranges of sizes, and what drives all of one need and material together."""
    ways = supplies(site)
    amounts = Amounts(site, draws, ways)
    doses = {
        name: [NEEDS[row.need.kind].sizing(site, row.place, ways[row.way]) if row.way else [] for row in rows]
        for name, rows in tables.items()
    }
    with draws.reckoning():
        cells = {
            name: [
                size_cells(amounts, row.need.kind, own) for row, own in zip(rows, doses[name], strict=True)
            ]
            for name, rows in tables.items()
        }
        sums: dict[str, Any] = {}
        for row, own in zip(tables["sizes"], cells["sizes"], strict=True):
            if own and row.material is not None:
                name = f"{row.need.kind}, {row.material.name}"
                sums[name] = sums.get(name, 0.0) + own["loose_m3"]
        driven = drivers(draws, [("sizes", name, {"loose_m3": loose}) for name, loose in sums.items()])
    return Ranges(cells, driven, [])


def of_orders(draws: Draws, sheet: Sheet) -> Ranges:
    """Return the ranges of an order sheet, and what drives them."""
    whole = sheet.selection.whole
    answer = whole.together.answer
    amounts = Amounts(answer.site, draws, answer.supplies)
    with draws.reckoning():
        own, bill, drawn = whole_cells(amounts, whole)
        lines = _lines(sheet, bill, drawn)
        paid = float(sum(payment.cash for payment in sheet.payments))
        first = {"cash": sum((line["cash"] for line in lines), paid)}
        totals = [first] * (len(sheet.totals) - 1) + [{"cash": own["cash"]}]
        named = [
            ("orders", f"{line.way.name}, {line.needed}", {"order_quantity": its["order_quantity"]})
            for line, its in zip(sheet.orders, lines, strict=True)
        ]
        driven = drivers(draws, [("order_totals", whole.title, _sums(own)), *named])
        told = told_of_bill(whole, bill) if whole.together.parts else []
    cells = {"orders": lines, "order_totals": totals}
    return Ranges(cells, driven, [*told, *told_of_drivers(driven, whole.title)])


def _lines(sheet: Sheet, bill: DrawnBill, drawn: Drawn) -> list[Cells]:
    """Return what each line of an order sheet comes to."""
    answer = sheet.selection.answer
    orders = {(order.day, order.way.name): order for order in bill.orders}
    cells = []
    for line in sheet.orders:
        order, doses = orders[line.needed, line.way.name], [drawn[id(dose)] for dose in line.doses]
        placing = placing_hours(answer.site, doses, answer.supplies[line.way.name]).likely
        own: Cells = {
            "order_quantity": order.quantity,
            "ordered_m3": order.volume,
            "leftover_m3": order.leftover,
            "cash": order.cash,
            "trips": order.trips,
            "hours": collecting(order) + placing,
        }
        cells.append(own if order.mass is None else {**own, "mass_kg": order.mass})
    return cells


def of_courses(draws: Draws, site: Site, courses: Sequence[Course]) -> Ranges:
    """Return the ranges of courses, and what drives each where it is widest; equal ground is told once."""
    with draws.reckoning():
        cells = course_cells(site, draws, courses)
        once = {id(own): (course, own) for course, own in zip(courses, cells, strict=True)}
        named = [
            ("course", f"{course.title}, {course.place.name}, {day}", {key: of})
            for course, own in once.values()
            for key in KEYS
            for day, of in _widest(course, own, key)
        ]
        driven = drivers(draws, named)
    return Ranges({"course": [point for own in cells for point in own]}, driven, [])


def _widest(course: Course, cells: Sequence[Cells], key: str) -> list[tuple[date, Any]]:
    """Return the day on which the range of a key is widest, and its draws there, where there is any."""
    days = [
        (width(own[key]), point.day, own[key])
        for point, own in zip(course.points, cells, strict=True)
        if key in own
    ]
    widest = max(days, key=lambda each: each[0], default=None)
    return [widest[1:]] if widest else []
