"""A chart: points on days with a value each, described once for the writers that draw it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from math import isfinite
from typing import NamedTuple

from barrowful.tables.cells import clean

#: Letters that are none, and that no XML document may hold.
_NO_LETTER = re.compile("[\ud800-\udfff\ufffe\uffff]")
#: From here on a number is told by its first digits and a power of ten.
LONG_NUMBER = 10**15
#: What a chart without a point says.
NOTHING = "nothing to show"


@dataclass(frozen=True, kw_only=True)
class Point:
    """A point: what it is called, its day, its value in the unit of its chart, and whether it is hollow."""

    label: str
    day: date
    value: Decimal | float
    hollow: bool = False


@dataclass(frozen=True, kw_only=True)
class Chart:
    """A chart, for any writer.

    ``about`` is what is told instead to whoever cannot see it. ``days`` says what the days are of, and
    ``values`` what the values are of, which are in ``unit`` and told to so many ``decimals``. A
    ``staircase`` is drawn where a value holds from its day on until a lower one; hollow points are
    not in it, and ``hollow_means`` says what they are.
    """

    title: str
    about: str
    days: str
    values: str
    unit: str
    decimals: int = 2
    points: tuple[Point, ...] = ()
    staircase: bool = False
    hollow_means: str = ""

    def __post_init__(self) -> None:
        """Refuse a value that has no place on an axis."""
        if not all(isfinite(float(point.value)) for point in self.points):
            raise ValueError(f"{self.title}: a value is no finite number")

    @property
    def value_heading(self) -> str:
        """Return what the values are of, with their unit."""
        return f"{self.values}, {self.unit}" if self.unit else self.values

    def told(self, value: Decimal | float) -> str:
        """Return a value with its unit, as people read it.

        >>> chart = Chart(title="", about="", days="ready on", values="cash", unit="EUR")
        >>> chart.told(Decimal("1420")), chart.told(0.0001), chart.told(3e20)
        ('1,420.00 EUR', '0.0001 EUR', '3e+20 EUR')
        """
        number = (
            f"{value:,.{self.decimals}f}" if -LONG_NUMBER < value < LONG_NUMBER else f"{float(value):.6g}"
        )
        if not number.strip("-0.,"):
            number = f"{float(value):.1g}" if value else number.removeprefix("-")
        return f"{number} {self.unit}".rstrip()

    def described(self, point: Point) -> str:
        """Return a point in words: label, day, value."""
        words = f"{point.day.isoformat()}, {self.told(point.value)}"
        return f"{point.label}: {words}" if point.label else words


class Corner(NamedTuple):
    """A corner of a staircase: a day, and the value from there on."""

    day: date
    value: Decimal | float


def stairs(points: Iterable[Point]) -> list[Corner]:
    """Return the days on which the value that can be had falls, and what it falls to; hollow points apart.

    >>> early, late = date(2027, 5, 1), date(2028, 3, 1)
    >>> stairs([Point(label="", day=late, value=980), Point(label="", day=early, value=1420)])
    [Corner(day=datetime.date(2027, 5, 1), value=1420), Corner(day=datetime.date(2028, 3, 1), value=980)]
    """
    corners: list[Corner] = []
    solid = (point for point in points if not point.hollow)
    for point in sorted(solid, key=lambda point: (point.day, point.value)):
        if not corners or point.value < corners[-1].value:
            corners.append(Corner(point.day, point.value))
    return corners


def drawable(chart: Chart) -> Chart:
    """Return a chart whose words hold no control character and nothing that is no letter."""
    return replace(
        chart,
        title=_fit(chart.title),
        about=_fit(chart.about),
        days=_fit(chart.days),
        values=_fit(chart.values),
        unit=_fit(chart.unit),
        hollow_means=_fit(chart.hollow_means),
        points=tuple(replace(point, label=_fit(point.label)) for point in chart.points),
    )


def _fit(text: str) -> str:
    return _NO_LETTER.sub(" ", clean(text))
