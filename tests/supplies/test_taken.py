"""What the history took of lots: of what it took all of, nothing is left."""

from __future__ import annotations

from datetime import date

import pytest

from barrowful.site.records import HistoryEntry
from barrowful.supplies.lot import Lot
from barrowful.supplies.taken import after_taking

DAY = date(2027, 3, 1)


@pytest.mark.parametrize("parts", [(0.7, 0.1), (0.1, 0.7), (0.3, 0.3, 0.2)])
def test_of_a_lot_that_is_used_up_no_dust_is_left(parts: tuple[float, ...]) -> None:
    """Parts that come to all of it leave just nothing: what rounding leaves would be a dose to put on."""
    entries = [HistoryEntry(day=DAY, way="leaves", loose=part) for part in parts]
    left, lacking = after_taking([Lot(DAY, 0.8), Lot(date(2028, 3, 1), 0.8)], entries)
    assert [lot.loose for lot in left] == [0.0, 0.8]
    assert lacking == 0.0
