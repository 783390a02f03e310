"""Values that are varied: steps from one end to another, or a list, of numbers, dates or words."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from barrowful.measures.dates import read_date
from barrowful.measures.problems import ParseError, WrongUse
from barrowful.measures.text import MOST_DIGITS, NUMBER
from barrowful.sitefile.text.ranges import (
    DATE,
    End,
    Own,
    Range,
    converted,
    end_of,
    ends_of,
    in_words,
    plain,
    read_range,
    spaced,
    unit_of,
)

#: What a varied value is to a machine: a number in the unit of its range, a date, or the text itself.
Cell = float | date | str
#: Cases that are worked out at once, and values of one path, at most.
MOST_CASES = 10_000


#: A range with a comma in its first number.
_COMMA = re.compile(r"[+-]?[0-9]+,[0-9]+[^,]*\.\.")


class Value(NamedTuple):
    """A value: as it would be typed, and as a machine gets it."""

    text: str
    cell: Cell


class Varied(NamedTuple):
    """The values that a path takes one after another; numbers among them are in ``unit``."""

    path: str
    unit: str
    values: tuple[Value, ...]

    @property
    def is_words(self) -> bool:
        """Say whether the values are words, which have no order."""
        return any(isinstance(value.cell, str) for value in self.values)


def varied(path: str, text: str, own: Own) -> Varied:
    """Return the values that a path is to take: ``A..B:N`` are N equal steps, ``a,b,c`` a list.

    ``own`` are the grower's own measures by name.

    >>> [value.text for value in varied("p", "40..60 EUR/m3:3", {}).values]
    ['40 EUR/m3', '50 EUR/m3', '60 EUR/m3']
    >>> [value.text for value in varied("p", "2 m3..8 yd3:3", {}).values]
    ['2 m3', '5.307951 yd3', '8 yd3']
    >>> [value.text for value in varied("p", "chip, leaf mould", {}).values]
    ['chip', 'leaf mould']
    """
    items = _split(text)
    if _COMMA.match(text):
        raise WrongUse(f'"{path}={text}" has a comma in a number; write a decimal point, e.g. 1.5')
    if len(items) > 1:
        return _listed(path, items, text, own)
    between = read_range(path, text, own)
    if between is None or between.steps is None:
        raise WrongUse(
            f'"{path}={text}" is not a range or a list; write "PATH=A..B:N", e.g. "{path}=40..60 EUR/m3:5",'
            f' or "PATH=a,b,c", e.g. "{path}=40,46,60 EUR/m3"'
        )
    count = between.steps
    if count < 2:
        raise WrongUse(f'"{path}={text}": give at least 2 steps')
    if count > MOST_CASES:
        raise WrongUse(f'"{path}={text}": {count:,} cases are more than {MOST_CASES:,}; give fewer steps')
    values = values_of(between, count, own)
    if not values:
        raise WrongUse(f'"{path}={text}": the ends are too close for {count} steps')
    return Varied(path, unit_of(between), tuple(values))


def values_of(between: Range, count: int, own: Own) -> list[Value]:
    """Return so many equal steps of a range, the ends as they are typed; none where they are too close."""
    low, high = ends_of(between, own)
    if isinstance(low, date) or isinstance(high, date):
        return _dates(low, high, count)
    unit = unit_of(between)
    values = [Value(f"{number} {unit}".strip(), float(number)) for number in _steps(low, high, count)]
    assert isinstance(between.low, End)
    return [Value(spaced(between.low), values[0].cell), *values[1:]] if values else []


def _dates(low: Decimal | date, high: Decimal | date, count: int) -> list[Value]:
    """Return so many dates in equal steps, to the whole day."""
    assert isinstance(low, date)
    assert isinstance(high, date)
    first, span = low.toordinal(), high.toordinal() - low.toordinal()
    if abs(span) < count - 1:
        return []
    days = [date.fromordinal(first + round(span * index / (count - 1))) for index in range(count)]
    return [Value(day.isoformat(), day) for day in days]


def _listed(path: str, items: Sequence[str], text: str, own: Own) -> Varied:
    """Return the values of a list: numbers of one dimension, dates, or else words as they are."""
    if not all(items):
        raise WrongUse(f'"{path}={text}" has nothing between two commas; write "{path}=a,b,c"')
    if len(items) > MOST_CASES:
        raise WrongUse(f'"{path}={text[:40]}...": {len(items):,} cases are more than {MOST_CASES:,}')
    numbers = _numbers(items, own)
    if numbers is not None:
        unit, values = numbers
    else:
        dates = all(DATE.fullmatch(item) for item in items)
        try:
            unit, values = "", [Value(item, read_date(item) if dates else item) for item in items]
        except ParseError as wrong:
            raise WrongUse(f'"{path}={text}": {wrong}') from None
    if twice := next((text for text, count in Counter(of.text for of in values).items() if count > 1), None):
        raise WrongUse(f'"{path}={text}" has "{twice}" twice; give each value once')
    return Varied(path, unit, tuple(values))


def _numbers(items: Sequence[str], own: Own) -> tuple[str, list[Value]] | None:
    """Return the unit and the values of items that are numbers of one dimension, in the last one's unit."""
    if not all(NUMBER.match(item) and not DATE.match(item) for item in items):
        return None
    try:
        ends = [end_of(item) for item in items]
        unit = ends[-1].words
        ends = [in_words(end, unit) for end in ends]
        return unit, [Value(spaced(end), float(converted(end, unit, own))) for end in ends]
    except ParseError:
        return None


def _split(text: str) -> list[str]:
    """Return the items of a list: parted by commas that stand in no brackets or quotes.

    >>> _split('[1, 2], "a, b", {c: 3, d: 4}')
    ['[1, 2]', '"a, b"', '{c: 3, d: 4}']
    """
    items, depth, quote = [""], 0, ""
    for letter in text:
        if quote:
            quote = "" if letter == quote else quote
        elif letter in "\"'" and not items[-1].strip():
            quote = letter
        else:
            depth += (letter in "[{") - (letter in "]}")
        if letter == "," and depth <= 0 and not quote:
            items.append("")
        else:
            items[-1] += letter
    return [item.strip() for item in items]


def _steps(low: Decimal, high: Decimal, count: int) -> list[str]:
    """Return equal steps as plain numbers: to six decimals, or as many more as a narrow range needs.

    The ends stay as they are. There are no steps where the digits that a number may have would not
    keep them apart.

    >>> _steps(Decimal(40), Decimal(60), 4)
    ['40', '46.666667', '53.333333', '60']
    >>> _steps(Decimal("1e-7"), Decimal("3e-7"), 3)
    ['0.0000001', '0.0000002', '0.0000003']
    """
    span, most = high - low, max(1, max(abs(low), abs(high)).adjusted() + 1)
    places = min(6 + max(0, -3 - span.adjusted()), MOST_DIGITS - most)
    # rounding would move a step by a thousandth
    if abs(span) / (count - 1) < Decimal(10) ** (3 - places):
        return []
    between = (round(low + span * index / (count - 1), places) for index in range(1, count - 1))
    return [plain(step) for step in (low, *between, high)]
