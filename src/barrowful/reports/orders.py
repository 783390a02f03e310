"""The report of the orders: what to order of whom by when, what it costs, and who gets which part."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from barrowful.answers.choices import plan_hint
from barrowful.answers.done import planned_again
from barrowful.answers.orders import Sheet, sheet, told
from barrowful.answers.orders_told import order_headline, too_old_told, unmet_headline, used_later_told
from barrowful.jobs.later import later_on_orders
from barrowful.reports.ranges import RangesAsked, table_of, with_drivers
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.supplies.lot import YEAR
from barrowful.tables.cautions import caution_notes
from barrowful.tables.order_sheet import tables_of
from barrowful.tables.report import Report

if TYPE_CHECKING:
    from barrowful.planning.ranges.answers import Ranges


def orders(
    loaded: ReadSite,
    *,
    way: str = "",
    partial: bool = False,
    every: bool = False,
    sources: bool = True,
    asked: RangesAsked | None = None,
) -> Report:
    """Return the order sheet of the plan or the cheapest ways, or of one way by its name.

    It has what is to be ordered in the first twelve months, or ``every`` order of the horizon.
    """
    found = sheet(loaded.site, way, partial, None if every else YEAR.after(loaded.site.start))
    chosen = found.selection
    unmet = unmet_headline(chosen.whole)
    bought = [of for of in chosen.whole.bill.orders if of.day < (found.until or date.max)]
    shown = {line.way.name for line in found.orders}
    later = used_later_told([of for of in chosen.whole.bill.orders if of.way.name in shown])
    first = (
        *planned_again(loaded.site),
        *order_headline(found.orders),
        *later_on_orders(chosen, found.lines),
        *too_old_told(bought),
        *told(found),
        *unmet,
        f"Follows: {chosen.title}.",
    )
    ranges = None if asked is None else _ranges(asked, found)
    report = report_of(
        "orders",
        loaded,
        tables_of(found, lambda layout, rows: table_of(layout, rows, ranges, loaded.site.currency)),
        chosen.warnings,
        sentences=[*first, *later, *plan_hint(chosen.whole), *chosen.remarks],
        answer=first,
        cautions=caution_notes(found.cautions, sources),
    )
    return with_drivers(report, ranges)


def _ranges(asked: RangesAsked, found: Sheet) -> Ranges:
    """Return the ranges of an order sheet."""
    from barrowful.planning.ranges.answers import of_orders
    from barrowful.planning.ranges.figures import Draws

    return of_orders(Draws(*asked), found)
