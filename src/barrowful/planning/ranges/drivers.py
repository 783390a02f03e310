"""Which figures drive a range: by rank correlation on the draws that were made already."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from barrowful.catalogue.judgements import judgement
from barrowful.measures.draws import explained, ranks, varies
from barrowful.planning.ranges.figures import Draws
from barrowful.planning.ranges.rows import Cells

#: What several figures do to a range together, that none does by itself.
TOGETHER = "several together"
#: What a range is driven by is told for these keys, of those a row has.
KEYS = ("loose_m3", "order_quantity", "cash", "hours", "organic_matter_percent", "available_nitrogen_g")


class Driver(NamedTuple):
    """A figure that drives a range: the table, row and key it is of, and the share of it that it explains."""

    table: str
    row: str
    key: str
    figure: str
    share: float


def drivers(draws: Draws, rows: Iterable[tuple[str, str, Cells]]) -> list[Driver]:
    """Return what drives the ranges of rows (table, name, cells), the most of each first."""
    known = {name: ranks(of) for name, of in draws.used.items()}
    return [
        driver
        for table, name, cells in rows
        for key in KEYS
        if key in cells and varies(cells[key])
        for driver in _of_cell(known, table, name, key, cells[key])
    ]


def _of_cell(known: dict[str, Any], table: str, row: str, key: str, draws: Any) -> list[Driver]:
    """Return the figures that explain a part of a range worth telling, and what they do together."""
    ranked, told = ranks(draws), judgement("driver_told")
    shares = {name: explained(ranked, by) for name, by in known.items()}
    found = [Driver(table, row, key, name, share) for name, share in shares.items() if share >= told]
    found.sort(key=lambda driver: (-driver.share, driver.figure))
    rest = 1 - sum(driver.share for driver in found)
    return [*found, Driver(table, row, key, TOGETHER, rest)] if rest >= judgement("driver_rest") else found
