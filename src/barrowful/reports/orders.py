"""The report of the orders: what to order of whom by when, what it costs, and who gets which part."""

from __future__ import annotations

from barrowful.answers.choices import plan_hint
from barrowful.answers.orders import sheet, told
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite
from barrowful.supplies.supply import YEAR
from barrowful.tables.cautions import caution_notes
from barrowful.tables.order_sheet import tables_of
from barrowful.tables.report import Report


def orders(
    loaded: LoadedSite, *, way: str = "", partial: bool = False, every: bool = False, sources: bool = True
) -> Report:
    """Return the order sheet of the plan or the cheapest ways, or of one way by its name.

    It has what is to be ordered in the first twelve months, or ``every`` order of the horizon.
    """
    found = sheet(loaded.site, way, partial, None if every else YEAR.after(loaded.site.start))
    chosen = found.selection
    first = (f"Follows: {chosen.title}.", *told(found))
    return report_of(
        "orders",
        loaded,
        tables_of(found),
        chosen.warnings,
        sentences=[*first, *plan_hint(chosen.whole), *chosen.remarks],
        answer=first,
        cautions=caution_notes(found.cautions, sources),
    )
