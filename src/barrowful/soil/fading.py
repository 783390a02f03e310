"""What one carbon put on becomes, as a sum of exponentials of the time since: the form of the soil model.

Whatever is put on simply adds up, and each exponential fades by itself: so doses of many days are
followed by their parts, and doses repeated for ever have a sum.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Any

from barrowful.ground import decay
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.measures.elementwise import apart, exp, likely
from barrowful.measures.fixed import fixed

#: Rates nearer each other than this share of them are told apart by it: nearer, a float cannot tell.
APART = 1e-8


@fixed(kw_only=False)
class Fading:
    """A sum of exponentials of the years since: amounts for each carbon put on, and yearly rates.

    >>> Fading((0.75, 0.25), (2.0, 0.1)).at(0.0)
    1.0
    """

    amounts: tuple[float, ...]
    rates: tuple[float, ...]

    def __add__(self, other: Fading) -> Fading:
        """Return both together; parts that fade alike become one.

        >>> Fading((0.75, 0.25), (2.0, 0.1)) + Fading((1.0,), (2.0,))
        Fading(amounts=(1.75, 0.25), rates=(2.0, 0.1))
        """
        rates, amounts = self.rates + other.rates, self.amounts + other.amounts
        if not all(isinstance(rate, float) for rate in rates):
            return Fading(amounts, rates)
        parts: dict[float, float] = {}
        for rate, part in zip(rates, amounts, strict=True):
            parts[rate] = parts.get(rate, 0.0) + part
        return Fading(tuple(parts.values()), tuple(parts))

    def at(self, years: float) -> float:
        """Return what is there some years after."""
        power, total = self._power, 0.0
        for part, rate in self._terms:
            total += part * power(-rate * years)
        return total

    @cached_property
    def _terms(self) -> tuple[tuple[float, float], ...]:
        """Return the amount and the rate of each part."""
        return tuple(zip(self.amounts, self.rates, strict=True))

    @cached_property
    def _power(self) -> Callable[[Any], Any]:
        """Return what gives powers of e: of floats, where all rates are, or of arrays."""
        return math.exp if all(isinstance(rate, float) for rate in self.rates) else exp

    def of_ages(self, age: float) -> float:
        """Return what is there of yearly additions of one made for ever, the last of them ``age`` ago.

        >>> fading = Fading((1.0,), (0.5,))
        >>> abs(fading.of_ages(1.0) - sum(fading.at(year) for year in range(1, 90))) < 1e-12
        True
        """
        parts = zip(self.amounts, self.rates, strict=True)
        return sum(part * decay.fresh_of_ages(age, rate) for part, rate in parts)

    def parts(self, doses: Sequence[tuple[float, float]]) -> list[float]:
        """Return what each part is of doses (carbon, years since), all together."""
        return [
            part * sum(carbon * math.exp(-rate * years) for carbon, years in doses)
            for part, rate in zip(self.amounts, self.rates, strict=True)
        ]

    def passed(self, years: float) -> tuple[float, ...]:
        """Return what some years leave of each part.

        >>> fading = Fading((0.75, 0.25), (2.0, 0.1))
        >>> sum(map(float.__mul__, fading.amounts, fading.passed(3.0))) == fading.at(3.0)
        True
        """
        return tuple([math.exp(-rate * years) for rate in self.rates])


def fresh_fading(a: float) -> Fading:
    """Return the fresh carbon left of one that goes at a yearly rate."""
    return Fading((1.0,), (a,))


def humus_fading(a: float, b: float, h: float) -> Fading:
    """Return the humus of one fresh carbon by the yearly rates of fresh and of humus, and the share humified.

    The parts of :func:`barrowful.ground.decay.humus_formed`; nothing is formed where nothing decays.
    """
    if likely(a) <= 0:
        return Fading((), ())
    a = apart(a, b, APART)
    part = h * a / (a - b)
    return Fading((part, -part), (b, a))


class ByDays(dict[int, float]):
    """A quantity by whole days since; each number of days is reckoned once, and nothing is there before."""

    def __init__(self, at: Callable[[float], float]) -> None:
        super().__init__()
        self.at = at

    def __missing__(self, days: int) -> float:
        share = self[days] = self.at(days / DAYS_PER_YEAR) if days >= 0 else 0.0
        return share
