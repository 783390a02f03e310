"""The one pint registry, and the fast way from a quantity to an SI float.

User text never reaches pint's own parser: ``measures.text`` splits it and looks each unit
name up in :func:`spellings`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import pint

from barrowful.measures.dimensions import SI, named

Unit = Any
Quantity = Any


@cache
def definitions() -> tuple[tuple[str, ...], ...]:
    """Return the parts of each line of ``units.txt``: name, relation, symbol, other spellings."""
    text = files("barrowful.measures").joinpath("units.txt").read_text(encoding="utf-8")
    lines = (line for line in text.splitlines() if line.strip() and not line.startswith("#"))
    return tuple(tuple(part.strip() for part in line.split("=")) for line in lines)


@cache
def registry() -> Any:
    """Return the registry built from ``units.txt``; every quantity in the package is its.

    Spellings such as ``m²`` are kept from pint: since 0.26.2 it takes no ``²`` or ``³`` in a name.
    Only :func:`spellings` needs them.
    """
    ureg: Any = pint.UnitRegistry(None, cache_folder=None, autoconvert_offset_to_baseunit=True)
    ureg.load_definitions([" = ".join(filter(str.isascii, parts)) for parts in definitions()])
    return ureg


@cache
def spellings() -> dict[str, str]:
    """Return every accepted unit spelling with the unit's own name, from ``units.txt``."""
    names: dict[str, str] = {}
    for name, _, *others in definitions():
        names.update((word, name) for word in (name, *others) if word != "_")
    del names["kelvin"]
    return names


@cache
def unit(text: str) -> Unit:
    """Return the unit for a text of this package's own, such as ``kg/m3`` or ``1``."""
    return registry().Unit("dimensionless" if text == "1" else text)


def quantity(value: Any, text: str) -> Quantity:
    """Return ``value`` (a number or an array) in a unit named by this package.

    >>> quantity(2.5, "m3").to(unit("L")).magnitude
    2500.0
    """
    return registry().Quantity(value, unit(text))


@cache
def scale(source: Unit, dimension: str) -> tuple[float, float]:
    """Return factor and offset that turn a magnitude in ``source`` into the SI one."""
    target = unit(SI[dimension])
    if source.dimensionality != target.dimensionality:
        raise ValueError(f"{source} does not measure {named(dimension)}")
    at_zero = registry().Quantity(0.0, source).to(target).magnitude
    at_one = registry().Quantity(1.0, source).to(target).magnitude
    return _factor(source, target) if at_zero == 0 else (at_one - at_zero, at_zero)


def _factor(source: Unit, target: Unit) -> tuple[float, float]:
    return float(registry().Quantity(1.0, source).to(target).magnitude), 0.0


def in_unit(value: float, dimension: str, text: str) -> float:
    """Return a value in the SI unit of a dimension in another unit, named by this package.

    >>> in_unit(0.0254, "length", "cm")
    2.54
    """
    return value / scale(unit(text), dimension)[0]


def fits(source: Unit, dimension: str) -> bool:
    """Say whether a unit measures the dimension named."""
    return bool(unit(SI[dimension]).dimensionality == source.dimensionality)


@dataclass(frozen=True)
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
    one = likely(value)
    factor, offset = scale(one.units, dimension)
    return one.magnitude * factor + offset
