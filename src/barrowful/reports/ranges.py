"""What --ranges adds to a report: the columns of ranges, the table of drivers, and sentences.

What draws is loaded only where ranges are asked for.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from barrowful.reports.limits import USUAL_DRAWS, USUAL_SEED
from barrowful.tables.columns import Subject
from barrowful.tables.layout import Layout
from barrowful.tables.report import Report, Table

if TYPE_CHECKING:
    from barrowful.planning.ranges.answers import Ranges


class RangesAsked(NamedTuple):
    """How many draws are asked for, and the seed of their luck."""

    draws: int = USUAL_DRAWS
    seed: int = USUAL_SEED


def table_of(
    layout: Layout[Subject], subjects: Iterable[Subject], ranges: Ranges | None, currency: str
) -> Table:
    """Return a table, with ranges where they are known of it."""
    if ranges is None or layout.name not in ranges.cells:
        return layout.table(subjects)
    from barrowful.tables.ranged import ranged_table

    return ranged_table(layout, subjects, ranges.cells[layout.name], currency)


def with_drivers(report: Report, ranges: Ranges | None) -> Report:
    """Return a report with the table of drivers and what ranges mean, where they are known."""
    if ranges is None:
        return report
    from barrowful.tables.drivers import DRIVERS

    return replace(
        report,
        tables=[*report.tables, DRIVERS.table(ranges.drivers)],
        sentences=[*report.sentences, *ranges.sentences],
        answer=(*report.answer, *ranges.sentences) if report.answer else (),
    )
