"""Ends of a range as they are typed: numbers in any units of one dimension, or dates."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from barrowful.measures.dates import read_date
from barrowful.measures.money import currencies
from barrowful.measures.problems import ParseError, WrongUse
from barrowful.measures.text import MOST_DIGITS, NUMBER, Measured, read_number, read_unit

Own = Mapping[str, Measured]
#: The ends of a range are smaller than this.
MOST_END = Decimal(10) ** 12
#: Digits that keep a value apart from its neighbours where it is turned into another unit.
FIGURES = 12
MONTH_DAY = re.compile(r"[0-9]{2}-[0-9]{2}")
DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_RANGE = re.compile(r"(.+?)\.\.(.+?)(?:\s*[:/]\s*([0-9]{1,9}))?")


class End(NamedTuple):
    """An end of a range: as it is typed, its number, and its unit's words."""

    text: str
    number: Decimal
    words: str


class Range(NamedTuple):
    """From where to where, both dates or both numbers of one dimension, and in how many values."""

    low: End | date
    high: End | date
    steps: int | None


class Size(NamedTuple):
    """What a unit's words measure, its size, and where its scale begins."""

    of: tuple[object, ...]
    size: Fraction
    zero: Fraction


def read_range(path: str, text: str, own: Own) -> Range | None:
    """Return the range that a text is, None where it is none; what is wrong with an end is wrong use."""
    match = _RANGE.fullmatch(text)
    if match and "..." in text:
        raise WrongUse(f'"{path}={text}" has three dots; write a range with two, e.g. 40..60 EUR/m3')
    ends = [match[1].strip(), match[2].strip()] if match else []
    if not match or not all(NUMBER.match(end) for end in ends):
        return None
    if any(MONTH_DAY.fullmatch(end) for end in ends):
        raise WrongUse(f'"{path}={text}": a day of any year is varied by a list, e.g. "{path}=04-20,05-05"')
    try:
        low, high = (read_date(end) if DATE.match(end) else end_of(end) for end in ends)
        if isinstance(low, date) != isinstance(high, date):
            raise ParseError("not-a-date", f'"{ends[0]}" and "{ends[1]}" are not both dates')
        if isinstance(low, End) and isinstance(high, End):
            low, high = in_words(low, high.words), in_words(high, low.words)
            converted(low, high.words, own)
    except ParseError as wrong:
        raise WrongUse(f'"{path}={text}": {wrong}') from None
    return Range(low, high, int(match[3]) if match[3] else None)


def read_end(text: str) -> End | date | None:
    """Return a number with its unit, or a date; None where a text is neither."""
    try:
        if DATE.fullmatch(text):
            return read_date(text)
        return end_of(text) if NUMBER.match(text) and ".." not in text else None
    except ParseError:
        return None


def ends_of(between: Range, own: Own) -> tuple[Decimal | date, Decimal | date]:
    """Return both ends of a range: dates, or numbers in its unit."""
    low, high = between.low, between.high
    if isinstance(low, date) or isinstance(high, date):
        assert isinstance(low, date)
        assert isinstance(high, date)
        return low, high
    return converted(low, high.words, own), high.number


def unit_of(between: Range) -> str:
    """Return the unit of the numbers of a range, nothing of dates."""
    return between.high.words if isinstance(between.high, End) else ""


def in_words(end: End, other: str) -> End:
    """Return an end with the unit of the other where it has none itself."""
    return end if end.words or not other else end._replace(words=other)


def spaced(end: End) -> str:
    """Return an end as it would be typed: its number written out, and its unit."""
    return f"{plain(end.number)} {end.words}".strip()


def end_of(text: str) -> End:
    """Return an end of a range, which is a number that a site file could hold written out."""
    match = NUMBER.match(text)
    assert match is not None
    number = match.group()
    words = text[len(number) :].strip()
    if words[:1] in {",", "."}:
        raise ParseError("decimal-comma", f'"{text[:40]}" has a comma; write a decimal point')
    read_number(number)
    value = Decimal(number)
    if abs(value) >= MOST_END:
        raise ParseError("out-of-range", f"{number} is too large; give ends below {MOST_END:.0e}")
    if sum(letter.isdigit() for letter in plain(value)) > MOST_DIGITS:
        raise ParseError("too-many-digits", f"{number} written out has more than {MOST_DIGITS} digits")
    return End(text, value, words)


def converted(end: End, words: str, own: Own) -> Decimal:
    """Return the number of an end in another unit; ParseError where both do not measure the same."""
    if end.words == words:
        return end.number
    first, other = _size(end.words, own), _size(words, own)
    if first.of != other.of:
        raise ParseError(
            "wrong-dimension",
            f'"{end.words}" and "{words}" do not measure the same; give both ends in units of one dimension,'
            ' e.g. "2 m3..8 yd3:4"',
        )
    exact = (Fraction(end.number) * first.size + first.zero - other.zero) / other.size
    return Decimal(f"{float(exact):.{FIGURES}g}")


def _size(words: str, own: Own) -> Size:
    """Return what the words of a unit, or of money for a unit, measure and how much."""
    code, slash, per = (part.strip() for part in words.partition("/"))
    if code in currencies() and code not in own:
        if not slash:
            return Size((code,), Fraction(1), Fraction(0))
        whole = _size(per, own)
        return Size((code, *whole.of), 1 / whole.size, Fraction(0))
    factor, unit = read_unit(words, own) if words else (1.0, None)
    if unit is None:
        return Size(("a bare number",), Fraction(1), Fraction(0))
    return Size(unit.powers, Fraction(factor) * unit.size, unit.zero)


def plain(value: Decimal) -> str:
    """Return a number written out."""
    return f"{value.normalize():f}"
