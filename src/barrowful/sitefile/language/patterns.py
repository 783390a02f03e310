"""What a text may be as a regular expression, for the JSON Schema: as near the reader as one can get.

A pattern never refuses what the reader takes. It cannot reckon, so a limit holds for numbers in the unit
the limit is given in, written without an exponent. All of it is plain ECMAScript.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from barrowful.measures.dimensions import SI
from barrowful.measures.factors import SPELLINGS
from barrowful.measures.text import MOST_DIGITS, split_quantity
from barrowful.measures.units import Unit, fits, known, unit

_NUMERAL = r"((0|[1-9][0-9]*)(\.[0-9]+)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?(?![0-9.]|[eE][+-]?[0-9])"
_NOTHING = r"[0.]+([eE][+-]?[0-9]+)?(?![0-9.eE])"
_TOO_MANY_DIGITS = rf"(?![+-]?\.?([0-9]\.?){{{MOST_DIGITS + 1}}})"
_SIGN, _PLUS_OR_NOTHING = "[+-]?", rf"(\+|-(?={_NOTHING}))?"
#: Dimensions of which a grower can have measures that are single words.
_OWN = ("length", "volume", "mass")
_LETTERS = re.compile("[A-Za-z]+")

#: Days of the calendar from 1900 to 2200: of months of 31 and 30 days, of February, and leap days.
DAY = (
    "^((19|20|21)[0-9]{2}|2200)-((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])"
    "|(0[469]|11)-(0[1-9]|[12][0-9]|30)|02-(0[1-9]|1[0-9]|2[0-8]))$"
    "|^((19|20|21)(0[48]|[2468][048]|[13579][26])|2000)-02-29$"
)
#: Days of a year without a leap day.
MONTH_DAY = (
    "^ *((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)"
    "|02-(0[1-9]|1[0-9]|2[0-8])) *$"
)


def quantity(dimensions: tuple[str, ...], least: str, most: str, zero: bool) -> str:
    """Return the pattern of a quantity of one of some dimensions, within limits of the first of them.

    >>> pattern = re.compile(quantity(("length",), "", "10 m", False))
    >>> [text for text in ("8 cm", "11 m", "0 m", "-1 m", "8", "8 kg", "3 pace") if pattern.match(text)]
    ['8 cm', '3 pace']
    """
    number = _number(least, zero)
    limits = "".join(_beyond(limit, above) for limit, above in ((least, False), (most, True)) if limit)
    return f"^{limits}{number} *({_unit(dimensions)}) *$"


def money(per: tuple[str, ...] = (), words: tuple[str, ...] = (), most: int = 0) -> str:
    """Return the pattern of money, or of money for something of a dimension or for one of some words.

    >>> pattern = re.compile(money(("volume",), ("bag",)))
    >>> [text for text in ("4 EUR/m3", "4 EUR/bag", "4 EUR", "-4 EUR/m3", "4 EUR/h") if pattern.match(text)]
    ['4 EUR/m3', '4 EUR/bag']
    """
    limit = rf"(?!\+?{_over(most)} *[A-Z])" if most else ""
    of = f" */ *({'|'.join((*words, _unit(per)))})" if per else ""
    return f"^{limit}{_number('', True)} *[A-Z]{{3}}{of} *$"


def duration(most: str, zero: bool) -> str:
    """Return the pattern of a length of calendar time; days and months are whole."""
    whole = r"(?!\+?[0-9]*\.[0-9]*[1-9][0-9]* *(day|month)s?)"
    return f"^{_beyond(most, True)}{whole}{_number('', zero)} *(day|week|month|year)s? *$"


def _number(least: str, zero: bool) -> str:
    """Return the pattern of a number: of any sign, or of no less than nothing, or of more."""
    lowest = split_quantity(least)[0] if least else None
    if lowest is not None and lowest < 0:
        return f"{_TOO_MANY_DIGITS}{_SIGN}{_NUMERAL}"
    if lowest == 0 or (lowest is None and zero):
        return f"{_TOO_MANY_DIGITS}{_PLUS_OR_NOTHING}{_NUMERAL}"
    return rf"(?!\+?{_NOTHING}){_TOO_MANY_DIGITS}\+?{_NUMERAL}"


def _beyond(limit: str, above: bool) -> str:
    """Return what refuses numbers beyond a limit in its own unit."""
    number, words = split_quantity(limit)
    alike = [word for word, name in SPELLINGS.items() if name == SPELLINGS.get(words)]
    ending = rf" *({'|'.join(map(re.escape, alike or [words]))}) *$"
    if above:
        return rf"(?!\+?{_over(int(number))}{ending})"
    if number < 0:
        return rf"(?!-{_over(int(-number))}{ending})"
    return rf"(?!\+?{_under(int(number))}{ending})" if number >= 1 else ""


def _over(limit: int) -> str:
    """Return the pattern of plain numbers over a whole one.

    >>> pattern = re.compile(f"({_over(120)})$")
    >>> [text for text in ("7", "120", "120.0", "120.5", "121", "130", "99.9", "1000") if pattern.match(text)]
    ['120.5', '121', '130', '1000']
    """
    digits = str(limit)
    larger = [
        f"{digits[:place]}[{int(digit) + 1}-9][0-9]{{{len(digits) - place - 1}}}"
        for place, digit in enumerate(digits)
        if digit != "9"
    ]
    wider = f"[1-9][0-9]{{{len(digits)},}}"
    return rf"(({'|'.join([*larger, wider])})(\.[0-9]+)?|{digits}\.[0-9]*[1-9][0-9]*)"


def _under(limit: int) -> str:
    """Return the pattern of plain numbers under a whole one.

    >>> pattern = re.compile(f"({_under(30)})$")
    >>> [text for text in ("7", "29.9", ".5", "30", "30.0", "31", "100") if pattern.match(text)]
    ['7', '29.9', '.5']
    """
    digits = str(limit)
    smaller = [
        f"{digits[:place]}[{0 if place else 1}-{int(digit) - 1}][0-9]{{{len(digits) - place - 1}}}"
        for place, digit in enumerate(digits)
        if int(digit) > (0 if place else 1)
    ]
    narrower = [f"[1-9][0-9]{{0,{len(digits) - 2}}}"] if len(digits) > 1 else []
    return rf"(({'|'.join(['0', *narrower, *smaller])})(\.[0-9]+)?|\.[0-9]+)"


@cache
def _unit(dimensions: tuple[str, ...]) -> str:
    """Return the pattern of a unit of one of some dimensions, the grower's own measures counted in.

    Of two standard units in a ratio it is known what they measure; other products and ratios are let be.
    """
    if dimensions == ("temperature",):
        return _any(word for word, known_unit in _words() if _fits(known_unit, dimensions))
    single = [word for word, known_unit in _words() if _fits(known_unit, dimensions)]
    parts = [_any(single)] if single else []
    if any(fits(unit(SI[own]), dimension) for own in _OWN for dimension in dimensions):
        unfit = (word for word, known_unit in _words() if not _fits(known_unit, dimensions))
        parts.append(f"(?!{_any(filter(_LETTERS.fullmatch, unfit))} *$)[A-Za-z][A-Za-z_]*")
    every = _any(word for word, _ in _words())
    parts += [f"{_any(first)} */ *{_any(second)}" for first, second in _ratios(dimensions)]
    return "|".join([*parts, f"(?!{every} */ *{every} *$)([A-Za-z%][^*/]*|1 *)?[*/].*"])


@cache
def _words() -> tuple[tuple[str, Unit], ...]:
    """Return every spelling of a standard unit with the unit."""
    return tuple((word, found) for word in SPELLINGS if (found := known(word)) is not None)


def _fits(of: Unit, dimensions: Iterable[str]) -> bool:
    return any(fits(of, dimension) for dimension in dimensions)


def _any(words: Iterable[str]) -> str:
    """Return the pattern of any of some words."""
    return f"({'|'.join(map(re.escape, words))})"


def _ratios(dimensions: tuple[str, ...]) -> Iterable[tuple[list[str], list[str]]]:
    """Yield the units of one sort with those of another where their ratio has one of the dimensions."""
    sorts: dict[tuple[int, ...], list[str]] = {}
    for word, found in _words():
        sorts.setdefault(found.powers, []).append(word)
    wanted = {unit(SI[dimension]).powers for dimension in dimensions}
    for powers, first in sorts.items():
        for others, second in sorts.items():
            if tuple(one - two for one, two in zip(powers, others, strict=True)) in wanted:
                yield first, second
