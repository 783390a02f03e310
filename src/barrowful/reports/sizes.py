"""The report of the sizes: what each place and need comes to."""

from __future__ import annotations

from barrowful.answers.sizes import sizes as reckon
from barrowful.answers.sizes import sizes_by_way, unserved
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite
from barrowful.tables.by_way import BY_WAY
from barrowful.tables.report import Report
from barrowful.tables.sizes import SIZES


def sizes(loaded: LoadedSite, *, by_way: bool = True) -> Report:
    """Return area, depth, volume, mass and barrows for each place and need; and by each way, where asked."""
    if by_way and loaded.site.ways:
        rows, others = sizes_by_way(loaded.site)
    else:
        rows, others = reckon(loaded.site), []
    tables = [SIZES.table(rows)]
    tables += [BY_WAY.table(others)] if by_way else []
    return report_of("sizes", loaded, tables, sentences=unserved(rows))
