"""The report of the sizes: what each place and need comes to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from barrowful.answers.headlines import sizes_headline
from barrowful.answers.sizes import SizeRow, sizes_by_way, unserved
from barrowful.answers.sizes import sizes as reckon
from barrowful.reports.ranges import RangesAsked, table_of, with_drivers
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.tables.by_way import BY_WAY
from barrowful.tables.report import Report
from barrowful.tables.sizes import SIZES

if TYPE_CHECKING:
    from barrowful.planning.ranges.answers import Ranges


def sizes(loaded: ReadSite, *, by_way: bool = True, asked: RangesAsked | None = None) -> Report:
    """Return area, depth, volume, mass and barrows for each place and need; and by each way, where asked."""
    if by_way and loaded.site.ways:
        rows, others = sizes_by_way(loaded.site)
    else:
        rows, others = reckon(loaded.site), []
    ranges = None if asked is None else _ranges(asked, loaded, rows, others)
    currency = loaded.site.currency
    tables = [table_of(SIZES, rows, ranges, currency)]
    tables += [table_of(BY_WAY, others, ranges, currency)] if by_way else []
    report = report_of("sizes", loaded, tables, sentences=unserved(rows), answer=(sizes_headline(rows),))
    return with_drivers(report, ranges)


def _ranges(asked: RangesAsked, loaded: ReadSite, rows: list[SizeRow], others: list[SizeRow]) -> Ranges:
    """Return the ranges of sizes, and of those by each way."""
    from barrowful.planning.ranges.answers import of_sizes
    from barrowful.planning.ranges.figures import Draws

    return of_sizes(Draws(*asked), loaded.site, {"sizes": rows, "by_way": others})
