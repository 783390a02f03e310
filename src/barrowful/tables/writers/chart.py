"""A chart: points on days with a value each, described once for the writers that draw it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from math import isfinite
from typing import NamedTuple

from barrowful.measures.fixed import fixed
from barrowful.tables.cells import letters

#: From here on a number is told by its first digits and a power of ten.
LONG_NUMBER = 10**15
#: What a chart without a point says.
NOTHING = "nothing to show"


@fixed(eq=True)
class Point:
    """A point: what it is called, its day, its value in the unit of its chart, and whether it is hollow."""

    label: str
    day: date
    value: Decimal | float
    hollow: bool = False


class Reach(NamedTuple):
    """A line on a day: its likely value, and the low and high between which it may be."""

    day: date
    low: float
    likely: float
    high: float


class Bar(NamedTuple):
    """A bar from a day up to another, from nought to its value."""

    first: date
    last: date
    value: float


class Limit(NamedTuple):
    """A level that is not to be passed, and what it is."""

    value: float
    means: str


@fixed(eq=True)
class Span:
    """A span from one day to another, by its label in a row of its own; it may last to a later day."""

    label: str
    first: date
    last: date
    latest: date


@fixed(eq=True)
class Chart:
    """A chart, for any writer.

    ``about`` is what is told instead to whoever cannot see it. ``days`` says what the days are of, and
    ``values`` what the values are of, which are in ``unit`` and told to so many ``decimals``. A
    ``staircase`` is drawn where a value holds from its day on until a lower one; hollow points are
    not in it, and ``hollow_means`` says what they are. A ``line`` has a band where it is not certain, and
    ``line_means`` and ``band_means`` say what they are. A chart of ``spans`` has no values and nothing
    else in it; ``span_means`` says what they are, and ``latest_means`` what goes on to the latest day. A
    ``note`` says what is not drawn.
    """

    title: str
    about: str
    days: str
    values: str = ""
    unit: str = ""
    decimals: int = 2
    points: tuple[Point, ...] = ()
    staircase: bool = False
    hollow_means: str = ""
    line: tuple[Reach, ...] = ()
    line_means: str = ""
    band_means: str = ""
    bars: tuple[Bar, ...] = ()
    limit: Limit | None = None
    spans: tuple[Span, ...] = ()
    span_means: str = ""
    latest_means: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        """Refuse a value that has no place on an axis."""
        if not all(isfinite(float(value)) for value in self.all_values):
            raise ValueError(f"{self.title}: a value is no finite number")

    @property
    def all_values(self) -> list[Decimal | float]:
        """Return every value that is to have a place on the axis; bars begin at nought."""
        values: list[Decimal | float] = [point.value for point in self.points]
        values += [value for reach in self.line for value in (reach.low, reach.likely, reach.high)]
        values += [value for bar in self.bars for value in (0.0, bar.value)]
        return [*values, *([self.limit.value] if self.limit else [])]

    @property
    def all_days(self) -> list[date]:
        """Return every day that is to have a place on the axis."""
        days = [*(point.day for point in self.points), *(reach.day for reach in self.line)]
        days += [day for bar in self.bars for day in (bar.first, bar.last)]
        return days + [day for span in self.spans for day in (span.first, span.last, span.latest)]

    @property
    def legend(self) -> list[str]:
        """Return what the marks are that no label tells, hollow points apart."""
        told = [f"Line: {self.line_means}"] if self.line and self.line_means else []
        told += [f"Shaded: {self.band_means}"] if self.line and self.band_means else []
        told += [f"Broken line: {self.told(self.limit.value)}, {self.limit.means}"] if self.limit else []
        if self.spans:
            told += [f"Bar: {self.span_means}", f"Thin line: {self.latest_means}"]
        return [*told, *([self.note] if self.note else [])]

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
    limit = chart.limit
    return replace(
        chart,
        title=letters(chart.title),
        about=letters(chart.about),
        days=letters(chart.days),
        values=letters(chart.values),
        unit=letters(chart.unit),
        hollow_means=letters(chart.hollow_means),
        line_means=letters(chart.line_means),
        band_means=letters(chart.band_means),
        limit=limit and limit._replace(means=letters(limit.means)),
        span_means=letters(chart.span_means),
        latest_means=letters(chart.latest_means),
        note=letters(chart.note),
        points=tuple(replace(point, label=letters(point.label)) for point in chart.points),
        spans=tuple(replace(span, label=letters(span.label)) for span in chart.spans),
    )
