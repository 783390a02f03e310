"""A column: key, kind, heading, unit, meaning and the function that fills it, described once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any, Generic, Literal, NamedTuple, TypeVar, cast

from barrowful.measures.fixed import fixed

Subject = TypeVar("Subject")
Whole = TypeVar("Whole")
Value = str | int | float | Decimal | date | bool | None
Kind = Literal["text", "number", "money", "date", "flag", "count"]

#: Factors to the units of ``--measures customary``, exact by definition (international yard, pound).
YD3, FT2, LB, INCH = 1 / 0.764554857984, 1 / 0.09290304, 1 / 0.45359237, 1 / 0.0254


class Display(NamedTuple):
    """How people see a number: unit, factor and offset from what machines get, digits after the point."""

    unit: str
    factor: float = 1.0
    digits: int = 1
    strip: bool = False
    offset: float = 0.0


class Scale(NamedTuple):
    """What a number is in: the unit machines get, and what people see in metric and customary units."""

    unit: str
    metric: Display
    customary: Display | None = None


def as_is(unit: str, digits: int, seen: str | None = None) -> Scale:
    """Return the scale of numbers that people see as machines get them, to some digits."""
    return Scale(unit, Display(unit if seen is None else seen, 1.0, digits))


VOLUME = Scale("m3", Display("m3", 1.0, 2), Display("yd3", YD3, 2))
AREA = Scale("m2", Display("m2", 1.0, 1), Display("ft2", FT2, 0))
LENGTH = Scale("m", Display("m", 1.0, 1), Display("ft", INCH / 12, 1))
DEPTH = Scale("m", Display("cm", 100.0, 1), Display("in", INCH, 1))
MASS = Scale("kg", Display("kg", 1.0, 0), Display("lb", LB, 0))
SMALL_MASS = Scale("kg", Display("kg", 1.0, 1), Display("lb", LB, 1))
GRAMS = Scale("g", Display("g", 1.0, 0), Display("lb", LB / 1000, 2))
FEED = Scale("g/m2", Display("g/m2", 1.0, 1), Display("lb/1000 ft2", LB / FT2, 2))
DOSE = Scale("kg/m2", Display("kg/m2", 1.0, 2), Display("lb/ft2", LB / FT2, 2))
YEARLY_DOSE = Scale("kg/m2/year", Display("kg/m2/year", 1.0, 2), Display("lb/ft2/year", LB / FT2, 2))
WARMTH = Scale("degC", Display("degC", digits=0), Display("degF", 9 / 5, 0, offset=32.0))
HOURS, YEARS, RATIO = as_is("h", 1), as_is("year", 1), as_is("", 1)
SHARE, FINE_SHARE, ROUND_SHARE = as_is("%", 1), as_is("%", 2), as_is("%", 0)
#: In whatever the seller sells by.
SELLERS_OWN = Scale("", Display("", 1.0, 2, strip=True))


@fixed
class Column(Generic[Subject]):
    """A column of a table; ``value`` reads its cell from what a row is about.

    People see numbers on the right of their column, unless it is ``left``.
    """

    key: str
    kind: Kind
    heading: str
    meaning: str
    value: Callable[[Subject], Value]
    scale: Scale | None = None
    left: bool = False

    @property
    def unit(self) -> str:
        """Return the unit machines get; nothing where there is none, or for money."""
        return self.scale.unit if self.scale else ""

    @property
    def on_the_right(self) -> bool:
        """Say whether people see its cells on the right."""
        return self.kind in {"number", "money", "count"} and not self.left

    def of(self, part: Callable[[Whole], Subject]) -> Column[Whole]:
        """Return the column for rows about something that this column's subject is a part of."""
        return replace(cast("Column[Any]", self), value=lambda whole: self.value(part(whole)))


def text(key: str, heading: str, meaning: str, value: Callable[[Subject], str | None]) -> Column[Subject]:
    """Return a column of words."""
    return Column(key=key, kind="text", heading=heading, meaning=meaning, value=value)


def number(
    key: str, heading: str, scale: Scale, meaning: str, value: Callable[[Subject], float | None]
) -> Column[Subject]:
    """Return a column of measured numbers."""
    return Column(key=key, kind="number", heading=heading, meaning=meaning, value=value, scale=scale)


def money(
    key: str, heading: str, meaning: str, value: Callable[[Subject], Decimal | None]
) -> Column[Subject]:
    """Return a column of money in the site's currency."""
    return Column(key=key, kind="money", heading=heading, meaning=meaning, value=value)


def day(key: str, heading: str, meaning: str, value: Callable[[Subject], date | None]) -> Column[Subject]:
    """Return a column of dates."""
    return Column(key=key, kind="date", heading=heading, meaning=meaning, value=value)


def flag(key: str, heading: str, meaning: str, value: Callable[[Subject], bool | None]) -> Column[Subject]:
    """Return a column of yes and no."""
    return Column(key=key, kind="flag", heading=heading, meaning=meaning, value=value)


def count(key: str, heading: str, meaning: str, value: Callable[[Subject], int | None]) -> Column[Subject]:
    """Return a column of whole numbers of things."""
    return Column(key=key, kind="count", heading=heading, meaning=meaning, value=value)


def grams(kilograms: float | None) -> float | None:
    """Return grams from kilograms."""
    return None if kilograms is None else 1000 * kilograms


def percent(share: float | None) -> float | None:
    """Return percent from a share."""
    return None if share is None else 100 * share
