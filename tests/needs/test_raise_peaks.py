"""The first day on which what has no end can come to what is wanted, against every day in turn."""

from __future__ import annotations

from datetime import date
from math import inf

import pytest

from barrowful.needs.raise_peaks import first_counting, peaks
from barrowful.soil.turnover import Turnover
from barrowful.supplies.lot import Lot
from barrowful.supplies.stock import Lots

FIRST, UNTIL = date(2027, 3, 1).toordinal(), date(2042, 6, 1).toordinal()
#: What turns to humus before it counts, fast and slowly, and what counts at once.
STRAW = Turnover(fresh=1.6, humus=0.2, slow=0.01, share=0.3, slow_share=0.2, counts_fresh=False)
WOOD = Turnover(fresh=0.15, humus=0.2, slow=0.01, share=0.35, slow_share=0.2, counts_fresh=False)
COMPOST = Turnover(fresh=0.4, humus=0.2, slow=0.01, share=0.5, slow_share=0.2, counts_fresh=True)
LAID = Turnover(fresh=0.0, humus=0.2, slow=0.01, share=0.5, slow_share=0.2, counts_fresh=True)


@pytest.mark.parametrize("turnover", [STRAW, WOOD, COMPOST, LAID])
@pytest.mark.parametrize("months", [12, 7, 36])
def test_it_is_the_first_of_all_days(turnover: Turnover, months: int) -> None:
    days = range(FIRST, UNTIL - 300, round(months * 30.5))
    lots = Lots([Lot(date.fromordinal(day), inf) for day in days], keeps=True, until=UNTIL)

    every_day = {
        day: sum(turnover.counted_by_days[day - lot] for lot in days) for day in range(FIRST - 5, UNTIL + 1)
    }

    most = max(every_day.values())
    for share in (0.01, 0.3, 0.5, 0.9, 0.999, 1.001):
        for first in (FIRST - 5, FIRST, FIRST + 200, FIRST + 3000):
            wanted = share * most
            found = first_counting(lots, turnover, wanted, first)
            assert found == next((day for day in range(first, UNTIL + 1) if every_day[day] >= wanted), None)
    for (peak, told), lot, then in zip(peaks(lots, turnover), days, [*days[1:], UNTIL + 1], strict=True):
        assert told == pytest.approx(every_day[peak])
        assert told == pytest.approx(max(every_day[day] for day in range(lot, then)))
