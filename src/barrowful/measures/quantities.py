"""The one pint registry: quantities for callers of the relations, and the measure of our own factors.

The program itself reads files by :mod:`barrowful.measures.units`, whose table of factors is generated
from this registry, and imports pint only where a caller wants quantities.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Any

import pint

from barrowful.measures.dimensions import SI
from barrowful.measures.fixed import fixed

Quantity = Any


@cache
def definitions() -> tuple[tuple[str, ...], ...]:
    """Return the parts of each line of ``units.txt``: name, relation, symbol, other spellings."""
    text = files("barrowful.measures").joinpath("units.txt").read_text(encoding="utf-8")
    lines = (line for line in text.splitlines() if line.strip() and not line.startswith("#"))
    return tuple(tuple(part.strip() for part in line.split("=")) for line in lines)


@cache
def registry(number: type = float) -> Any:
    """Return the registry built from ``units.txt``; every quantity in the package is its.

    ``number`` is what it reckons its factors in. Spellings such as ``m²`` are kept from pint: since
    0.26.2 it takes no ``²`` or ``³`` in a name.
    """
    ureg: Any = pint.UnitRegistry(
        None, cache_folder=None, autoconvert_offset_to_baseunit=True, non_int_type=number
    )
    ureg.load_definitions([" = ".join(filter(str.isascii, parts)) for parts in definitions()])
    return ureg


def quantity(value: Any, text: str) -> Quantity:
    """Return ``value`` (a number or an array) in a unit such as ``kg/m3``; ``1`` is no unit.

    >>> quantity(2.5, "m3").to("L").magnitude
    2500.0
    """
    return registry().Quantity(value, "dimensionless" if text == "1" else text)


@cache
def _si_unit(dimension: str) -> Any:
    return quantity(1.0, SI[dimension]).units


def measures(value: Quantity, dimension: str) -> bool:
    """Say whether a quantity is one of the dimension named."""
    return bool(_si_unit(dimension).dimensionality == value.dimensionality)


@fixed(kw_only=False, eq=True)
class Ranged:
    """A low, likely and high quantity of one dimension, in that order of size."""

    low: Quantity
    likely: Quantity
    high: Quantity


def likely(value: Any) -> Any:
    """Return the likely one of a ranged value, and any other value as it is."""
    return value.likely if isinstance(value, Ranged) else value


def si(value: Quantity | Ranged, dimension: str) -> Any:
    """Return the magnitude in the SI unit of the dimension; the likely one of a range.

    >>> si(quantity(90, "cm"), "length")
    0.9
    """
    return likely(value).to(_si_unit(dimension)).magnitude
