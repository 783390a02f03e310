"""Text to numbers and quantities, by our own strict grammar.

A number is ASCII digits with at most one point and an optional exponent. A quantity is a number,
a space, and a unit: names joined by ``/`` and ``*``. Nothing is evaluated.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from functools import cache
from typing import NamedTuple, NoReturn

from barrowful.measures.dimensions import SI, named
from barrowful.measures.factors import SPELLINGS
from barrowful.measures.meant import slips, unit_meant
from barrowful.measures.problems import ParseError, did_you_mean
from barrowful.measures.units import ONE, Unit, fits, known, scale

NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
MOST_DIGITS = 15
_LEADING_ZERO = re.compile(r"[+-]?0[0-9]")
_SPACED = re.compile(r"\s+[0-9]")
_FRACTION = re.compile(r"([0-9]{1,3})\s*/\s*([1-9][0-9]{0,2})(?![0-9.,])")
_ONE_OVER = re.compile(r"\s+1\s*/(?!\s*[0-9])")
_RANGE = re.compile(r"\s*(?:-|\u2013|to\b)\s*[0-9]")
_COMPOUND = re.compile(r"[a-z]\s+[0-9]")

#: What a grower would type for each dimension, shown in messages.
EXAMPLES: dict[str, str] = {
    "length": "9 m",
    "area": "12 m2",
    "volume": "2 m3",
    "mass": "25 kg",
    "density": "640 kg/m3",
    "dose": "3 kg/m2",
    "share": "4 %",
    "time": "5 weeks",
    "hours": "6 h",
    "rate": "0.35 1/year",
    "temperature": "12.5 degC",
    "water depth": "-250 mm",
    "feed": "12 g/m2",
    "conductivity": "4 dS/m",
}
_TONS = 'say "t" (1000 kg), "short_ton" (2000 lb) or "long_ton" (2240 lb)'
_GALLONS = 'say "US_gallon", or give litres'
#: Things whose size only the grower knows.
_THINGS = (
    "barrow barrows bucket buckets bag bags load loads pace paces sack sacks bale bales yards3 scoop trailer"
)
#: Words for units that can mean several sizes, or that are written otherwise here, and what to write.
AMBIGUOUS: dict[str, str] = {
    "ton": _TONS,
    "tons": _TONS,
    **dict.fromkeys(("gallon", "gallons", "gal"), _GALLONS),
    "C": 'say "degC"',
    "F": 'say "degF"',
    "cc": 'say "cm3"',
    "sqft": 'say "ft2"',
    "sqm": 'say "m2"',
    "cuyd": 'say "yd3"',
    **{word: f'say how big it is under "measures:", e.g. "{word}: 80 L"' for word in _THINGS.split()},
}


def read_number(text: str) -> float:
    """Return the number a text is, or raise :class:`ParseError` saying what would be right.

    >>> read_number("2.50")
    2.5
    >>> read_number("1,5")
    Traceback (most recent call last):
    ...
    barrowful.measures.problems.ParseError: "1,5" has a comma; write a decimal point, e.g. "1.5"
    """
    match = NUMBER.fullmatch(text)
    if not match:
        _refuse_number(text)
    if len(text) > MOST_DIGITS and sum(map(str.isdigit, re.split("[eE]", text)[0])) > MOST_DIGITS:
        raise ParseError("too-many-digits", f'"{text[:30]}" has more than {MOST_DIGITS} digits')
    if _LEADING_ZERO.match(text):
        raise ParseError("leading-zero", f'"{text}" starts with 0; leave the zero out')
    value = float(text)
    if not math.isfinite(value):
        raise ParseError("not-finite", f'"{text}" is too large a number')
    if value == 0 and re.match("[+-]?[0.]*[1-9]", text):
        raise ParseError("not-finite", f'"{text}" is too small a number')
    return value


def _refuse_number(text: str) -> NoReturn:
    if re.fullmatch(r"[+-]?[0-9]+,[0-9]+", text):
        short = text[:40]
        raise ParseError(
            "decimal-comma",
            f'"{short}" has a comma; write a decimal point, e.g. "{short.replace(",", ".")}"',
        )
    raise ParseError("not-a-number", f'"{text[:40]}" is not a plain number such as 12 or 0.5')


def split_quantity(text: str) -> tuple[float, str]:
    """Return the number and the unit words of a text such as ``9 m`` or ``46 EUR/m3``.

    >>> split_quantity("640 kg/m3")
    (640.0, 'kg/m3')
    """
    match, short = NUMBER.match(text), text[:40]
    if fraction := _FRACTION.match(text):
        above, below = map(int, fraction.groups())
        raise ParseError("fraction", f'"{short}" is a fraction; write it as {above / below:.4g}')
    rest = text[match.end() :] if match else text
    if match and _RANGE.match(rest):
        raise ParseError("range", f'"{short}" is a range; write one number, and its unit')
    if not match or rest.startswith("."):
        raise ParseError("not-a-number", f'"{short}" does not start with a plain number such as 12 or 0.5')
    if rest.startswith(","):
        raise ParseError("decimal-comma", f'"{short}" has a comma; write a decimal point')
    if _SPACED.match(rest) and not _ONE_OVER.match(rest):
        raise ParseError("spaced-number", f'"{short}" has a space inside the number; write 1000 or 3.5')
    if rest[:1] in {"'", '"'} or _COMPOUND.search(rest):
        raise ParseError("compound", f'"{short}" mixes units; write one number and one unit, e.g. "4.5 ft"')
    return read_number(match.group()), rest.strip()


def _one_unit(word: str, own: Mapping[str, Measured]) -> tuple[float, Unit]:
    """Return the factor and unit of one word: a standard unit or one of the grower's own."""
    if not word:
        raise ParseError("unknown-unit", "a unit is missing beside / or *")
    if word == "1":
        return 1.0, ONE
    standard = known(word)
    if standard is not None:
        return 1.0, standard
    for name in (word, word.removesuffix("s")):
        if name in own:
            return own[name].magnitude, own[name].unit
    if word in AMBIGUOUS:
        raise ParseError("ambiguous-unit", f'"{word}" can mean several sizes; {AMBIGUOUS[word]}')
    meant = unit_meant(word)
    hint = f'; write "{meant}"' if meant else did_you_mean(word, slips(word, [*SPELLINGS, *own]))
    raise ParseError("unknown-unit", f'"{word[:30]}" is not a unit known here{hint}')


