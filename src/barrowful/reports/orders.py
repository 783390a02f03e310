"""The report of the orders: what to order of whom by when, and who gets which part."""

from __future__ import annotations

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import plan_hint
from barrowful.answers.orders import sheet
from barrowful.answers.parts import parts
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite
from barrowful.tables.bags_or_bulk import BAGS_OR_BULK
from barrowful.tables.cautions import caution_notes
from barrowful.tables.orders import ORDERS
from barrowful.tables.payments import PAYMENTS
from barrowful.tables.report import Report
from barrowful.tables.sharing import SHARING


def orders(loaded: LoadedSite, *, way: str = "", partial: bool = False, sources: bool = True) -> Report:
    """Return the order sheet of the plan or the cheapest ways, or of one way by its name."""
    found = sheet(loaded.site, way, partial)
    said = found.selection
    return report_of(
        "orders",
        loaded,
        [
            ORDERS.table(found.orders),
            PAYMENTS.table(found.payments),
            SHARING.table(parts(found)),
            BAGS_OR_BULK.table(found.break_evens),
        ],
        said.warnings,
        sentences=[f"Follows: {said.title}.", *plan_hint(said.whole), *said.remarks],
        cautions=caution_notes(cautions_for(said.answer, said.chosen), sources),
    )
