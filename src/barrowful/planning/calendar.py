"""The days a plan may decide for: some each year, those of lots, and those the rows of options use."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import cached_property
from typing import Any

from barrowful.answers.options import Answer
from barrowful.catalogue.judgements import judged_time
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed
from barrowful.planning.row_days import first_with_others
from barrowful.supplies.lot import YEAR
from barrowful.supplies.supply import Supply

MONTHS = 12
#: Days in each year that are looked at, unless told otherwise: a setting of the search.
DAYS_A_YEAR = 4


@fixed(kw_only=False)
class Calendar:
    """The days on which ways may be put on for needs."""

    answer: Answer
    each_year: int = DAYS_A_YEAR

    @property
    def told(self) -> str:
        """Return which days are looked at."""
        days = "one day a year" if self.each_year == 1 else f"{self.each_year} days a year"
        return f"{days}, the days of lots, and those on which an option puts something on"

    def days(self, kind: str, way: Supply[Any]) -> list[date]:
        """Return the days on which a way may be put on for a kind of need.

        What does not keep goes on on the days it comes. What is bought or keeps goes on when it is first
        there, or others of its seller are, on the days that options use, and on common days that would not
        share an order with these.
        """
        if not way.keeps:
            return self._lots(way)
        lots = self._lots(way)
        if not lots:
            return []
        soon = YEAR.after(lots[0])
        early = [day for day in lots if day < soon] if way.limited else lots[:1]
        shared = first_with_others(self.answer).get(way.name, ())
        own = {*early, *(day for day in (*self.of_rows.get((kind, way.name), ()), *shared) if day >= lots[0])}
        together = judged_time("orders_joined")
        common = (day for day in self._common if day >= lots[0])
        return sorted({*own, *(day for day in common if all(abs(day - other) > together for other in own))})

    def _lots(self, way: Supply[Any]) -> list[date]:
        return [lot.day for lot in way.lots(self.answer.site.end) if lot.loose > 0]

    @cached_property
    def _common(self) -> Sequence[date]:
        """Return so many days a year, evenly spread over the horizon, and the first days of ways."""
        site = self.answer.site
        first = (self._lots(way)[:1] for way in self.answer.supplies.values() if way.keeps)
        return sorted(
            {*_spread(site.start, site.end, self.each_year), *(day for days in first for day in days)}
        )

    @cached_property
    def of_rows(self) -> dict[tuple[str, str], set[date]]:
        """Return the days on which options that meet their need put each way on, by kind and way."""
        days: dict[tuple[str, str], set[date]] = defaultdict(set)
        for row in (*self.answer.options, *self.answer.spare):
            for dose in row.decision.every_dose if row.decision.feasible else ():
                if dose.day <= self.answer.site.end:
                    days[row.need, dose.way].add(dose.day)
        return days


def _spread(start: date, end: date, count: int) -> Iterator[date]:
    """Yield so many days a year, evenly spread, from a first to a last day."""
    number = 0
    while True:
        months, part = divmod(number * MONTHS, count)
        first, later = Step(months=months).after(start), Step(months=months + 1).after(start)
        day = first + timedelta(days=(later - first).days * part // count)
        if day > end:
            return
        yield day
        number += 1