def read_unit(text: str, own: Mapping[str, Measured]) -> tuple[float, Unit]:
    """Return the factor and unit of a product or ratio of unit names such as ``kg/m2``.

    ``own`` holds the grower's own measures by name.
    """
    if (standard := known(text)) is not None:
        return 1.0, standard
    if text in own:
        return own[text].magnitude, own[text].unit
    return _compound(text) if not own else _multiply(text, own)


@cache
def _compound(text: str) -> tuple[float, Unit]:
    return _multiply(text, {})


def _multiply(text: str, own: Mapping[str, Measured]) -> tuple[float, Unit]:
    if len(text) > 60:
        raise ParseError("unknown-unit", f'"{text[:30]}..." is too long for a unit')
    factor, product = 1.0, ONE
    for index, part in enumerate(text.split("/")):
        for word in part.split("*"):
            size, one = _one_unit(word.strip() or ("1" if index == 0 and text[0] == "/" else ""), own)
            if fits(one, "temperature"):
                raise ParseError("unknown-unit", f'"{text[:30]}" is no unit; degC and degF stand alone')
            factor = factor / size if index else factor * size
            product = product / one if index else product * one
    return factor, product


def _example(dimension: str) -> str:
    return f'"{EXAMPLES.get(dimension, "1 " + SI[dimension])}"'


class Measured(NamedTuple):
    """A measure as it was typed, its size in SI, and which of the dimensions wanted it has."""

    magnitude: float
    unit: Unit
    size: float
    dimension: str


