"""What the history took of lots: used or spoilt, so that it is there no more."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.site.job_names import ORDERED, first_word
from barrowful.site.records import HistoryEntry
from barrowful.supplies.lot import Lot

#: What rounding may leave of a lot, or of what is taken [m3]: no site file tells less than a cm3.
SPECK = 1e-6


def takes(entry: HistoryEntry) -> bool:
    """Say whether an entry of a way took of it: used or spoilt, and not brought or ordered."""
    ordered = not entry.place and first_word(entry.job) in ORDERED
    return bool(entry.loose) and not entry.brought and not ordered


def after_taking(lots: Iterable[Lot], entries: Iterable[HistoryEntry]) -> tuple[list[Lot], float]:
    """Return lots [m3] less what entries took of them, the earliest first, and what was lacking [m3].

    What was taken comes of what had come by then; a lot of which nothing is left stays with nothing.

    >>> from datetime import date
    >>> lots = [Lot(date(2027, 3, 1), 2.0), Lot(date(2028, 3, 1), 2.0)]
    >>> used = HistoryEntry(day=date(2027, 5, 1), way="leaves", loose=2.5)
    >>> left, lacking = after_taking(lots, [used])
    >>> [lot.loose for lot in left], lacking
    ([0.0, 2.0], 0.5)
    """
    left, lacking = list(lots), 0.0
    for entry in entries:
        wanted = entry.loose
        for number, lot in enumerate(left):
            if lot.day <= entry.day and wanted > SPECK:
                part = min(lot.loose, wanted)
                rest = lot.loose - part if lot.loose - part > SPECK else 0.0
                left[number], wanted = Lot(lot.day, rest), wanted - part
        lacking += wanted if wanted > SPECK else 0.0
    return left, lacking
