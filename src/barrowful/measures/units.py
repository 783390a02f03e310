"""Units as the program reckons with them: what one measures and its exact size, with no library loaded.

User text is split by ``measures.text``, which looks each name up in :data:`SPELLINGS`; nothing is
evaluated. The table of sizes is generated from ``units.txt`` by pint.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from barrowful.measures.dimensions import SI, named
from barrowful.measures.factors import FACTORS, SPELLINGS
from barrowful.measures.fixed import fixed


@fixed(kw_only=False, eq=True)
class Unit:
    """A unit: its text, what it measures as powers of length, mass, time, temperature and
    conductance, and its size.

    ``size`` is exact, in metres, grams, seconds, kelvins and siemens; ``zero`` is where its scale starts [K].
    """

    text: str
    powers: tuple[int, ...]
    size: Fraction
    zero: Fraction = Fraction(0)

    def __str__(self) -> str:
        return self.text

    def __mul__(self, other: Unit) -> Unit:
        powers = tuple(one + two for one, two in zip(self.powers, other.powers, strict=True))
        return Unit(_joined(self.text, "*", other.text), powers, self.size * other.size)

    def __truediv__(self, other: Unit) -> Unit:
        powers = tuple(one - two for one, two in zip(self.powers, other.powers, strict=True))
        return Unit(_joined(self.text, "/", other.text), powers, self.size / other.size)


def _joined(first: str, sign: str, second: str) -> str:
    """Return the text of a product or ratio; a factor of one is left out where it can be."""
    if second == "1":
        return first
    return second if first == "1" and sign == "*" else f"{first}{sign}{second}"


ONE = Unit("1", (0, 0, 0, 0, 0), Fraction(1))


@cache
def known(word: str) -> Unit | None:
    """Return the unit that a single word spells, or None."""
    name = SPELLINGS.get(word)
    return _named(name, word) if name else None


def _named(name: str, word: str) -> Unit:
    powers, size, zero = FACTORS[name]
    return Unit(word, powers, Fraction(*size), Fraction(*zero))


@cache
def unit(text: str) -> Unit:
    """Return the unit for a text of this package's own, such as ``kg/m3`` or ``1``.

    >>> unit("kg/m3").powers, unit("kg/m3").size
    ((-3, 1, 0, 0, 0), Fraction(1000, 1))
    """
    first, *others = (
        ONE if word == "1" else _named(SPELLINGS.get(word, word), word) for word in text.split("/")
    )
    for other in others:
        first = first / other
    return first


@cache
def scale(source: Unit, dimension: str) -> tuple[float, float]:
    """Return factor and offset that turn a magnitude in ``source`` into the SI one, each to the last digit.

    >>> scale(unit("degF"), "temperature")
    (0.5555555555555556, -17.77777777777778)
    """
    target = unit(SI[dimension])
    if source.powers != target.powers:
        raise ValueError(f"{source} does not measure {named(dimension)}")
    return float(source.size / target.size), float((source.zero - target.zero) / target.size)


def in_unit(value: float, dimension: str, text: str) -> float:
    """Return a value in the SI unit of a dimension in another unit, named by this package.

    >>> in_unit(0.0254, "length", "cm")
    2.54
    """
    return value / scale(unit(text), dimension)[0]


def fits(source: Unit, dimension: str) -> bool:
    """Say whether a unit measures the dimension named."""
    return unit(SI[dimension]).powers == source.powers