def read_measure(text: str, dimensions: tuple[str, ...], own: Mapping[str, Measured]) -> Measured:
    """Return the measure a text is, which must have one of the dimensions named.

    ``own`` holds the grower's own measures by name.

    >>> read_measure("90 cm", ("length", "mass"), {}).size
    0.9
    >>> read_measure("5 kg", ("length",), {})
    Traceback (most recent call last):
    ...
    barrowful.measures.problems.ParseError: "5 kg" is not a length; write one such as "9 m"
    """
    number, words = split_quantity(text)
    if not words:
        raise ParseError("bare-number", f'"{text[:40]}" has no unit; {_examples(dimensions)}')
    factor, found, fitting, size, offset = _fitted(words, dimensions, own)
    if not fitting:
        wanted = " or ".join(named(dimension) for dimension in dimensions)
        raise ParseError("wrong-dimension", f'"{text[:40]}" is not {wanted}; {_examples(dimensions)}')
    value = number * factor
    if not math.isfinite(value * size):
        raise ParseError("not-finite", f'"{text[:40]}" is too large a number')
    return Measured(value, found, value * size + offset, fitting)


def _examples(dimensions: tuple[str, ...]) -> str:
    return "write one such as " + " or ".join(_example(dimension) for dimension in dimensions)


Fit = tuple[float, Unit, str, float, float]


def _fitted(words: str, dimensions: tuple[str, ...], own: Mapping[str, Measured]) -> Fit:
    """Return factor and unit of some words, the dimension they have, and the way to its SI unit.

    Own measures never share a name with a standard unit, so the standard reading is tried first.
    """
    found = _standard(words, dimensions)
    if not isinstance(found, ParseError):
        return found
    if not own:
        raise ParseError(found.code, str(found))
    return _fit(*read_unit(words, own), dimensions)


@cache
def _standard(words: str, dimensions: tuple[str, ...]) -> Fit | ParseError:
    """Return what standard units make of some words; what is wrong with them is looked for once too."""
    try:
        return _fit(*read_unit(words, {}), dimensions)
    except ParseError as misread:
        return misread


def _fit(factor: float, found: Unit, dimensions: tuple[str, ...]) -> Fit:
    fitting = next((dimension for dimension in dimensions if fits(found, dimension)), "")
    size, offset = scale(found, fitting) if fitting else (1.0, 0.0)
    return factor, found, fitting, size, offset


def read_own_name(name: str) -> str:
    """Return a name fit for a measure of the grower's own, or raise :class:`ParseError`.

    >>> read_own_name("barrow")
    'barrow'
    """
    if not re.fullmatch(r"[A-Za-z][A-Za-z_]{0,29}", name):
        raise ParseError("bad-name", "a measure's name is letters and _ only, at most 30")
    if name in SPELLINGS:
        raise ParseError("bad-name", f'"{name}" is a standard unit already; choose another name')
    return name


def without_dust(number: float) -> float:
    """Return a number to ten digits, so that what binary fractions leave over does not round it away.

    >>> without_dust(0.1 + 0.2), without_dust(0.675 - 1e-16)
    (0.3, 0.675)
    """
    return float(f"{number:.10g}")


def all_of(words: Sequence[str]) -> str:
    """Return words one after the other, with an "and" before the last.

    >>> all_of(["one"]), all_of(["one", "two", "three"])
    ('one', 'one, two and three')
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))


def in_figures(number: float, figures: int = 3) -> str:
    """Return a number to so many figures, as people write it: never with a power of ten.

    >>> in_figures(8123.4), in_figures(0.02345, 2), in_figures(12.0)
    ('8120', '0.023', '12')
    """
    return f"{Decimal(f'{number:.{figures}g}'):f}"


def written_amount(volume: float | None, mass: float | None, figures: int = 6) -> str:
    """Return a volume [m3], in litres where it is under one, or a mass [kg], as a site file has it.

    >>> written_amount(24.0, None), written_amount(0.04, None), written_amount(None, 25.0)
    ('24 m3', '40 L', '25 kg')
    """
    if volume is None:
        return f"{in_figures(mass or 0.0, figures)} kg"
    return f"{in_figures(1000 * volume, figures)} L" if volume < 1 else f"{in_figures(volume, figures)} m3"
