"""The limits that doses of a raise keep to together: the ceilings on twelve months.

Days are day numbers here, doses loose depths in m.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from barrowful.ground.linear import AtLeast
from barrowful.measures.dates import year_after
from barrowful.needs.bounds import Bound
from barrowful.needs.ceilings import SLACK

#: The lots from one to before another, by number, and the most [m] that may go on of them together.
Limit = tuple[int, int, float]


class Ceilings:
    """The ceilings on twelve months that bind doses on the days of lots together."""

    def __init__(self, bounds: tuple[Bound, ...], lots: Sequence[int]) -> None:
        self.bounds, self.lots = bounds if lots else (), lots
        #: By the numbers of lots, once it was asked for: the first lot a year on.
        self.years: dict[int, int] = {}

    def limits(self, loose: list[float]) -> Iterator[Limit]:
        """Yield their limits where doses begin twelve months."""
        for bound in self.bounds:
            yield from self._of_bound(bound, loose)

    def _of_bound(self, bound: Bound, loose: list[float]) -> Iterator[Limit]:
        """Yield the limits of a ceiling on each twelve months from a dose, put on before or now."""
        if not bound.used and not bound.first:
            most = max(0.0, bound.limit) / bound.each
            for number, each in enumerate(loose):
                if each > 0 or number == 0:
                    yield number, self._year_from(number), most
            return
        put_on = {lot for lot, each in zip(self.lots, loose, strict=True) if each > 0}
        for begin, end, limit in bound.spans(self.lots[0], put_on):
            used = sum(use for on, use in bound.used if begin <= on < end)
            most = max(0.0, limit - used) / bound.each
            yield bisect_left(self.lots, begin), bisect_left(self.lots, end), most

    def _year_from(self, number: int) -> int:
        """Return the number of the first lot that comes twelve months after another, or later."""
        if number not in self.years:
            self.years[number] = bisect_left(self.lots, year_after(self.lots[number]))
        return self.years[number]


def first_broken(limits: Iterable[Limit], loose: list[float]) -> AtLeast | None:
    """Return the row of the first limit that doses pass, or None."""
    for first, end, most in limits:
        if sum(loose[first:end]) > most * (1 + SLACK):
            return [-1.0 if first <= number < end else 0.0 for number in range(len(loose))], -most
    return None
